// The forecast sheet beyond the lean: the way to the limit, load cases, what people say, several bars on one map.
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { accessibilityFaults, openBrowser, PHONE, scrollsSideways, smallTargets, type Visit, visit } from "./browser";
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
  await seed(v, wrenGarage());
  await go(v, "forecast");
  return async () => {
    expect(v.faults).toEqual([]);
    await v.close();
  };
});

const number = (text: string | null) => Number((text ?? "").replace("−", "-").match(/-?[\d.]+/)?.[0]);
const show = (selector: string) => v.page.locator(selector).scrollIntoViewIfNeeded();

describe("the way to the limit", () => {
  it("says which axle lets go first, and the change closer than the limit itself", async () => {
    await show("#turn");
    const heroes = v.page.locator(".turn-heads .num");
    await heroes.nth(2).waitFor();
    const pm = async (k: number) => number(await heroes.nth(k).locator("small").first().textContent());
    expect(await v.page.locator(".turn-heads").textContent()).toMatch(/front lets go first|rear lets go first/);
    // A road car on summer tyres holds 0.7 to 1.1 g [TradeValues, rounded outwards].
    expect(number(await heroes.nth(0).textContent())).toBeGreaterThan(0.7);
    expect(number(await heroes.nth(0).textContent())).toBeLessThan(1.1);
    expect(await pm(2)).toBeLessThan(0.5 * (await pm(0)));
    await v.page.locator("#turn").getByText("The same as a table").click();
    expect(await v.page.locator("#turn tbody tr").count()).toBeGreaterThan(10);
  });
});

describe("how well it is known", () => {
  it("shows the ratio known far better than the value", async () => {
    const bars = v.page.locator(".known dd .num");
    await bars.nth(3).waitFor();
    const part = async (k: number) => {
      const text = await bars.nth(k).textContent();
      const pm = number(await bars.nth(k).locator("small").first().textContent());
      return k === 3 ? pm : (100 * pm) / number(text);
    };
    expect(await part(3)).toBeLessThan(0.4 * (await part(0)));
  });
});

describe("load cases", () => {
  it("stand side by side, and follow what is aboard", async () => {
    await show("#loads");
    const lean = v.page.locator(".case").nth(1).locator("td").first().locator(".note");
    await lean.waitFor();
    expect(await v.page.locator(".case").count()).toBe(4);
    const before = number(await lean.textContent());
    const alone = number(await v.page.locator(".case").first().locator("td").first().locator(".note").textContent());
    expect(before).toBeGreaterThan(alone); // more weight high up leans more
    await v.page.locator('.field[data-key="passenger"] input').fill("300");
    await v.page.keyboard.press("Enter");
    await v.page.waitForFunction(
      (old) =>
        Number(/[\d.]+/.exec(document.querySelectorAll(".case")[1]?.querySelector(".note")?.textContent ?? "")?.[0]) >
        old,
      before,
    );
    expect((await kept(v)).wish.loads.passenger).toBe(300);
    // Wet: less grip, the same lean.
    const wet = v.page.locator(".case").nth(3).locator("td").nth(1).locator(".note");
    expect(number(await wet.textContent())).toBeLessThan(0.85);
  });
});

describe("what people say", () => {
  it("is tested on this car when it is asked", async () => {
    await v.page.getByText("Is it true what people say?").click();
    const list = v.page.locator(".claim-list li");
    await list.first().waitFor();
    expect(await list.count()).toBeGreaterThanOrEqual(9);
    expect(await v.page.locator(".claim-list").textContent()).toContain("false on this car");
    await v.page.locator('.field[data-key="stiffer"] input').fill("60");
    await v.page.keyboard.press("Enter");
    await v.page.getByText("60 % stiffer means 60 % less lean.").waitFor();
  });
});

describe("several bars on one axle", () => {
  it("have letters on the map, and a key that says which is which", async () => {
    const g = wrenGarage();
    await seed(v, { ...g, bars: { ...g.bars, rear: [...g.bars.rear, { ...g.bars.rear[0], name: "rear other" }] } });
    await go(v, "forecast");
    await v.page.locator(".bar-key").waitFor();
    expect(await v.page.locator(".bar-key").textContent()).toMatch(/A rear: rear three-hole.*B rear: rear other/s);
    await v.page.getByRole("button", { name: /^1\/B2, holes/ }).focus();
    await v.page.keyboard.press("Enter");
    expect((await kept(v)).after.rear).toEqual({ bar: "rear other", setting: "2/2" });
  });
});

describe.each([
  ["phone", { viewport: PHONE, paper: "slate", units: "imperial" }],
  ["desk in the sun", { paper: "sun", units: "metric" }],
])("on a %s", (_, view) => {
  it("all of it is sound, down to the last section", async () => {
    const w = await visit(browser, program.address, view);
    await seed(w, wrenGarage());
    await go(w, "forecast");
    await w.page.locator("#loads").scrollIntoViewIfNeeded();
    await w.page.locator(".case .note").first().waitFor();
    await w.page.getByText("Is it true what people say?").click();
    await w.page.locator(".claim-list li").first().waitFor();
    await w.page.locator(".turn-heads .num").first().waitFor();
    expect(await accessibilityFaults(w.page)).toEqual([]);
    expect(await scrollsSideways(w.page)).toBe(false);
    expect(await smallTargets(w.page)).toEqual([]);
    expect(w.faults).toEqual([]);
    await w.close();
  });
});
