// Starts the real program and reads the address it prints.
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const BINARY =
  process.env.ROLLWRIGHT_BINARY ?? fileURLToPath(new URL("../../../build/release/rollwright", import.meta.url));

export interface Program {
  address: string;
  port: number;
  notebook: string; // its file
  stop: () => Promise<void>;
}

const freshNotebook = () => join(mkdtempSync(join(tmpdir(), "rollwright-e2e-")), "test.garage");

// With a notebook of its own unless one is named, so that no test meets what another one left, nor the person's own.
export async function startProgram(port = 0, notebook = freshNotebook()): Promise<Program> {
  if (!existsSync(BINARY)) throw new Error(`no program at ${BINARY}: build it first, or set ROLLWRIGHT_BINARY`);
  const child = spawn(BINARY, ["serve", "--port", String(port), "--notebook", notebook], {
    stdio: ["ignore", "pipe", "pipe"],
  });
  const address = await printedAddress(child);
  return {
    address,
    port: Number(new URL(address).port),
    notebook,
    stop: () =>
      new Promise((done) => {
        if (child.exitCode !== null || child.signalCode !== null) return done();
        child.once("exit", () => done());
        child.kill("SIGKILL");
      }),
  };
}

function printedAddress(child: ChildProcess): Promise<string> {
  return new Promise((found, failed) => {
    let text = "";
    const read = (chunk: Buffer) => {
      text += chunk.toString();
      const address = /http:\/\/127\.0\.0\.1:\d+/.exec(text)?.[0];
      if (address) found(address);
    };
    child.stdout?.on("data", read);
    child.stderr?.on("data", read);
    child.once("exit", (code) =>
      failed(new Error(`the program ended with ${code} before it printed an address:\n${text}`)),
    );
  });
}
