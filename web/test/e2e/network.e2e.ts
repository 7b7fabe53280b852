// A phone on the same network: pairs by the code, then works as the page on the computer does.
import { spawn } from "node:child_process";
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { openBrowser, PHONE } from "./browser";

const BINARY =
  process.env.ROLLWRIGHT_BINARY ?? fileURLToPath(new URL("../../../build/release/rollwright", import.meta.url));

interface Open {
  said: () => string;
  pair: string; // the address with the code in it
  local: string;
  stop: () => Promise<void>;
}

// Null where this machine is on no network.
async function startOpen(): Promise<Open | null> {
  const notebook = join(mkdtempSync(join(tmpdir(), "rollwright-e2e-")), "test.garage");
  const child = spawn(BINARY, ["serve", "--lan", "--port", "0", "--lan-port", "0", "--notebook", notebook]);
  let text = "";
  const ended = new Promise<void>((done) => child.once("exit", () => done()));
  const read = (chunk: Buffer) => {
    text += chunk.toString();
  };
  child.stdout.on("data", read);
  child.stderr.on("data", read);
  for (let i = 0; i < 100 && !/SHA-256 is\s+[0-9A-F:]{95}/.test(text) && child.exitCode === null; i++)
    await new Promise((r) => setTimeout(r, 100));
  if (/on no network/.test(text)) return null;
  return {
    said: () => text,
    pair: /https:\/\/\S+\/pair\?code=\d{8}/.exec(text)![0],
    local: /http:\/\/127\.0\.0\.1:\d+/.exec(text)![0],
    stop: () => {
      child.kill("SIGINT");
      return ended;
    },
  };
}

it("pairs with the code of the address, once, and reaches the notebook and the recorder", async () => {
  const program = await startOpen();
  if (program === null) return console.log("not run: this machine is on no network");
  const browser = await openBrowser();
  // Nobody vouches for the certificate; the person accepts it after comparing the fingerprint.
  const phone = await browser.newContext({ viewport: PHONE, ignoreHTTPSErrors: true, locale: "en-GB" });
  const page = await phone.newPage();
  const faults: string[] = [];
  page.on("pageerror", (e) => faults.push(e.message));
  const address = new URL(program.pair).origin;
  await page.goto(`${address}/`);
  await page.getByRole("heading", { name: "Pair this device with the workbench" }).waitFor();
  await page.getByLabel("Code").fill("00000000");
  await page.getByRole("button", { name: "Pair this device" }).click();
  await page.getByText("That is not the code that the computer shows.").waitFor();
  await page.goto(program.pair);
  await page.getByRole("button", { name: "Pair this device" }).click();
  await page.getByRole("button", { name: /My car/ }).click();
  await page.getByRole("textbox", { name: "Wheelbase" }).fill("2510");
  await page.keyboard.press("Enter");
  expect((await phone.cookies()).map(({ httpOnly, secure, sameSite }) => ({ httpOnly, secure, sameSite }))).toEqual([
    { httpOnly: true, secure: true, sameSite: "Strict" },
  ]);
  // The computer's own page meets the phone's number in the notebook.
  const desk = await (await browser.newContext({ locale: "en-GB" })).newPage();
  await desk.goto(`${program.local}/#/car`);
  await desk.waitForFunction(
    () => document.querySelector<HTMLInputElement>('.field[data-key="wheelbase_mm"] input')?.value === "2510",
  );
  await desk.goto(`${program.local}/#/notebook`);
  await desk.getByText("Paired now: 1.").waitFor();
  // Motion sensors are given to a page over TLS.
  await page.goto(`${address}/#/record`);
  await page.getByRole("button", { name: "First say how it lies" }).waitFor();
  // The code was used up.
  const second = await browser.newContext({ viewport: PHONE, ignoreHTTPSErrors: true, locale: "en-GB" });
  const other = await second.newPage();
  await other.goto(program.pair);
  await other.getByRole("button", { name: "Pair this device" }).click();
  await other.getByText("A code works once.").waitFor();
  expect(program.said()).toContain("A paired device can read and change everything");
  expect(faults).toEqual([]);
  await browser.close();
  await program.stop();
});
