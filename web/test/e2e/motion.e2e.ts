// How soon, how late, how harsh, and the cones: asked of the real program, read as a person reads them.
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { accessibilityFaults, openBrowser, PHONE, scrollsSideways, visit } from "./browser";
import { type Program, startProgram } from "./program";
import { go, seed, wrenGarage } from "./seed";

let browser: Browser;
let program: Program;
beforeAll(async () => {
  [browser, program] = await Promise.all([openBrowser(), startProgram()]);
});
afterAll(async () => {
  await browser?.close();
  await program?.stop();
});

it("a quick turn, a weave and a bump are answered with intervals and a table", async () => {
  const v = await visit(browser, program.address, { viewport: PHONE });
  await seed(v, wrenGarage());
  await go(v, "forecast");
  const motion = v.page.locator("section.motion");
  await motion.getByText("nineteen times").waitFor({ timeout: 60_000 });
  expect(await motion.getByText("The lean comes later by").count()).toBe(1);
  expect(await motion.locator(".change").first().innerText()).toContain("±");
  await motion.getByText("a weave", { exact: true }).click();
  await motion.getByRole("img", { name: /degrees per g slowly/ }).waitFor({ timeout: 60_000 });
  await motion.getByText("a bump", { exact: true }).click();
  await motion.getByText("Dampers.").waitFor({ timeout: 60_000 });
  await motion.getByText("The axles in numbers").first().click();
  expect(await motion.getByRole("region", { name: "The axles in numbers" }).isVisible()).toBe(true);
  expect(await accessibilityFaults(v.page)).toEqual([]);
  expect(await scrollsSideways(v.page)).toBe(false);
  expect(v.faults).toEqual([]);
  await v.close();
}, 200_000);

it("the cones are driven with doubts, replayed at another pace, and the lateness is said", async () => {
  const v = await visit(browser, program.address, { viewport: PHONE });
  await seed(v, wrenGarage());
  await go(v, "forecast");
  const slalom = v.page.locator("section.slalom");
  await slalom.getByRole("button", { name: "Drive it" }).click();
  await slalom
    .getByRole("img", { name: /follows the sideways pull by \d+ milliseconds/ })
    .waitFor({ timeout: 120_000 });
  expect(await slalom.innerText()).toMatch(/±.*four.times.in.five/s);
  await slalom.getByText("a tenth", { exact: true }).click();
  expect(await slalom.getByRole("radio", { name: "a tenth" }).isChecked()).toBe(true);
  await slalom.getByText("Cone by cone").first().click();
  expect(await slalom.getByRole("region", { name: "Cone by cone" }).locator("tbody tr").count()).toBe(7);
  expect(await accessibilityFaults(v.page)).toEqual([]);
  expect(v.faults).toEqual([]);
  await v.close();
}, 200_000);
