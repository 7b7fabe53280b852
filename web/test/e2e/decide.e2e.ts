// Choosing and the verdict as a person uses them: asked for the rate, weighed up, given up, weighed; rated blind; shared, and
// another's share file held against one's own.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  accessibilityFaults,
  DESK,
  openBrowser,
  PHONE,
  scrollsSideways,
  smallTargets,
  type Visit,
  visit,
} from "./browser";
import { type Program, startProgram } from "./program";
import { go, kept, seed, wrenGarage } from "./seed";

const LOOK = process.env.LOOK; // a folder for pictures, when someone wants to see
const shot = async (v: Visit, name: string) => {
  if (LOOK) await v.page.screenshot({ path: `${LOOK}/${name}.png`, fullPage: true });
};
const example = (name: string) => fileURLToPath(new URL(`../../../examples/${name}`, import.meta.url));

let browser: Browser;
let program: Program;
beforeAll(async () => {
  [browser, program] = await Promise.all([openBrowser(), startProgram()]);
});
afterAll(async () => {
  await browser?.close();
  await program?.stop();
});

const sound = async (v: Visit) => {
  expect(await accessibilityFaults(v.page)).toEqual([]);
  expect(await scrollsSideways(v.page)).toBe(false);
  expect(await smallTargets(v.page)).toEqual([]);
  expect(v.faults).toEqual([]);
};

describe.each([
  { name: "desk", viewport: DESK, paper: "day" },
  { name: "phone-evening", viewport: PHONE, paper: "slate" },
])("on a $name", (view) => {
  it("choosing asks for the rate, can be given up, and shows cards, plot and reasons", async () => {
    const v = await visit(browser, program.address, view);
    await seed(v, wrenGarage());
    await go(v, "choose");
    const weigh = v.page.getByRole("button", { name: "Weigh it up" });
    await weigh.click();
    await v.page.getByText("you count in EUR", { exact: false }).first().waitFor({ timeout: 60_000 });
    await v.page.getByLabel("One US dollar is worth", { exact: false }).fill("0.9");
    await v.page.keyboard.press("Tab");
    await v.page.getByRole("button", { name: /Weigh it up/ }).click();
    await v.page.getByRole("button", { name: "give up" }).click();
    await v.page.getByRole("progressbar").waitFor({ state: "detached", timeout: 10_000 });
    await v.page.getByRole("button", { name: /Weigh it up/ }).click();
    await v.page.getByRole("heading", { name: "On the line of your budget" }).waitFor({ timeout: 120_000 });
    expect(await v.page.locator(".cards > li").count()).toBeGreaterThan(5);
    expect(await v.page.locator(".effect-cost table tr").count()).toBeGreaterThan(10);
    await shot(v, `choose-${view.name}`);
    await sound(v);
    await v.page.getByText("Before you buy: is the car sound?").click();
    await v.page.getByText("How to look, and why").first().waitFor({ timeout: 60_000 });
    await v.page.getByText("The wish in numbers").click();
    await v.page.getByText("Your own candidates").click();
    await shot(v, `choose-open-${view.name}`);
    await sound(v);
    await v.close();
  }, 240_000);

  it("a rating before is out of sight until the one after, then both are used", async () => {
    const v = await visit(browser, program.address, view);
    await seed(v, wrenGarage());
    await go(v, "verdict");
    await v.page.getByLabel("turning in, before").selectOption("3");
    await v.page.getByText("before: under seal").waitFor();
    const feel = v.page.locator("fieldset.feel");
    expect(await feel.getByText("3 →").count()).toBe(0);
    expect((await kept(v)).work.feel).toEqual([{ what: "turn_in", before: 3, sealed: true }]);
    await v.page.getByLabel("turning in, after").selectOption("7");
    await feel.getByText("3 → 7, rated blind").waitFor();
    await v.page.getByText("rated blind").first().waitFor();
    await v.close();
  });

  it("the verdict is shared as file and pictures, and another's is held against it", async () => {
    const v = await visit(browser, program.address, view);
    await seed(v, wrenGarage());
    await go(v, "verdict");
    await v.page.getByRole("heading", { name: "To show others" }).waitFor({ timeout: 60_000 });
    const fetched = async (button: string) => {
      const [download] = await Promise.all([
        v.page.waitForEvent("download"),
        v.page.getByRole("button", { name: button, exact: true }).click(),
      ]);
      return readFileSync(await download.path());
    };
    const share = JSON.parse((await fetched("Share file")).toString());
    expect(share.kind).toBe("share/1");
    expect(JSON.stringify(share)).not.toContain("Wren");
    expect((await fetched("Picture (SVG)")).toString()).toMatch(/^<svg /);
    const png = await fetched("Picture (PNG)");
    expect(png.subarray(1, 4).toString()).toBe("PNG");
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([1200, 630]);
    await v.page.locator('.share input[type="file"]').setInputFiles(example("shares/bittern-rear-bar.json"));
    await v.page.getByText("less lean taken away", { exact: false }).waitFor({ timeout: 60_000 });
    await shot(v, `verdict-${view.name}`);
    await sound(v);
    await v.close();
  });
});
