// A bar measured at home: on the scales, hung with weights, read by tape; its force at large travel; a seller's claim.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { accessibilityFaults, openBrowser, PHONE, scrollsSideways, smallTargets, type Visit, visit } from "./browser";
import { type Program, startProgram } from "./program";
import { go, kept, seed, wrenGarage } from "./seed";

const readings = (name: string) =>
  JSON.parse(readFileSync(fileURLToPath(new URL(`../../../examples/readings/${name}.json`, import.meta.url)), "utf8"));

let browser: Browser;
let program: Program;
let v: Visit;
beforeAll(async () => {
  [browser, program] = await Promise.all([openBrowser(), startProgram()]);
});
afterAll(async () => {
  await browser?.close();
  await program?.stop();
});
beforeEach(async () => {
  v = await visit(browser, program.address);
  await seed(v, wrenGarage());
  return async () => {
    expect(v.faults).toEqual([]);
    await v.close();
  };
});

const write = async (key: string, value: number | string) => {
  await v.page.locator(`.field[data-key="${key}"] input`).first().fill(String(value));
  await v.page.keyboard.press("Enter");
};
const number = (text: string | null) => Number((text ?? "").replace("−", "-").match(/-?[\d.]+/)?.[0]);

describe("the bar on the scales", () => {
  it("gives the wall, to the bar sheet, and back by undo", async () => {
    await go(v, "bars");
    await v.page.getByRole("link", { name: /Weigh it/ }).click();
    await v.page.getByRole("heading", { name: /Is it hollow/ }).waitFor();
    await v.page.getByText("Still to read: what the bar weighs.").waitFor();
    await write("mass", 2.1);
    await write("length", 1300);
    await v.page.getByRole("button", { name: "Use this number: Wall" }).click();
    const wall = (await kept(v)).bars.rear[0].section.wall_mm;
    // m = ρ π (D² − d²)/4 · L, by hand: 2.1 kg, 1.3 m, 7850 kg/m³, 22 mm give a bore of 14.91 mm and a wall of 3.54 mm.
    expect(wall.value).toBeGreaterThan(3.3);
    expect(wall.value).toBeLessThan(3.8);
    expect(wall.origin).toBe("measured");
    await v.page.getByRole("button", { name: /^undo/ }).first().click();
    expect((await kept(v)).bars.rear[0].section.wall_mm.value).toBe(4);
  });

  it("says in place when the bar is heavier than steel can be", async () => {
    await go(v, "bars/weigh");
    await write("mass", 21);
    await v.page.locator("main [role=alert]").first().waitFor();
    expect(await v.page.getByRole("button", { name: /^Use this number/ }).count()).toBe(0);
  });
});

describe("weights on the bar", () => {
  it("give the rate, to the car sheet as the fitted bar", async () => {
    await go(v, "bars/hang/rear/rear three-hole");
    const q = readings("wren-rear-hanging").readings;
    // Seven steps stand ready: 0, 5, 10, 15 going on and three coming off.
    for (const [i, at] of [0, 1, 2, 3, 6, 7, 8].entries()) await write(`position-${i}`, q[at].position_mm);
    await v.page.getByRole("button", { name: /^Use this number: If this is the bar on the car/ }).click();
    const rate = (await kept(v)).car.rear.bar_rate_per_side_n_per_mm;
    // 15 kg move the hole from 3.0 to 11.6 mm and back to 3.6: between 15·9.81/8.6 = 17.1 N/mm and a little more; twice that per side.
    expect(rate.value).toBeGreaterThan(31);
    expect(rate.value).toBeLessThan(38);
    expect(rate.origin).toBe("measured");
  });
});

describe("a bar by tape", () => {
  it("becomes a bar with holes to tap, and can be read again", async () => {
    await go(v, "bars");
    await v.page.getByRole("link", { name: "A bar by tape" }).click();
    await v.page.getByLabel("Called").fill("taped");
    for (const [key, value] of Object.entries({
      straight: 860,
      bushings: 600,
      "lever-0": 210,
      "lever-1": 187,
      bend: 45,
      drop: 40,
      beyond: 15,
      diameter: 22,
    }))
      await write(key, value);
    await v.page.getByRole("button", { name: "Put it among my bars" }).click();
    const bar = (await kept(v)).bars.rear.at(-1);
    expect(bar.name).toBe("taped");
    expect(bar.holes).toHaveLength(4);
    expect(bar.tape).toBeUndefined();
    await v.page.getByLabel("Bar", { exact: true }).selectOption("taped");
    const rate = v.page.locator(".answer .num.hero");
    await v.page.waitForFunction(() => /\d/.test(document.querySelector(".answer .num.hero")?.textContent ?? ""));
    const soft = number(await rate.textContent());
    await v.page.getByRole("radio", { name: /^Hole 2, both ends/ }).check();
    await v.page.waitForFunction(
      (old) => !document.querySelector(".answer .num.hero")?.textContent?.startsWith(String(old)),
      soft,
    );
    expect(number(await rate.textContent())).toBeGreaterThan(soft);
    await v.page.getByRole("link", { name: "Read it by tape again" }).click();
    expect(await v.page.locator('.field[data-key="drop"] input').inputValue()).toBe("40");
  });

  it("explains a bushing outside the straight", async () => {
    await go(v, "bars/tape/rear");
    for (const [key, value] of Object.entries({ straight: 600, bushings: 900, "lever-0": 210, diameter: 22 }))
      await write(key, value);
    await v.page.locator("main [role=alert]").first().waitFor();
    expect(await v.page.locator("main [role=alert]").first().textContent()).toMatch(/bushing/i);
  });
});

describe("beside the rate", () => {
  it("stands the force at large travel, with the same as a table", async () => {
    await go(v, "bars");
    await v.page.getByText("At large travel").click();
    await v.page.getByRole("img", { name: /Force of the link/ }).waitFor();
    await v.page.locator(".curve").getByText("The same as a table").click();
    expect(await v.page.locator(".curve tbody tr").count()).toBe(25); // −60 to 60 mm in steps of 5
  });

  it("a seller's claim is read, with what to ask", async () => {
    await go(v, "bars/claim");
    await v.page.locator(".claim-text").fill("38 % stiffer");
    await v.page.keyboard.press("Enter");
    await v.page.getByText("Ask before you pay").waitFor();
  });
});

describe.each([
  ["phone", { viewport: PHONE, paper: "slate", units: "imperial" }],
  ["desk in the sun", { paper: "sun", units: "metric" }],
])("on a %s", (_, view) => {
  it.each(["bars/weigh", "bars/hang", "bars/tape/front", "bars/curve", "bars/claim"])(
    "the sheet %s is sound",
    async (room) => {
      const w = await visit(browser, program.address, view);
      await seed(w, wrenGarage());
      await go(w, room);
      await w.page.waitForTimeout(500);
      expect(await accessibilityFaults(w.page)).toEqual([]);
      expect(await scrollsSideways(w.page)).toBe(false);
      expect(await smallTargets(w.page)).toEqual([]);
      expect(w.faults).toEqual([]);
      await w.close();
    },
  );
});
