// What the car sheet says about itself: how much is in ink, what stands in pencil.
import { estimateAt } from "@/api/documents";
import { type Estimate, isInk, type Origin } from "@/base/estimate";
import { axleFields, WHOLE_CAR } from "./fields";

export const MAIN_KEYS = [...WHOLE_CAR, ...axleFields("front"), ...axleFields("rear")].map((f) => f.key);

export interface Firmness {
  ink: number;
  total: number;
  origins: Origin[]; // firmest first
}

const ORDER: readonly Origin[] = ["measured", "maker", "derived", "typical", "guess"];

export function firmness(sheet: unknown, keys: readonly string[] = MAIN_KEYS): Firmness {
  const origins = keys.map((k): Origin => {
    const e = estimateAt(sheet, k);
    return e ? (e.origin ?? "measured") : "typical";
  });
  return {
    ink: origins.filter(isInk).length,
    total: keys.length,
    origins: origins.toSorted((a, b) => ORDER.indexOf(a) - ORDER.indexOf(b)),
  };
}

// A field shows what the sheet says, else what the program filled in.
export function shownAt(
  sheet: unknown,
  filled: unknown,
  key: string,
): { value: Estimate | null; typical: Estimate | null } {
  return { value: estimateAt(sheet, key), typical: estimateAt(filled, key) };
}

export const blankCar = (name: string) => ({
  kind: "car/1" as const,
  name,
  class: "front_drive_hatch",
  drive: "front",
});

// What the program refused about one number, for the place where it was typed.
export function problemAt(
  problems: readonly { where: string; message: string; allowed: string }[],
  key: string,
): string | null {
  const p = problems.find((q) => q.where === key || q.where.endsWith(`.${key}`) || q.where.startsWith(`car.${key}.`));
  return p ? `${p.message}${p.allowed ? ` Allowed: ${p.allowed}.` : ""}` : null;
}
