// Measures in a real browser, against a running program: hole change to redraw, first page interactive, frames of the bar
// in space. node tools/bench.mjs ADDRESS. Numbers are for this machine in this sitting.
import { readFileSync } from "node:fs";
import { chromium } from "playwright-core";

const address = process.argv[2];
const example = (name) => JSON.parse(readFileSync(new URL(`../../examples/${name}.json`, import.meta.url), "utf8"));
const none = { bar: null, setting: null };
const garage = {
  form: 1,
  isDemo: true,
  car: example("wren"),
  bars: { front: [example("bars/wren-front-two-hole")], rear: [example("bars/wren-rear-three-hole")] },
  before: { name: "as built", front: none, rear: none },
  after: { name: "after", front: none, rear: { bar: "rear three-hole", setting: "2/2" } },
};
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: [
    "--no-sandbox",
    "--disable-gpu",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--no-first-run",
    "--disable-background-networking",
  ],
});
const page = await browser.newPage({ viewport: { width: 1366, height: 900 } });
await page.addInitScript((t) => {
  if (!localStorage.getItem("rollwright-garage")) localStorage.setItem("rollwright-garage", t);
}, JSON.stringify(garage));

const share = (list, p) =>
  list.toSorted((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * p))].toFixed(1);

const starts = [];
for (let i = 0; i < 7; i++) {
  const begin = performance.now();
  await page.goto(`${address}/?${i}#/start`);
  await page.getByRole("button", { name: /demo/i }).waitFor();
  starts.push(performance.now() - begin);
}
console.log(`first page to its buttons: median ${share(starts, 0.5)} ms, slowest ${share(starts, 1)} ms`);

// From the tap to the frame in which the new number stands.
async function taps(room, taps, read) {
  await page.goto(`${address}/#/${room}`);
  await page.waitForSelector(taps[0]);
  await page.waitForTimeout(2500);
  const times = [];
  for (let i = 0; i < 40; i++) {
    const ms = await page.evaluate(
      ([selector, look]) =>
        new Promise((done) => {
          const value = () => document.querySelector(look)?.textContent;
          const old = value();
          const begin = performance.now();
          document.querySelector(selector).dispatchEvent(new MouseEvent("click", { bubbles: true }));
          const wait = () =>
            value() !== old
              ? requestAnimationFrame(() => done(performance.now() - begin))
              : performance.now() - begin > 5000
                ? done(-1)
                : requestAnimationFrame(wait);
          requestAnimationFrame(wait);
        }),
      [taps[i % taps.length], read],
    );
    times.push(ms);
    await page.waitForTimeout(350);
  }
  const asked = times.slice(0, taps.length);
  const again = times.slice(taps.length);
  console.log(
    `${room}: hole to redraw, first time ${share(asked, 0.5)} ms (slowest ${share(asked, 1)}), again: median ${share(again, 0.5)} ms, p95 ${share(again, 0.95)} ms`,
  );
}
const hole = (n) => `button[aria-label="${n}: hole at the left end"]`;
await taps("bars", [hole(1), hole(3), hole(2)], ".answer .num.hero");
await taps(
  "forecast",
  ['g[aria-label^="1/1"]', 'g[aria-label^="2/3"]', 'g[aria-label^="0/1"]', 'g[aria-label^="1/3"]'],
  ".pair-head div:nth-child(2) .num",
);

await page.goto(`${address}/#/bars`);
await page.waitForTimeout(2000);
const box = await page.locator(".bar-3d canvas").boundingBox();
const frames = await page.evaluate(
  ([x, y]) =>
    new Promise((done) => {
      const canvas = document.querySelector(".bar-3d canvas");
      const fire = (type, dx) =>
        canvas.dispatchEvent(new PointerEvent(type, { bubbles: true, buttons: 1, clientX: x + dx, clientY: y }));
      fire("pointerdown", 0);
      let count = 0;
      const begin = performance.now();
      const step = () => {
        fire("pointermove", ++count * 2);
        if (performance.now() - begin < 2000) requestAnimationFrame(step);
        else done((count * 1000) / (performance.now() - begin));
      };
      requestAnimationFrame(step);
    }),
  [box.x + 20, box.y + 20],
);
console.log(`bar in space, software rendering: ${frames.toFixed(0)} frames/s while it is turned`);
await browser.close();
