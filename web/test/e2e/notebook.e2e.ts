// What is typed lies in the notebook: across browsers, over a killed program, with two pages at once.
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { openBrowser, type Visit, visit } from "./browser";
import { type Program, startProgram } from "./program";
import { go, kept, seed, wrenGarage } from "./seed";

let browser: Browser;
let program: Program;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser?.close());
beforeEach(async () => {
  program = await startProgram();
  return () => program.stop();
});

async function ask<T>(what: string, request: unknown, address = program.address): Promise<T> {
  const headers = { "Content-Type": "application/json" };
  const reply = await fetch(`${address}/api/notebook/${what}`, {
    method: "POST",
    headers,
    body: JSON.stringify(request),
  });
  return ((await reply.json()) as { result: T }).result;
}
interface Shown {
  text: string;
  history: { version: string; written: string }[];
}
const carInNotebook = async (name = "Wren", address?: string) =>
  JSON.parse((await ask<Shown>("show", { what: name }, address)).text) as Record<string, unknown>;

const type = async (v: Visit, key: string, value: string) => {
  await v.page.locator(`.field[data-key="${key}"] input`).first().fill(value);
  await v.page.keyboard.press("Enter");
};
const until = async (what: () => Promise<boolean>) => {
  for (let i = 0; i < 100; i++) {
    if (await what().catch(() => false)) return;
    await new Promise((r) => setTimeout(r, 100));
  }
  throw new Error("it never came to be");
};
const numberOf = (v: unknown) => (v as { value?: number } | undefined)?.value;
const again = (address: string) => visit(browser, address, { keepsNotebook: true });

describe("the notebook", () => {
  it("has what was typed a moment later, with what stood there before", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "car");
    await type(v, "wheelbase_mm", "2601");
    await until(async () => numberOf((await carInNotebook()).wheelbase_mm) === 2601);
    expect((await ask<Shown>("show", { what: "Wren" })).history.length).toBeGreaterThan(1);
    const bars = await ask<{ documents: { kind: string; name: string }[] }>("list", { kind: "bar/1" });
    expect(bars.documents.map((d) => d.name).sort()).toEqual(["front two-hole", "rear three-hole"]);
    expect(v.faults).toEqual([]);
    await v.close();
  });

  it("shows another browser the same car, bars and setup", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await until(
      async () =>
        (await carInNotebook()).kind === "car/1" &&
        (await ask<Shown>("show", { what: "Workbench" })).text.includes("2/2"),
    );
    const w = await again(program.address);
    await until(async () => (await kept(w))?.car?.name === "Wren");
    const [one, two] = [await kept(v), await kept(w)];
    expect(two.car).toEqual(one.car);
    expect(two.after).toEqual(one.after);
    expect(two.bars.rear.map((b: { name: string }) => b.name)).toEqual(["rear three-hole"]);
    await v.close();
    await w.close();
  });

  it("joins what two pages change at the same time, and tells where both changed one number", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await until(async () => (await ask<Shown>("show", { what: "Workbench" })).text.includes("2/2"));
    const w = await again(program.address);
    await until(async () => (await kept(w))?.car?.name === "Wren");
    await go(v, "car");
    await go(w, "car");
    await type(v, "wheelbase_mm", "2601");
    await type(w, "cg_height_mm", "555");
    await until(async () => {
      const car = await carInNotebook();
      return numberOf(car.wheelbase_mm) === 2601 && numberOf(car.cg_height_mm) === 555;
    });
    // Both pages are kept from hearing of each other until both have typed.
    await v.context.setOffline(true);
    await w.context.setOffline(true);
    await type(v, "wheelbase_mm", "2602");
    await type(w, "wheelbase_mm", "2603");
    await v.context.setOffline(false);
    await until(async () => numberOf((await carInNotebook()).wheelbase_mm) === 2602);
    await w.context.setOffline(false);
    await w.page.getByText("Changed in two places at once.").waitFor();
    expect(await w.page.locator(".not-kept").textContent()).toContain("here 2603, there 2602");
    await until(async () => numberOf((await carInNotebook()).wheelbase_mm) === 2603);
    const { history } = await ask<Shown>("show", { what: "Wren" });
    const texts = await Promise.all(
      history.map(async (h) => (await ask<Shown>("show", { what: "Wren", version: h.version })).text),
    );
    expect(texts.some((t) => t.includes("2602"))).toBe(true);
    await v.close();
    await w.close();
  });

  it("two tabs of one browser share what either changes, with one document for each thing", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "car");
    const tab = await v.context.newPage();
    await tab.goto(`${program.address}/#/car`);
    const w: Visit = { ...v, page: tab };
    await tab.locator('.field[data-key="cg_height_mm"] input').first().waitFor();
    await type(v, "wheelbase_mm", "2601");
    await type(w, "cg_height_mm", "555");
    await until(async () => {
      const car = await carInNotebook();
      return numberOf(car.wheelbase_mm) === 2601 && numberOf(car.cg_height_mm) === 555;
    });
    const { documents } = await ask<{ documents: { kind: string }[] }>("list", {});
    expect(documents.map((d) => d.kind).sort()).toEqual(["bar/1", "bar/1", "car/1", "workbench/1"]);
    expect(await v.page.locator(".not-kept").count()).toBe(0);
    await v.close();
  });

  it("loses nothing when the program is killed in the middle: the browser sends it on return", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "car");
    await until(async () => (await ask<Shown>("show", { what: "Workbench" })).text.includes("2/2"));
    await program.stop(); // SIGKILL
    await type(v, "wheelbase_mm", "2611");
    await v.page.getByText("The program is away.").waitFor();
    await type(v, "cg_height_mm", "511");
    const back = await startProgram(program.port, program.notebook);
    await until(async () => {
      const car = await carInNotebook("Wren", back.address);
      return numberOf(car.wheelbase_mm) === 2611 && numberOf(car.cg_height_mm) === 511;
    });
    await v.page.getByText("The program is away.").waitFor({ state: "detached" });
    await v.close();
    await back.stop();
  });

  it("takes in what the command line changed", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "car");
    await until(async () => (await ask<Shown>("show", { what: "Workbench" })).text.includes("2/2"));
    const car = await carInNotebook();
    await ask("add", { files: [{ name: "wren.json", text: JSON.stringify({ ...car, wheelbase_mm: 2477 }) }] });
    await until(async () => (await kept(v)).car.wheelbase_mm === 2477);
    await v.close();
  });

  it("undo goes to the notebook too, as a new version", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "car");
    await type(v, "wheelbase_mm", "2601");
    await until(async () => numberOf((await carInNotebook()).wheelbase_mm) === 2601);
    await v.page.getByRole("button", { name: /^undo/ }).first().click();
    await until(async () => numberOf((await carInNotebook()).wheelbase_mm) !== 2601);
    expect((await ask<Shown>("show", { what: "Wren" })).history.length).toBeGreaterThanOrEqual(3);
    await v.close();
  });

  it("does not mix two notebooks: what had not been sent is set aside and offered", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "car");
    await until(async () => (await ask<Shown>("show", { what: "Workbench" })).text.includes("2/2"));
    await program.stop();
    await type(v, "wheelbase_mm", "2699");
    const other = await startProgram(program.port);
    await v.page.getByText("Changes wait here that never reached their notebook").waitFor();
    expect((await ask<{ documents: unknown[] }>("list", {}, other.address)).documents).toEqual([]);
    await v.page.getByRole("button", { name: "Take them into this one" }).click();
    await until(async () => numberOf((await carInNotebook("Wren", other.address)).wheelbase_mm) === 2699);
    await v.close();
    await other.stop();
  });

  it("keeps the ticks of the fit, for whichever device is at the car", async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await go(v, "fit");
    await v.page.locator(".acts button").first().click();
    await until(async () => (await ask<Shown>("show", { what: "fit" })).text.includes('"done"'));
    const w = await again(program.address);
    await until(async () => (await kept(w))?.work?.fit?.done?.length === 1);
    await v.close();
    await w.close();
  });
});

describe("the notebook sheet", () => {
  const outing = (day: number, lean: number) => ({
    name: `o${day}.json`,
    text: JSON.stringify({
      kind: "outing/1",
      name: `Wren day ${day}`,
      date: `2026-05-${String(day).padStart(2, "0")}`,
      car: "Wren",
      setup: "as built",
      roll_gradient_deg_per_g: { value: lean, pm: 0.06, origin: "measured" },
      invented: true,
    }),
  });
  const open = async () => {
    const v = await visit(browser, program.address);
    await seed(v, wrenGarage());
    await until(async () => (await ask<Shown>("show", { what: "Workbench" })).text.includes("2/2"));
    return v;
  };

  it("shows what is kept, takes off, puts back and brings back an earlier version", async () => {
    const v = await open();
    await go(v, "car");
    await type(v, "wheelbase_mm", "2601");
    await until(async () => numberOf((await carInNotebook()).wheelbase_mm) === 2601);
    await go(v, "notebook");
    const wren = v.page.locator(".kept-list > li").filter({ hasText: "Wren" }).first();
    await wren.getByRole("button", { name: /^History, 2 versions/ }).click();
    await wren.getByRole("button", { name: /^Bring back the version/ }).click();
    await until(async () => numberOf((await kept(v)).car.wheelbase_mm) !== 2601);
    const bar = v.page
      .locator(".kept-list > li")
      .filter({ has: v.page.locator("b.lettering", { hasText: /^front two-hole$/ }) });
    await bar.getByRole("button", { name: "take off the list" }).click();
    await until(async () => (await kept(v)).bars.front.length === 0);
    await v.page.getByRole("button", { name: "Show what was taken off the list" }).click();
    await v.page.getByRole("button", { name: "Put front two-hole back" }).click();
    await until(async () =>
      (await ask<{ documents: { name: string }[] }>("list", {})).documents.some((d) => d.name === "front two-hole"),
    );
    expect(v.faults).toEqual([]);
    await v.close();
  });

  it("alarms where a car that leant the same all spring leans more at once, with what to look at", async () => {
    const files = [4.2, 4.25, 4.18, 4.22, 4.21, 5.4].map((lean, i) => outing(i + 1, lean));
    const v = await open();
    await ask("add", { files });
    await go(v, "notebook");
    await v.page.getByText("Look before the next drive").waitFor();
    await v.page.getByText("leans more, all at once").first().waitFor();
    await v.page.getByText("The same as a table").first().click();
    expect(await v.page.locator("table tbody tr").count()).toBe(6);
    await v.close();
  });

  it("writes an outing down, and explains what it cannot take", async () => {
    const v = await open();
    await go(v, "notebook");
    await v.page.getByText("Write an outing down").click();
    await v.page.getByRole("button", { name: "Write it down" }).click();
    await v.page.getByText("Lean is between").waitFor();
    await v.page.getByLabel(/Lean for each g/).fill("4.2");
    await v.page.getByLabel(/^± degrees/).fill("0.1");
    await v.page.getByRole("button", { name: "Write it down" }).click();
    await v.page.getByText("is kept.").waitFor();
    const { documents } = await ask<{ documents: { kind: string }[] }>("list", { kind: "outing/1" });
    expect(documents.length).toBe(1);
    await v.close();
  });

  it("saves everything as one file that another notebook takes in", async () => {
    const v = await open();
    await go(v, "notebook");
    const [file] = await Promise.all([
      v.page.waitForEvent("download"),
      v.page.getByRole("button", { name: "Save everything as one file" }).click(),
    ]);
    const path = await file.path();
    const other = await startProgram();
    const w = await visit(browser, other.address);
    await go(w, "notebook");
    await w.page.locator("input[type=file]").setInputFiles(path);
    await w.page.getByText(/entries were taken in/).waitFor();
    await until(async () => (await kept(w)).car?.name === "Wren");
    await w.page.getByRole("button", { name: "Check the notebook" }).click();
    await w.page.locator(".backup .flags").waitFor();
    await w.page
      .locator("input[type=file]")
      .setInputFiles({ name: "x.tar", mimeType: "application/x-tar", buffer: Buffer.from("no archive") });
    await w.page.locator(".backup [role=alert]").waitFor();
    await v.close();
    await w.close();
    await other.stop();
  });
});
