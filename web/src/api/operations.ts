// Which questions this program can answer: a room asks only what exists.
import { signal } from "@preact/signals";

export const known = signal<ReadonlySet<string> | null>(null);
export const build = signal<string>("");

export async function learnOperations(): Promise<void> {
  try {
    const list = (await (await fetch("./api/operations")).json()) as { operations: { path: string }[] };
    known.value = new Set(list.operations.map((o) => o.path));
    const version = (await (await fetch("./api/version")).json()) as { version: string; build: string };
    build.value = version.version;
  } catch {
    known.value = null;
  }
}
