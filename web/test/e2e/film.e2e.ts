// The film room with invented films that the program draws itself: mark by pointing, read, lay side by side, keep a still.
import { readFile } from "node:fs/promises";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { accessibilityFaults, DESK, openBrowser, PHONE, scrollsSideways, smallTargets, visit } from "./browser";
import { type Program, startProgram } from "./program";
import { go } from "./seed";

interface Mark {
  name: string;
  px: [number, number];
}
interface Trial {
  before: { file: string; marks: { marks: Mark[] }; largest_roll_deg: number };
  after: { file: string; marks: { marks: Mark[] }; largest_roll_deg: number };
}

let browser: Browser;
let program: Program;
let trial: Trial;
let film: Buffer;
const WIDTH = 960;
beforeAll(async () => {
  [browser, program] = await Promise.all([openBrowser(), startProgram()]);
  const reply = await fetch(`${program.address}/api/test/film`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ width_px: WIDTH }),
  });
  trial = ((await reply.json()) as { result: Trial }).result;
  film = Buffer.from(await (await fetch(`${program.address}/api/files/${trial.before.file}`)).arrayBuffer());
}, 240_000);
afterAll(async () => {
  await browser?.close();
  await program?.stop();
});

async function loadFilm(page: Page) {
  await page
    .locator('input[type="file"]')
    .nth(0)
    .setInputFiles({ name: "slalom.mp4", mimeType: "video/mp4", buffer: film });
  await page.locator(".film-frame img").waitFor();
}

// Where a pixel of the film is on the screen.
async function onScreen(page: Page, px: [number, number]) {
  const box = (await page.locator(".film-frame").boundingBox())!;
  return { x: ((px[0] + 0.5) / WIDTH) * box.width, y: ((px[1] + 0.5) / (WIDTH * 0.5625)) * box.height };
}
const pointAt = async (page: Page, px: [number, number]) =>
  page.locator(".film-frame").click({ position: await onScreen(page, px) });
const markOf = (name: string) => trial.before.marks.marks.find((m) => m.name === name)!;

describe("a film", () => {
  it("is marked by pointing, read, and shown with the lean drawn in", async () => {
    const v = await visit(browser, program.address, { viewport: DESK });
    await go(v, "film");
    await loadFilm(v.page);
    // The next mark that is needed becomes active by itself.
    for (const name of ["lamp left", "lamp right", "tyre left", "tyre right"]) await pointAt(v.page, markOf(name).px);
    for (const name of ["window left", "window right"]) {
      await v.page.locator(".mark-list button", { hasText: name }).click();
      await pointAt(v.page, markOf(name).px);
    }
    await v.page.getByRole("button", { name: "Move the marks to their corners" }).click();
    await v.page.getByText(/marks sit next to a clear corner/).waitFor();
    expect(await accessibilityFaults(v.page)).toEqual([]);
    await v.page.getByRole("button", { name: "Read the lean of the film before" }).click();
    await v.page.getByAltText(/points that are followed/).waitFor();
    const big = v.page.locator(".film-answer .num.big");
    await big.waitFor({ timeout: 120_000 });
    const swing = Number(((await big.textContent()) ?? "").match(/[\d.]+/)![0]);
    // Truth of the drawn film. 0.2°: pointing on a reduced picture moves what the two sides are taken for, and the swing's
    // own interval is of that size.
    expect(Math.abs(swing - trial.before.largest_roll_deg)).toBeLessThan(0.2);
    await v.page.getByRole("button", { name: "Show the pictures" }).click();
    const canvas = v.page.locator(".shots canvas");
    await canvas.waitFor({ timeout: 60_000 });
    await v.page.getByRole("slider", { name: /cone/ }).fill("1");
    const saved = v.page.waitForEvent("download");
    await v.page.getByRole("button", { name: "Save this picture" }).click();
    const bytes = await readFile((await (await saved).path())!);
    expect(bytes.subarray(1, 4).toString()).toBe("PNG");
    expect(await accessibilityFaults(v.page)).toEqual([]);
    expect(await smallTargets(v.page)).toEqual([]);
    expect(v.faults).toEqual([]);
    await v.close();
  }, 240_000);

  it("is marked by keyboard alone, on a phone", async () => {
    const v = await visit(browser, program.address, { viewport: PHONE });
    await go(v, "film");
    await loadFilm(v.page);
    const frame = v.page.locator(".film-frame");
    await frame.focus();
    await v.page.keyboard.press("Enter");
    await v.page.keyboard.press("Shift+ArrowLeft");
    await v.page.keyboard.press("ArrowDown");
    await v.page.getByText(/lamp left: 470\.0, 270\.5 px/).waitFor();
    expect(await v.page.getByText("Still to mark: lamp right, tyre left, tyre right.").count()).toBe(1);
    expect(await accessibilityFaults(v.page)).toEqual([]);
    expect(await scrollsSideways(v.page)).toBe(false);
    expect(await smallTargets(v.page)).toEqual([]);
    expect(v.faults).toEqual([]);
    await v.close();
  });

  it("can be given up while it is read, and read again", async () => {
    const v = await visit(browser, program.address, { viewport: DESK });
    await go(v, "film");
    await loadFilm(v.page);
    for (const name of ["lamp left", "lamp right", "tyre left", "tyre right"]) await pointAt(v.page, markOf(name).px);
    const read = v.page.getByRole("button", { name: "Read the lean of the film before" });
    await read.click();
    await v.page.getByRole("button", { name: "Give up" }).click();
    await read.waitFor();
    expect(await v.page.locator(".film-answer").count()).toBe(0);
    await read.click();
    await v.page.locator(".film-answer").waitFor({ timeout: 120_000 });
    expect(v.faults).toEqual([]);
    await v.close();
  }, 240_000);
});

describe("what is no film", () => {
  it("is refused in place, with the reason", async () => {
    const v = await visit(browser, program.address);
    await go(v, "film");
    await v.page
      .locator('input[type="file"]')
      .nth(0)
      .setInputFiles({ name: "letter.mp4", mimeType: "video/mp4", buffer: Buffer.from("Dear garage, it leans.") });
    await v.page.getByText("This file is not a film that can be read").waitFor();
    await v.page.getByRole("button", { name: "take away the film before" }).click();
    expect(v.faults).toEqual([]);
    await v.close();
  });
});
