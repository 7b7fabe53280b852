// Debian's Chromium, headless, with its own talk to the network switched off. Every page watches itself: script errors,
// broken policy and requests to anywhere but the program are collected and must be empty at the end.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";

const FLAGS = [
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
];

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: FLAGS });

export const PHONE = { width: 390, height: 844 };
export const DESK = { width: 1366, height: 900 };

export interface Visit {
  page: Page;
  context: BrowserContext;
  faults: string[]; // script errors, policy violations, requests to elsewhere
  close: () => Promise<void>;
}

export async function visit(
  browser: Browser,
  address: string,
  options: {
    viewport?: { width: number; height: number };
    paper?: string;
    units?: string;
    reducedMotion?: "reduce";
    keepsNotebook?: boolean; // otherwise the notebook's list is emptied first
  } = {},
): Promise<Visit> {
  if (!options.keepsNotebook) await emptyNotebook(address);
  const context = await browser.newContext({
    viewport: options.viewport ?? DESK,
    reducedMotion: options.reducedMotion ?? null,
    locale: "en-GB",
  });
  await context.addInitScript(
    ([paper, units]) => {
      localStorage.setItem("rollwright-paper", paper!);
      localStorage.setItem("rollwright-units", units!);
    },
    [options.paper ?? "day", options.units ?? "metric"],
  );
  const page = await context.newPage();
  const faults: string[] = [];
  page.on("pageerror", (e) => faults.push(`script: ${e.message}`));
  page.on("console", (m) => {
    if (/Content Security Policy|Refused to/i.test(m.text())) faults.push(`policy: ${m.text()}`);
  });
  page.on("request", (r) => {
    if (!r.url().startsWith(address) && !r.url().startsWith("blob:")) faults.push(`request to elsewhere: ${r.url()}`);
  });
  await page.goto(`${address}/`);
  return { page, context, faults, close: () => context.close() };
}

// What an earlier test left on the list is taken off it; a program that is away has none to empty.
async function emptyNotebook(address: string) {
  const ask = async (what: string, request: unknown) =>
    (
      await fetch(`${address}/api/notebook/${what}`, {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify(request),
      })
    ).json() as Promise<{ result: { documents: { document: string }[] } }>;
  // A page that was just closed may still be saying its last words.
  for (let calm = 0; calm < 2; ) {
    const { result } = await ask("list", {});
    for (const { document } of result.documents) await ask("remove", { document });
    calm = result.documents.length === 0 ? calm + 1 : 0;
    if (calm < 2) await new Promise((r) => setTimeout(r, 100));
  }
}

const AXE = readFileSync(fileURLToPath(new URL("../../node_modules/axe-core/axe.min.js", import.meta.url)), "utf8");

// Every violation of WCAG 2.2 A and AA that the scanner finds, one line each. The scanner is put in by the debugger, past
// the page's policy.
export async function accessibilityFaults(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  return page.evaluate(async () => {
    const axe = (
      globalThis as unknown as {
        axe: {
          run: (root: Document, o: unknown) => Promise<{ violations: { id: string; nodes: { target: string[] }[] }[] }>;
        };
      }
    ).axe;
    const found = await axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] });
    return found.violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.join(" ")}`));
  });
}

export const scrollsSideways = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth > innerWidth);

// Targets smaller than 44 px that are not words inside a sentence.
export const smallTargets = (page: Page) =>
  page.evaluate(() =>
    [...document.querySelectorAll("button, a, summary, select, input:not(.unseen)")]
      .filter((e) => e.checkVisibility({ visibilityProperty: true }) && !e.closest("p"))
      .map((e) => ({ e, r: e.getBoundingClientRect() }))
      .filter(({ r }) => r.width > 0 && (r.height < 43.5 || r.width < 43.5))
      .map(({ e, r }) => `${e.tagName} ${e.className} ${Math.round(r.width)}×${Math.round(r.height)}`),
  );
