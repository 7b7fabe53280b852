// Numbers with doubt. What a person gives is an Estimate with an origin; what the program answers is an Interval.
// `pm` is the 95 % half width in both: nineteen times in twenty the truth lies within it.

export type Origin = "measured" | "maker" | "typical" | "guess" | "derived";
export const ORIGINS: readonly Origin[] = ["measured", "maker", "typical", "guess", "derived"];

export interface Estimate {
  value: number;
  pm?: number;
  origin?: Origin;
}
export interface Interval {
  value: number;
  pm: number;
  low: number;
  high: number;
}

export const ORIGIN_WORDS: Record<Origin, string> = {
  measured: "measured",
  maker: "maker’s figure",
  typical: "typical for this kind of car",
  guess: "a guess",
  derived: "worked out from others",
};

// Ink or pencil: only what someone read off the car or off the maker's paper is drawn in ink.
export function isInk(origin: Origin | undefined): boolean {
  return origin === "measured" || origin === "maker";
}

// A document may hold a bare number where an estimate is meant.
export function asEstimate(given: number | Estimate | null | undefined): Estimate | null {
  if (given === null || given === undefined) return null;
  return typeof given === "number" ? { value: given } : given;
}

export function asInterval(given: number | Interval | Estimate): Interval {
  if (typeof given === "number") return { value: given, pm: 0, low: given, high: given };
  const pm = given.pm ?? 0;
  const low = "low" in given ? given.low : given.value - pm;
  const high = "high" in given ? given.high : given.value + pm;
  return { value: given.value, pm, low, high };
}

// Whether the interval leaves no doubt about the sign.
export function isSureOfSign(i: Interval): boolean {
  return i.low > 0 || i.high < 0;
}
