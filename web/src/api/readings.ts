// Raw readings of home measurements, kept with everything else, so that a table begun at the car on Saturday is there
// on Sunday. `place` is one word ("cg", "ratio-rear-spring").
import type { Estimate, Interval } from "@/base/estimate";
import { decimalsForPm } from "@/base/format";
import { readAt, writeAt } from "./documents";
import { garage } from "./garage";
import type { Answer, Problem } from "./types";
import type { Asked } from "./useAsk";

export function useReadings<T extends object>(
  place: string,
  blank: T,
): [T, (label: string, change: Partial<T>) => void] {
  const path = `readings.${place}`;
  const now = (work: unknown): T => ({ ...blank, ...(readAt(work, path) as Partial<T> | undefined) });
  const put = (label: string, change: Partial<T>) =>
    garage.change(label, (g) => ({ ...g, work: writeAt(g.work, path, { ...now(g.work), ...change }) }));
  return [now(garage.value.value.work), put];
}

// An answer as a sheet keeps it: two figures of the ±, the value to one decimal more than that deserves.
export function asMeasured(i: Interval): Estimate {
  const pm = Number(i.pm.toPrecision(2));
  const decimals = (decimalsForPm(i.pm) ?? 4) + 1;
  return { value: Number(i.value.toFixed(Math.min(8, decimals))), pm, origin: "measured" };
}

export function isOnSheet(now: Estimate | null, found: Interval): boolean {
  const fresh = asMeasured(found);
  return now?.value === fresh.value && now.pm === fresh.pm && now.origin === "measured";
}

export const measured = (value: number, pm: number): Estimate => ({ value, pm, origin: "measured" });

// What the program refused about one reading, for the place where it was typed.
export function refusedAt(problems: readonly Problem[], where: string): string | null {
  const p = problems.find((q) => q.where === where || q.where === `${where}_mm`);
  return p ? [p.message, p.allowed && `Allowed: ${p.allowed}.`, p.hint].filter(Boolean).join(" ") : null;
}
export const refusedElsewhere = (problems: readonly Problem[], places: readonly string[]) =>
  problems.filter((p) => !places.some((w) => p.where === w || p.where === `${w}_mm` || p.where.startsWith(`${w}.`)));

// An older answer does not stand for readings that were refused since.
export const answered = <R>(asked: Asked<R>): Answer<R> | null => (asked.problems.length > 0 ? null : asked.answer);

export const isNumber = (v: number | null | undefined): v is number => typeof v === "number" && Number.isFinite(v);
