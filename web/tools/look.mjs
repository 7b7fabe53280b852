// Takes pictures of sheets to look at, and scans them: node tools/look.mjs ADDRESS|dist ROOM… [--paper day] [--width 1366]
// [--height 900] [--units metric] [--out shots] [--print]. 'dist' serves the built page under the same policy as the
// program does; answers come from the program at ROLLWRIGHT_ADDRESS, when it is set.
import { mkdirSync, readFileSync } from "node:fs";
import { createServer } from "node:http";
import { extname, join } from "node:path";
import { parseArgs } from "node:util";
import { chromium } from "playwright-core";

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    paper: { type: "string", default: "day" },
    units: { type: "string", default: "metric" },
    width: { type: "string", default: "1366" },
    height: { type: "string", default: "900" },
    out: { type: "string", default: "shots" },
    print: { type: "boolean", default: false },
    garage: { type: "string", default: "test/data/garage.json" },
    drop: { type: "string" }, // files before,after: dropped on the test sheet first
    open: { type: "string" },
    clip: { type: "string" },
    demo: { type: "boolean", default: false },
  },
});
const [where, ...rooms] = positionals;
const KINDS = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".woff2": "font/woff2",
};
let address = where;
let server;
if (where === "dist") {
  server = createServer(async (q, a) => {
    // Questions go on to a running program, when one is named.
    if (q.url.startsWith("/api") && process.env.ROLLWRIGHT_ADDRESS) {
      const chunks = [];
      for await (const c of q) chunks.push(c);
      const body = Buffer.concat(chunks);
      const reply = await fetch(process.env.ROLLWRIGHT_ADDRESS + q.url, {
        method: q.method,
        headers: { "content-type": q.headers["content-type"] ?? "application/json" },
        body: body.length ? body : undefined,
      });
      a.writeHead(reply.status, { "content-type": "application/json" });
      a.end(Buffer.from(await reply.arrayBuffer()));
      return;
    }
    const path = q.url === "/" ? "/index.html" : q.url.split("?")[0];
    try {
      const body = readFileSync(join("dist", path));
      a.writeHead(200, {
        "content-type": KINDS[extname(path)] ?? "application/octet-stream",
        "content-security-policy": "default-src 'self'",
      });
      a.end(body);
    } catch {
      a.writeHead(404).end();
    }
  });
  await new Promise((r) => server.listen(0, "127.0.0.1", r));
  address = `http://127.0.0.1:${server.address().port}`;
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: [
    "--no-sandbox",
    "--disable-gpu",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
  ],
});
mkdirSync(values.out, { recursive: true });
const axe = readFileSync("node_modules/axe-core/axe.min.js", "utf8");
const page = await browser.newPage({
  viewport: { width: Number(values.width), height: Number(values.height) },
  bypassCSP: true,
});
page.on("pageerror", (e) => console.log("script error:", e.message));
page.on(
  "console",
  (m) =>
    ["error", "warning"].includes(m.type()) &&
    !/GPU stall|swiftshader/i.test(m.text()) &&
    console.log("console:", m.text()),
);
await page.addInitScript(
  ([p, u, g]) => {
    if (g && !localStorage.getItem("rollwright-garage")) localStorage.setItem("rollwright-garage", g);
    localStorage.setItem("rollwright-paper", p);
    localStorage.setItem("rollwright-units", u);
  },
  [values.paper, values.units, values.garage === "none" || values.demo ? "" : readFileSync(values.garage, "utf8")],
);
await page.goto(`${address}/`);
if (values.demo) {
  await page.getByRole("button", { name: /demo/i }).first().click();
  await page.getByRole("heading", { name: "What will it do?" }).waitFor({ timeout: 60000 });
}
if (values.drop) {
  await page.goto(`${address}/#/test`);
  const drops = page.locator('input[type="file"]');
  for (const [i, name] of values.drop.split(",").entries()) {
    await drops.nth(i).setInputFiles(name);
    await page.waitForTimeout(2500);
  }
}
for (const room of rooms.length ? rooms : ["start"]) {
  await page.goto(`${address}/#/${room}`);
  await page.waitForTimeout(900);
  await page
    .waitForFunction(() => !/ …/.test(document.querySelector("main")?.textContent ?? ""), null, { timeout: 20_000 })
    .catch(() => {});
  if (values.open) {
    await page.click(values.open);
    await page.waitForTimeout(Number(process.env.WAIT ?? 4000));
  }
  if (values.print)
    await page.pdf({ path: `${values.out}/${room}.pdf`, format: process.env.FORMAT ?? "A4", printBackground: true });
  const name = `${values.out}/${room.replaceAll("/", "-")}-${values.width}-${values.paper}-${values.units}.png`;
  const full = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({
    width: Number(values.width),
    height: Math.max(Number(values.height), Math.min(full, 4200)),
  });
  await page.waitForTimeout(Number(process.env.WAIT ?? 400));
  const [y, h] = (values.clip ?? "").split(",").map(Number);
  await page.screenshot({
    path: name,
    ...(h ? { clip: { x: 0, y, width: Number(values.width), height: h }, fullPage: true } : {}),
  });
  await page.setViewportSize({ width: Number(values.width), height: Number(values.height) });
  await page.evaluate(axe);
  const found = await page.evaluate(() =>
    window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] }),
  );
  for (const v of found.violations) {
    console.log(`${room}: ${v.id}: ${v.help}`);
    for (const n of v.nodes.slice(0, 4))
      console.log("   ", n.target.join(" "), "|", n.failureSummary?.split("\n").slice(1, 3).join("; ").slice(0, 220));
  }
  const sideways = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  if (sideways > 0) console.log(`${room}: scrolls sideways by ${sideways} px`);
  const small = await page.evaluate(() =>
    [...document.querySelectorAll("button,a,summary,input:not(.unseen),label.drop-label")]
      .filter((e) => e.checkVisibility({ visibilityProperty: true }))
      .map((e) => [e, e.getBoundingClientRect()])
      .filter(([e, r]) => r.width > 0 && (r.height < 43.5 || r.width < 43.5) && !e.closest("p"))
      .map(
        ([e, r]) =>
          `${e.tagName}.${e.className} ${r.width.toFixed(0)}×${r.height.toFixed(0)} ${e.textContent.slice(0, 30)}`,
      ),
  );
  for (const s of small) console.log(`${room}: small target: ${s}`);
  console.log(`${name}`);
}
await browser.close();
server?.close();
