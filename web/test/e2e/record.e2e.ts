// The phone's browser as the recorder: an invented drive is played to it as motion events; the log that comes out is in the
// notebook, as it was received, and the program reads the lean from it that was put in.
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { accessibilityFaults, openBrowser, PHONE, scrollsSideways, smallTargets, type Visit, visit } from "./browser";
import { slalomLog } from "./phoneLog";
import { type Program, startProgram } from "./program";
import { go, kept } from "./seed";

let browser: Browser;
let program: Program;
beforeAll(async () => {
  [browser, program] = await Promise.all([openBrowser(), startProgram()]);
});
afterAll(async () => {
  await browser?.close();
  await program?.stop();
});

async function ask(what: string, request: unknown) {
  const headers = { "Content-Type": "application/json" };
  const reply = await fetch(`${program.address}/api/${what}`, {
    method: "POST",
    headers,
    body: JSON.stringify(request),
  });
  // biome-ignore lint/suspicious/noExplicitAny: answers of several questions
  return (await reply.json()) as any;
}

const TRUTH = 4.6; // deg/g, invented

// The drive as a browser tells it: degrees a second about x, y, z as alpha, beta, gamma; `turned` for those browsers that
// turn accelerations round. Moments are the drive's own, so that two minutes need not be waited for.
async function play(v: Visit, turned: boolean) {
  const rows = slalomLog({ degPerG: TRUTH, seed: 3 })
    .trim()
    .split("\n")
    .slice(1)
    .map((l) => l.split(",").map(Number));
  await v.page.evaluate(
    ([all, sign]) => {
      const begun = performance.now();
      const deg = 180 / Math.PI;
      for (const [t, ax, ay, az, gx, gy, gz] of all as number[][]) {
        const e = new DeviceMotionEvent("devicemotion", {
          accelerationIncludingGravity: { x: ax! * sign, y: ay! * sign, z: az! * sign },
          rotationRate: { alpha: gx! * deg, beta: gy! * deg, gamma: gz! * deg },
          interval: 10,
        });
        Object.defineProperty(e, "timeStamp", { value: begun + t! * 1000 });
        dispatchEvent(e);
      }
    },
    [rows, turned ? -1 : 1] as [number[][], number],
  );
}

async function open(): Promise<Visit> {
  const v = await visit(browser, program.address, { viewport: PHONE });
  await go(v, "record");
  return v;
}

it.each([
  ["as the standard says", false],
  ["turned round", true],
])("a drive with accelerations %s becomes a log of the notebook with the lean that was put in", async (_, turned) => {
  const v = await open();
  await v.page.getByRole("radio", { name: "flat, screen up" }).check();
  await v.page.getByRole("button", { name: "Record" }).click();
  await v.page.getByText("Listening for the first movement").waitFor();
  await play(v, turned);
  await v.page.getByText("samples a second").waitFor();
  await v.page.getByRole("button", { name: "Stop" }).click();
  await v.page.getByText("is in the notebook.").waitFor();
  const { result } = await ask("notebook/list", {});
  const reply = await ask("test/log", { files: [{ file: result.logs[0].hash, name: result.logs[0].name }] });
  const lean = reply.result.roll_gradient_deg_per_g;
  // The program's own interval holds the truth; and it is no wider than 10 %, which clean slaloms allow.
  expect(lean.low).toBeLessThan(TRUTH);
  expect(lean.high).toBeGreaterThan(TRUTH);
  expect(lean.high - lean.low).toBeLessThan(0.2 * TRUTH);
  await v.page.getByRole("button", { name: "before the change" }).click();
  expect((await kept(v)).logs.before[0].hash).toBe(result.logs[0].hash);
  expect(v.faults).toEqual([]);
  await v.close();
});

it("keeps the recording on the phone while the program is away, over a reload, and sends it on return", async () => {
  const own = await startProgram();
  const v = await visit(browser, own.address, { viewport: PHONE });
  await go(v, "record");
  await v.page.getByRole("radio", { name: "flat, screen up" }).check();
  await v.page.getByRole("button", { name: "Record" }).click();
  await v.page.getByText("Listening for the first movement").waitFor();
  await own.stop();
  await play(v, false);
  await v.page.getByText("samples a second").waitFor();
  await v.page.getByRole("button", { name: "Stop" }).click();
  await v.page.getByText("waiting on this phone").waitFor();
  const back = await startProgram(own.port, own.notebook);
  await v.page.reload();
  await v.page.getByText("is in the notebook.").waitFor();
  await v.close();
  await back.stop();
});

it("asks how the phone lies first, and waits until it does", async () => {
  const v = await open();
  expect(await v.page.getByRole("button", { name: "First say how it lies" }).isDisabled()).toBe(true);
  await v.page.getByRole("radio", { name: "standing, top edge up" }).check();
  await v.page.getByRole("button", { name: "Record" }).click();
  await play(v, false); // lies flat
  await v.page.getByText("Waiting until the phone lies as you said.").waitFor();
  await v.page.getByRole("button", { name: "Stop" }).click();
  await v.close();
});

it("says how to record otherwise where the connection is not secret", async () => {
  const v = await visit(browser, program.address, { viewport: PHONE });
  await v.page.addInitScript(() => Object.defineProperty(globalThis, "isSecureContext", { value: false }));
  await v.page.goto(`${program.address}/#/record`);
  await v.page.reload();
  await v.page.getByText("Not with this browser").waitFor();
  await v.page.getByText(/serve --lan/).waitFor();
  await v.close();
});

it("the sheet is sound on a phone", async () => {
  const v = await open();
  expect(await accessibilityFaults(v.page)).toEqual([]);
  expect(await scrollsSideways(v.page)).toBe(false);
  expect(await smallTargets(v.page)).toEqual([]);
  await v.close();
});
