// Every room on phone and desk, on every paper: no accessibility violation, nothing asked from elsewhere, no script error,
// no sideways scroll, no target under 44 px.
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { accessibilityFaults, DESK, openBrowser, PHONE, scrollsSideways, smallTargets, visit } from "./browser";
import { type Program, startProgram } from "./program";
import { go, seed, wrenGarage } from "./seed";

const ROOMS = [
  "start",
  "car",
  "bars",
  "forecast",
  "choose",
  "fit",
  "test",
  "film",
  "verdict",
  "notebook",
  "record",
  "kit",
];
const VIEWS = [
  { name: "phone", viewport: PHONE, paper: "day", units: "imperial" },
  { name: "desk", viewport: DESK, paper: "day", units: "metric" },
  { name: "phone in the evening", viewport: PHONE, paper: "slate", units: "metric" },
  { name: "desk in the sun", viewport: DESK, paper: "sun", units: "imperial" },
  { name: "phone held sideways", viewport: { width: 844, height: 390 }, paper: "day", units: "metric" },
  { name: "desk at twice the size", viewport: { width: 683, height: 450 }, paper: "day", units: "metric" },
];

let browser: Browser;
let program: Program;
beforeAll(async () => {
  [browser, program] = await Promise.all([openBrowser(), startProgram()]);
});
afterAll(async () => {
  await browser?.close();
  await program?.stop();
});

describe.each(VIEWS)("on a $name", (view) => {
  it.each(ROOMS)("the %s sheet is sound", async (room) => {
    const v = await visit(browser, program.address, view);
    await seed(v, wrenGarage());
    await go(v, room);
    await v.page.waitForTimeout(300);
    expect(await accessibilityFaults(v.page)).toEqual([]);
    expect(await scrollsSideways(v.page)).toBe(false);
    expect(await smallTargets(v.page)).toEqual([]);
    expect(v.faults).toEqual([]);
    await v.close();
  });
});

it("the page keeps working when the person wants no motion", async () => {
  const v = await visit(browser, program.address, { reducedMotion: "reduce" });
  const move = await v.page.evaluate(() =>
    getComputedStyle(document.documentElement).getPropertyValue("--move").trim(),
  );
  expect(move).toMatch(/^0m?s$/);
  await v.close();
});
