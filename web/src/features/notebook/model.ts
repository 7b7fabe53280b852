// What the notebook sheet says of things: kinds in plain words, moments, sizes.
import type { NotebookDocument } from "@/api/types";

const KINDS: Record<string, string> = {
  "car/1": "car",
  "bar/1": "bar",
  "outing/1": "outing",
  "candidates/1": "things to buy",
  "cost/1": "costs",
  "linkage/1": "suspension arms",
  "marks/1": "marks on a film",
  "work/1": "work in progress",
  "workbench/1": "what lies on the bench",
};
export const kindInWords = (kind: string) => KINDS[kind] ?? kind.split("/")[0]!;

const WORK: Record<string, string> = {
  fit: "Fitting: ticks and turns",
  phone: "Where the phone sits",
  phoneLies: "How the phone lies",
  plan: "The test plan",
  leftOut: "Runs left out",
  cost: "What it cost",
  feel: "How it felt",
  alternatives: "What else the money could buy",
  wanted: "The change wanted",
};
export const nameOf = (d: Pick<NotebookDocument, "kind" | "name">) =>
  d.kind === "work/1" ? (WORK[d.name] ?? d.name) : d.name;

// "2026-05-01T18:30:00Z" in the person's own time and words.
export function moment(written: string, locale?: string): string {
  const date = new Date(written);
  if (Number.isNaN(date.getTime())) return written || "at no known time";
  return date.toLocaleString(locale, { dateStyle: "medium", timeStyle: "short" });
}

export function size(bytes: number): string {
  if (bytes < 1e3) return `${bytes} bytes`;
  return bytes < 1e6 ? `${Math.round(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

// The value and its ±, as typed into the outing form; a problem in words otherwise.
export function readOuting(f: { date: string; lean: string; pm: string }): { lean: number; pm: number } | string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(f.date)) return "Which day was it?";
  const number = (t: string) => Number(t.trim().replace(",", ".") || Number.NaN);
  const [lean, pm] = [number(f.lean), number(f.pm)];
  if (!(lean > 0.05 && lean < 30)) return "Lean is between 0.05 and 30 degrees for each g; the test sheet gives it.";
  if (!(pm > 0 && pm < lean))
    return "The ± is more than nothing and less than the lean itself; the test sheet gives it.";
  return { lean, pm };
}
