// Dropping recordings and getting the proof, with invented recordings made here: a phone lying flat in a car that weaves.
// Truth is known: the roll follows a_y as a second-order system with the stated steady gradient.
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { accessibilityFaults, openBrowser, PHONE, scrollsSideways, smallTargets, visit } from "./browser";
import { slalomLog } from "./phoneLog";
import { type Program, startProgram } from "./program";
import { go, kept, seed, wrenGarage } from "./seed";

let browser: Browser;
let program: Program;
beforeAll(async () => {
  [browser, program] = await Promise.all([openBrowser(), startProgram()]);
});
afterAll(async () => {
  await browser?.close();
  await program?.stop();
});

const file = (name: string, text: string) => ({ name, mimeType: "text/csv", buffer: Buffer.from(text) });

describe("two recordings", () => {
  it("give the change, the runs and the flags; a run can be left out and taken back", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "test");
    const drops = v.page.locator('input[type="file"]');
    await drops.nth(0).setInputFiles(file("before.csv", slalomLog({ degPerG: 6, seed: 1 })));
    await v.page.getByText("The car as it was:").waitFor();
    await drops.nth(1).setInputFiles(file("after.csv", slalomLog({ degPerG: 4.8, seed: 2 })));
    await v.page
      .getByText(/It leans less|Cannot tell/)
      .first()
      .waitFor();
    const text = (await v.page.locator(".answer .num.hero").textContent()) ?? "";
    const change = Number(text.replace("−", "-").match(/-?[\d.]+/)![0]);
    // Truth −20 %. The estimator's target is ±2.2 points rms on a change [physics §4a]; three times that is a bound that
    // a sound program meets and a wrong one (no change, wrong sign, wrong side) does not.
    expect(Math.abs(change + 20)).toBeLessThan(6.6);
    const runs = v.page.locator(".runs button");
    expect(await runs.count()).toBeGreaterThanOrEqual(8);
    await runs.first().click();
    await v.page.locator('.runs button[aria-pressed="false"]').first().waitFor();
    expect((await kept(v)).work.leftOut.before).toHaveLength(1);
    await v.page.locator('.runs button[aria-pressed="false"]').first().click();
    await v.page.waitForFunction(() => document.querySelectorAll('.runs button[aria-pressed="false"]').length === 0);
    expect(v.faults).toEqual([]);
    await v.close();
  });

  it("are still there after a reload, and after the program was started anew", async () => {
    const own = await startProgram();
    const v = await visit(browser, own.address);
    await go(v, "test");
    await v.page
      .locator('input[type="file"]')
      .nth(0)
      .setInputFiles(file("before.csv", slalomLog({ degPerG: 6, seed: 1 })));
    await v.page.getByText("The car as it was:").waitFor();
    await own.stop();
    const again = await startProgram(own.port, own.notebook);
    await v.page.reload();
    await v.page.getByText("The car as it was:").waitFor();
    await v.close();
    await again.stop();
  });
});

describe("what is no recording", () => {
  it.each([
    ["an empty file", ""],
    ["a letter", "Dear garage,\nthe car leans too much.\nYours\n"],
    ["bytes of a picture", "\u0089PNG\r\n\u001a\n\u0000\u0000\u0000\rIHDR\u0000\u0001"],
    [
      "a table without a gyroscope",
      `time,ax,ay,az\n${Array.from({ length: 400 }, (_, i) => `${i * 0.01},0,0,9.8`).join("\n")}\n`,
    ],
  ])("%s is refused in place, with the reason", async (_, text) => {
    const v = await visit(browser, program.address);
    await go(v, "test");
    await v.page.locator('input[type="file"]').nth(0).setInputFiles(file("strange.csv", text));
    const alert = v.page.locator("main [role=alert]").first();
    await alert.waitFor();
    expect(((await alert.textContent()) ?? "").length).toBeGreaterThan(30);
    await v.page.getByRole("button", { name: "take away strange.csv" }).click();
    await alert.waitFor({ state: "detached" });
    expect(v.faults).toEqual([]);
    await v.close();
  });
});

describe("the sheet can be put right", () => {
  it("a run loses a cone, a missed run is marked, a column is named anew; the answer follows and undo takes it back", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "test");
    await v.page
      .locator('input[type="file"]')
      .nth(0)
      .setInputFiles(file("before.csv", slalomLog({ degPerG: 6, seed: 1, passes: 4 })));
    await v.page.getByText("The car as it was:").waitFor();
    await v.page.getByText("Move a run, take cones away").click();
    const first = v.page.locator(".moves li").first();
    const cones = async () => Number(/(\d+) cones/.exec((await first.textContent()) ?? "")![1]);
    const were = await cones();
    await first
      .getByRole("group", { name: /first cone/ })
      .getByRole("button", { name: "take away" })
      .click();
    await v.page.getByText("Marked by you").waitFor();
    await v.page.waitForFunction(
      (n) => new RegExp(`${n} cones`).test(document.querySelector(".moves li")?.textContent ?? ""),
      were - 1,
    );
    await v.page.getByRole("button", { name: "take the marks before away" }).click();
    await v.page.waitForFunction(
      (n) => new RegExp(`${n} cones`).test(document.querySelector(".moves li")?.textContent ?? ""),
      were,
    );
    // Part of the first run marked by its times alone: it takes the place of the found one.
    await v.page.getByLabel("Run before from, s").fill("9,5");
    await v.page.getByLabel("to, s", { exact: true }).fill("17");
    await v.page.getByRole("button", { name: "mark this run before" }).click();
    await v.page.waitForFunction(
      (n) => Number(/(\d+) cones/.exec(document.querySelector(".moves li")?.textContent ?? "")?.[1] ?? n) < n,
      were,
    );
    expect((await kept(v)).work.marked.before).toEqual([{ recording: 0, from_s: 9.5, to_s: 17 }]);
    // A wrong meaning is refused in place, and the way back is there.
    await v.page.getByText("What the columns were taken for").click();
    await v.page.getByLabel("gyro_x_rad_s holds").selectOption("ignored");
    await v.page.locator("main [role=alert]").first().waitFor();
    await v.page.keyboard.press("Control+z");
    await v.page.getByText("The car as it was:").waitFor();
    expect((await kept(v)).work.columns ?? []).toEqual([]);
    expect(v.faults).toEqual([]);
    await v.close();
  });
});

describe("times by stopwatch", () => {
  it("are an answer by themselves, with practice taken out and a fallen cone set aside", async () => {
    const v = await visit(browser, program.address, { viewport: PHONE });
    await go(v, "test");
    await v.page.getByText("Times by stopwatch").click();
    // A B B A with two runs each, 3 % faster with B; invented.
    const runs: [string, string][] = [
      ["before", "33,1"],
      ["before", "32.9"],
      ["after", "31.9"],
      ["after", "32.0"],
      ["after", "31.8"],
      ["after", "31.95"],
      ["before", "0:33.0"],
      ["before", "32.95"],
      ["before", "36.0"],
    ];
    for (const [side, time] of runs) {
      await v.page.getByLabel("Setup of this run").selectOption(side);
      await v.page.getByLabel("Time, s or m:ss").fill(time);
      await v.page.keyboard.press("Enter");
    }
    await v.page.getByRole("button", { name: "a cone fell in run 9" }).click();
    await v.page.getByText("Faster by the stopwatch.").waitFor();
    await v.page.getByText("1 run with a fallen cone or marked void is set aside.").waitFor();
    const text = (await v.page.locator(".measured .num").first().textContent()) ?? "";
    const change = Number(text.replace("−", "-").match(/-?[\d.]+/)![0]);
    // Made with −3 %; the scatter of a tenth of a second on eight runs leaves half a point either way.
    expect(Math.abs(change + 3)).toBeLessThan(0.8);
    expect(await accessibilityFaults(v.page)).toEqual([]);
    expect(await smallTargets(v.page)).toEqual([]);
    expect(await scrollsSideways(v.page)).toBe(false);
    expect(v.faults).toEqual([]);
    await v.close();
  });
});

describe("two days", () => {
  it("are joined by runs with the bars unhooked; what the test taught can be taken and taken back", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "test");
    const drops = v.page.locator('input[type="file"]');
    // The second day reads 4 % more of everything. Truth of the parts: −12 %, as the Wren's sheet forecasts for that bar.
    await drops.nth(0).setInputFiles(file("before.csv", slalomLog({ degPerG: 6, seed: 1 })));
    await drops.nth(1).setInputFiles(file("after.csv", slalomLog({ degPerG: 5.28 * 1.04, seed: 2 })));
    await v.page
      .getByText(/It leans less/)
      .first()
      .waitFor();
    await v.page.getByText("Other days, runs with the bars unhooked").click();
    for (const [i, side, k] of [
      [1, "before", 7],
      [2, "after", 7 * 1.04],
    ] as const) {
      await v.page.getByRole("button", { name: "add an outing" }).click();
      const box = v.page.getByRole("region", { name: `Further outing ${i}` });
      await box.getByRole("radio", { name: side, exact: true }).check();
      await box.getByRole("radio", { name: "both unhooked" }).check();
      await box
        .locator('input[type="file"]')
        .setInputFiles(file(`bridge${i}.csv`, slalomLog({ degPerG: k, seed: 2 + i })));
    }
    await v.page.getByText(/With both bars unhooked the second day leaned/).waitFor();
    await v.page.getByText("Tie the links up").waitFor(); // the caution stands where it is done
    const text = (await v.page.locator(".answer .num.hero").textContent()) ?? "";
    const change = Number(text.replace("−", "-").match(/-?[\d.]+/)![0]);
    expect(Math.abs(change + 12)).toBeLessThan(6.6); // as above
    expect(await accessibilityFaults(v.page)).toEqual([]);
    // Learning: taken into the sheet, and back.
    const was = JSON.stringify((await kept(v)).car);
    await v.page.getByRole("button", { name: "take it into the car sheet" }).click();
    await v.page.getByText("The car sheet now holds what the test taught").waitFor();
    expect(JSON.stringify((await kept(v)).car)).not.toBe(was);
    await v.page.getByRole("button", { name: "take it back" }).click();
    await v.page.getByRole("button", { name: "take it into the car sheet" }).waitFor();
    expect(JSON.stringify((await kept(v)).car)).toBe(was);
    expect(v.faults).toEqual([]);
    await v.close();
  });
});

describe("the plan", () => {
  it("prints the driver's card and where every cone stands, with its cautions", async () => {
    const v = await visit(browser, program.address);
    await go(v, "test");
    await v.page.getByText("Plan the test: cones, speed").click();
    await v.page.getByRole("button", { name: /print the driver/ }).waitFor();
    await v.page.evaluate(() => {
      (window as unknown as { printed: string }).printed = "";
      window.print = () => {
        const plan = document.querySelector(".plan");
        (window as unknown as { printed: string }).printed = [
          document.documentElement.dataset.print,
          `${plan?.querySelectorAll("details:not([open])").length} closed`,
          plan?.textContent,
        ].join(" ");
      };
    });
    await v.page.getByRole("button", { name: /print the driver/ }).click();
    const printed = await v.page.evaluate(() => (window as unknown as { printed: string }).printed);
    expect(printed).toMatch(/^plan 0 closed /); // what is closed would not be printed
    expect(printed).toContain("start gate, left");
    expect(printed).toContain("Private ground");
    expect(await v.page.evaluate(() => document.documentElement.dataset.print)).toBeUndefined();
    expect(v.faults).toEqual([]);
    await v.close();
  });
});
