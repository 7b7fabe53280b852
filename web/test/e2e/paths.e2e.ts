// What people do, from the first visit on, against the real program.
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { openBrowser, PHONE, type Visit, visit } from "./browser";
import { type Program, startProgram } from "./program";
import { go, kept, seed, wrenGarage } from "./seed";

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
  return async () => {
    expect(v.faults).toEqual([]);
    await v.close();
  };
});

const number = async (text: Promise<string | null>) => Number((await text)?.replace("−", "-").match(/-?[\d.]+/)?.[0]);

describe("my car", () => {
  it("forecasts from six numbers, with everything else in pencil", async () => {
    await v.page.getByRole("button", { name: /My car/ }).click();
    await v.page.getByRole("textbox", { name: "Wheelbase" }).waitFor();
    const six: [string, string][] = [
      ["Wheelbase", "2510"],
      ["Weight, driver aboard", "1190"],
      ["Weight on the front", "61"],
      ["Track, rear", "1450"],
      ["Spring, rear", "28"],
      ["Spring ratio, rear", "0.7"],
    ];
    for (const [label, value] of six) {
      await v.page
        .getByRole("textbox", { name: new RegExp(`^${label}( [(]|$)`) })
        .first()
        .fill(value);
      await v.page.keyboard.press("Enter");
    }
    const g = await kept(v);
    expect(g.car.wheelbase_mm).toEqual({ value: 2510, pm: 5, origin: "measured" });
    expect(g.car.rear.spring_motion_ratio.value).toBe(0.7);
    await v.page.getByText("6 of 18 in ink.").waitFor();
    await go(v, "forecast");
    const lean = v.page.locator(".pair-head .num").first();
    await lean.waitFor();
    // At 0.7 g a road car leans between 1 and 8 degrees [TradeValues class ranges, rounded outwards].
    const degrees = await number(lean.textContent());
    expect(degrees).toBeGreaterThan(1);
    expect(degrees).toBeLessThan(8);
  });

  it("shows a typical value in pencil for what is not known, and goes back to it with one tap", async () => {
    await v.page.getByRole("button", { name: /My car/ }).click();
    const field = v.page.locator('.field[data-key="cg_height_mm"]');
    await v.page.waitForFunction(
      () => !!document.querySelector<HTMLInputElement>('.field[data-key="cg_height_mm"] input')?.value,
    );
    const typical = await field.locator("input").first().inputValue();
    await field.locator("input").first().fill("601");
    await v.page.keyboard.press("Enter");
    await field.locator("button.o").click();
    await field.getByRole("button", { name: /I don’t know/ }).click();
    expect(await field.locator("input").first().inputValue()).toBe(typical);
    expect((await kept(v)).car.cg_height_mm).toBeUndefined();
  });

  it("explains a slip where it was made, and keeps what was typed", async () => {
    await v.page.getByRole("button", { name: /My car/ }).click();
    const field = v.page.locator('.field[data-key="wheelbase_mm"]');
    await field.locator("input").first().fill("98.8");
    await v.page.keyboard.press("Enter");
    await field.getByRole("alert").waitFor();
    expect(await field.getByRole("alert").textContent()).toContain("1200 to 6000 mm");
    expect(await field.locator("input").first().inputValue()).toBe("98.8");
    expect((await kept(v)).car.wheelbase_mm).toBeUndefined();
  });

  it("takes changes back, and survives a reload with the way back still there", async () => {
    await v.page.getByRole("button", { name: /My car/ }).click();
    const input = v.page.locator('.field[data-key="wheelbase_mm"] input').first();
    await input.fill("2510");
    await v.page.keyboard.press("Enter");
    await v.page.reload();
    await v.page.getByRole("button", { name: /^undo/ }).first().click();
    expect((await kept(v)).car.wheelbase_mm).toBeUndefined();
    await v.page.getByRole("button", { name: /^redo/ }).first().click();
    expect((await kept(v)).car.wheelbase_mm.value).toBe(2510);
  });
});

describe("holes", () => {
  it("change rate and forecast as soon as they are tapped", async () => {
    await seed(v, wrenGarage());
    await go(v, "bars");
    const rate = v.page.locator(".answer .num.hero");
    await v.page.waitForFunction(() => /\d/.test(document.querySelector(".answer .num.hero")?.textContent ?? ""));
    const soft = await number(rate.textContent());
    await v.page.getByRole("radio", { name: /^Hole 3, both ends/ }).check();
    await v.page.waitForFunction(
      (old) => !document.querySelector(".answer .num.hero")?.textContent?.startsWith(String(old)),
      soft,
    );
    const stiff = await number(rate.textContent());
    expect(stiff).toBeGreaterThan(soft); // the hole nearest the straight is the stiffest
    expect((await kept(v)).after.rear).toEqual({ bar: "rear three-hole", setting: "3/3" });
  });

  it("can be tapped in space as well, one end at a time", async () => {
    await seed(v, wrenGarage());
    await go(v, "bars");
    await v.page.getByRole("button", { name: "1: hole at the left end" }).click();
    expect((await kept(v)).after.rear.setting).toBe("1/2");
    await v.page.getByText("Left link pushes, right link pulls").waitFor();
  });

  it("can be chosen on the map by keyboard alone", async () => {
    await seed(v, wrenGarage());
    await go(v, "forecast");
    const point = v.page.getByRole("button", { name: /^1\/1, holes/ });
    await point.waitFor();
    await point.focus();
    await v.page.keyboard.press("Enter");
    expect((await kept(v)).after.front).toEqual({ bar: "front two-hole", setting: "1/1" });
    expect((await kept(v)).after.rear).toEqual({ bar: "rear three-hole", setting: "1/1" });
  });

  it("lean the car less when the slider shows a harder bar at the same g", async () => {
    await seed(v, wrenGarage());
    await go(v, "forecast");
    const heroes = v.page.locator(".pair-head .num");
    await heroes.nth(1).waitFor();
    const [before, after] = [await number(heroes.nth(0).textContent()), await number(heroes.nth(1).textContent())];
    expect(after).toBeLessThan(before);
    const slider = v.page.getByRole("slider", { name: /How hard is the corner/ });
    await slider.focus();
    await v.page.keyboard.press("Home");
    expect(await number(heroes.nth(0).textContent())).toBe(0);
  });
});

describe("my bar", () => {
  it("is described by ten numbers, and a thicker one is stiffer", async () => {
    const { bars: _, ...rest } = wrenGarage();
    await seed(v, { ...rest, bars: { front: [], rear: [] } });
    await go(v, "bars");
    await v.page.getByRole("button", { name: "Describe a bar" }).click();
    const hero = v.page.locator(".answer .num.hero");
    await v.page.waitForFunction(() => /\d/.test(document.querySelector(".answer .num.hero")?.textContent ?? ""));
    const thin = await number(hero.textContent());
    await v.page.locator('.field[data-key="outer_diameter_mm"] input').first().fill("24");
    await v.page.keyboard.press("Enter");
    await v.page.waitForFunction(
      (old) => Number(/[\d.]+/.exec(document.querySelector(".answer .num.hero")?.textContent ?? "")?.[0]) > old * 1.5,
      thin,
    );
    // A solid bar's rate goes with nearly the fourth power of its diameter: (24/20)⁴ = 2.07, less what bushings give.
    const thick = await number(hero.textContent());
    expect(thick / thin).toBeGreaterThan(1.6);
    expect(thick / thin).toBeLessThan(2.08);
  });

  it("tells what is wrong with an impossible shape, in place", async () => {
    await seed(v, { ...wrenGarage(), bars: { front: [], rear: [] } });
    await go(v, "bars");
    await v.page.getByRole("button", { name: "Describe a bar" }).click();
    await v.page.locator('.field[data-key="bushings_mm"] input').first().fill("1500");
    await v.page.keyboard.press("Enter");
    await v.page.locator("main [role=alert]").first().waitFor();
    expect(await v.page.locator("main [role=alert]").first().textContent()).toMatch(/bushing/i);
  });
});

describe("when the program stops in the middle", () => {
  it("says so, keeps what was typed, and goes on when it is started again", async () => {
    const own = await startProgram();
    const w = await visit(browser, own.address, { viewport: PHONE });
    await seed(w, wrenGarage());
    await go(w, "car");
    await own.stop();
    await w.page.locator('.field[data-key="wheelbase_mm"] input').first().fill("2600");
    await w.page.keyboard.press("Enter");
    await w.page.getByText("The program does not answer.").first().waitFor();
    expect((await kept(w)).car.wheelbase_mm.value).toBe(2600);
    const again = await startProgram(own.port, own.notebook);
    await w.page.reload();
    await w.page.getByText("Measure next").waitFor();
    expect(await w.page.locator('.field[data-key="wheelbase_mm"] input').first().inputValue()).toBe("2600");
    await w.close();
    await again.stop();
  });
});
