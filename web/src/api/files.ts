// Files for the program: the keeper puts them into the notebook, where a question finds them by their hash. Until then
// the bytes are in the browser, and are sent when a question needs them.
import { findBlob, keepBlob, newId } from "@/base/blobs";
import { upload } from "./client";
import type { LogFile } from "./garage";
import type { FileReference, Problem } from "./types";

const sent = new Map<string, FileReference>();

export async function takeFile(file: File): Promise<LogFile> {
  const id = newId();
  await keepBlob(id, file);
  return { id, name: file.name, bytes: file.size };
}

// References for a request; problems name the file that could not be sent.
export async function referencesOf(
  files: readonly LogFile[],
): Promise<{ files: FileReference[] } | { problems: Problem[] }> {
  const found: FileReference[] = [];
  for (const f of files) {
    const known = f.hash ? { file: f.hash, name: f.name } : sent.get(f.id);
    if (known) {
      found.push(known);
      continue;
    }
    const blob = await findBlob(f.id);
    if (!blob) return { problems: [lost(f.name)] };
    const reply = await upload(blob, f.name);
    if ("problems" in reply) return reply;
    const reference = { file: reply.file.file, name: f.name };
    sent.set(f.id, reference);
    found.push(reference);
  }
  return { files: found };
}

export function forgetSent() {
  sent.clear();
}

const lost = (name: string): Problem => ({
  kind: "environment",
  code: "file_lost",
  where: name,
  message: "The browser no longer has the bytes of this file.",
  allowed: "",
  hint: "Drop the file again.",
});
