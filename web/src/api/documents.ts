// Reading and writing one place in a document by its path ("front.track_mm"), without touching the rest.
import { asEstimate, type Estimate } from "@/base/estimate";

type Json = unknown;
const isRecord = (v: Json): v is Record<string, Json> => typeof v === "object" && v !== null && !Array.isArray(v);

export function readAt(document: Json, path: string): Json {
  let here = document;
  for (const step of path.split(".")) {
    if (!isRecord(here)) return undefined;
    here = here[step];
  }
  return here;
}

export function estimateAt(document: Json, path: string): Estimate | null {
  const v = readAt(document, path);
  return typeof v === "number" || (isRecord(v) && typeof v.value === "number")
    ? asEstimate(v as number | Estimate)
    : null;
}

// A copy with one place changed; null removes it, and a record that becomes empty goes with it.
export function writeAt<D>(document: D, path: string, value: Json): D {
  const [step, ...rest] = path.split(".") as [string, ...string[]];
  const here: Record<string, Json> = isRecord(document) ? { ...document } : {};
  const next = rest.length === 0 ? value : writeAt(here[step] ?? {}, rest.join("."), value);
  if (next === null || next === undefined || (isRecord(next) && rest.length > 0 && Object.keys(next).length === 0))
    delete here[step];
  else here[step] = next;
  return here as D;
}
