// Raw readings made into requests. A request is null until enough is read; what is still missing is named.
import { estimateAt } from "@/api/documents";
import { isNumber, measured } from "@/api/readings";
import type {
  CarCgRequestInput,
  CarRatioRequestInput,
  CarSheetInput,
  CarSillRequestInput,
  CarWeightsRequestInput,
  CornerReadingsInput,
  SillSeriesInput,
} from "@/api/types";
import type { Estimate } from "@/base/estimate";

export type Maybe = number | null;
export interface Asking<R> {
  request: R | null;
  missing: string[]; // in plain words
}

// ---------------------------------------------------------------- centre of gravity
export interface CgReadings {
  lifted: "front" | "rear";
  isLocked: boolean;
  front: Maybe; // kg, level
  rear: Maybe;
  frontHub: Maybe; // mm above the ground, level
  rearHub: Maybe;
  scalePm: number; // kg, of an axle
  lifts: { lift: Maybe; reading: Maybe }[];
}
export const BLANK_CG: CgReadings = {
  lifted: "rear",
  isLocked: false,
  front: null,
  rear: null,
  frontHub: null,
  rearHub: null,
  scalePm: 2,
  lifts: [
    { lift: null, reading: null },
    { lift: null, reading: null },
  ],
};

export function cgRequest(r: CgReadings, wheelbase: Estimate | null): Asking<CarCgRequestInput> {
  const lifts = r.lifts.flatMap((l) =>
    isNumber(l.lift) && isNumber(l.reading) ? [{ lift: l.lift, reading: l.reading }] : [],
  );
  const missing = [
    !wheelbase && "the wheelbase, on the car sheet",
    !isNumber(r.front) && "the front axle, level",
    !isNumber(r.rear) && "the rear axle, level",
    !isNumber(r.frontHub) && "the front hub’s height",
    !isNumber(r.rearHub) && "the rear hub’s height",
    lifts.length === 0 && "one lift with its reading",
  ].filter((m): m is string => m !== false);
  if (missing.length > 0) return { request: null, missing };
  return {
    missing,
    request: {
      lifted: r.lifted,
      suspension_locked: r.isLocked,
      wheelbase_mm: wheelbase!,
      front_level_kg: measured(r.front!, r.scalePm),
      rear_level_kg: measured(r.rear!, r.scalePm),
      front_hub_height_mm: measured(r.frontHub!, 3),
      rear_hub_height_mm: measured(r.rearHub!, 3),
      lifts: lifts.map((l) => ({ lift_mm: l.lift, axle_reading_kg: measured(l.reading, r.scalePm) })),
    },
  };
}

// ---------------------------------------------------------------- ratio
export type RatioOf = "spring" | "damper" | "link";
export interface RatioReadings {
  rows: { wheel: Maybe; device: Maybe }[];
  rideHeight: Maybe; // the wheel reading at loaded ride height
  tapePm: number;
  isUnusual: boolean;
}
export const BLANK_RATIO: RatioReadings = {
  rows: Array.from({ length: 5 }, () => ({ wheel: null, device: null })),
  rideHeight: null,
  tapePm: 1,
  isUnusual: false,
};

export const readRows = (r: RatioReadings) =>
  r.rows.flatMap((row) =>
    isNumber(row.wheel) && isNumber(row.device) ? [{ wheel_mm: row.wheel, device_mm: row.device }] : [],
  );

// Where the row as typed has gone in the request, so that a refusal finds its way back.
export const rowInRequest = (r: RatioReadings, row: number) =>
  r.rows.slice(0, row).filter((x) => isNumber(x.wheel) && isNumber(x.device)).length;

export function ratioRequest(of: RatioOf, r: RatioReadings): Asking<CarRatioRequestInput> {
  const readings = readRows(r);
  const missing = [
    readings.length < 3 && `${3 - readings.length} more ${readings.length === 2 ? "row" : "rows"}`,
    !isNumber(r.rideHeight) && "where the wheel stands at ride height",
  ].filter((m): m is string => m !== false);
  if (missing.length > 0) return { request: null, missing };
  return {
    missing,
    request: {
      of,
      readings,
      ride_height_mm: r.rideHeight!,
      reading_pm_mm: r.tapePm,
      accept_unusual: r.isUnusual,
    },
  };
}

// ---------------------------------------------------------------- corner weights
export const CORNERS = ["front_left", "front_right", "rear_left", "rear_right"] as const;
export type Corner = (typeof CORNERS)[number];
export type Four = Record<Corner, Maybe>;
export const NO_FOUR: Four = { front_left: null, front_right: null, rear_left: null, rear_right: null };
export const CORNER_WORDS: Record<Corner, string> = {
  front_left: "Front left",
  front_right: "Front right",
  rear_left: "Rear left",
  rear_right: "Rear right",
};
export interface WeightsReadings {
  aboard: Four; // kg, driver in the seat
  empty: Four;
  pads: Four; // mm
  scalePm: number;
  padPm: number;
}
export const BLANK_WEIGHTS: WeightsReadings = { aboard: NO_FOUR, empty: NO_FOUR, pads: NO_FOUR, scalePm: 1, padPm: 2 };

const isFull = (f: Four) => CORNERS.every((c) => isNumber(f[c]));

export function weightsRequest(r: WeightsReadings, car: CarSheetInput | null): Asking<CarWeightsRequestInput> {
  const missing = CORNERS.filter((c) => !isNumber(r.aboard[c])).map((c) => CORNER_WORDS[c].toLowerCase());
  if (missing.length > 0) return { request: null, missing };
  const corners = (f: Four) =>
    Object.fromEntries(CORNERS.map((c) => [`${c}_kg`, measured(f[c]!, r.scalePm)])) as unknown as CornerReadingsInput;
  return {
    missing,
    request: {
      corners: corners(r.aboard),
      without_driver: isFull(r.empty) ? corners(r.empty) : null,
      pads: isFull(r.pads) ? Object.fromEntries(CORNERS.map((c) => [`${c}_mm`, r.pads[c]!])) : null,
      pad_pm_mm: r.padPm,
      car,
    },
  };
}

// ---------------------------------------------------------------- sill
export type LinkState = NonNullable<SillSeriesInput["bars"]>;
export interface SillRow extends Four {
  load: Maybe; // kg
  side: "left" | "right";
  isDown: boolean; // more was on just before
}
export interface SillReadings {
  place: number; // mm from the middle of the car to the load
  against: "wheel" | "road";
  tapePm: number;
  series: Partial<Record<LinkState, SillRow[]>>;
}
const row = (side: "left" | "right", load: Maybe, isDown = false): SillRow => ({ ...NO_FOUR, load, side, isDown });

// The usual order: nothing, one, two, back to one, on each side.
export const sillRows = (one: Maybe, two: Maybe): SillRow[] => [
  row("left", 0),
  row("left", one),
  row("left", two),
  row("left", one, true),
  row("right", 0),
  row("right", one),
  row("right", two),
  row("right", one, true),
];
export const BLANK_SILL: SillReadings = {
  place: 650,
  against: "wheel",
  tapePm: 1,
  series: { both_on: sillRows(null, null) },
};

const isRead = (s: SillRow) => isNumber(s.load) && CORNERS.every((c) => isNumber(s[c]));
export const readSill = (rows: readonly SillRow[]) => rows.filter(isRead);

export function sillRequest(r: SillReadings, car: CarSheetInput | null): Asking<CarSillRequestInput> {
  const states = (Object.keys(r.series) as LinkState[]).filter((s) => readSill(r.series[s]!).length > 0);
  const first = states[0];
  const count = first ? readSill(r.series[first]!).length : 0;
  const missing = [
    !car && "a car",
    count < 4 && `${4 - count} more ${count === 3 ? "reading" : "readings"} with all four arches`,
  ].filter((m): m is string => m !== false);
  if (missing.length > 0) return { request: null, missing };
  return {
    missing,
    request: {
      car: car!,
      against_the_wheel: r.against === "wheel",
      reading_pm_mm: r.tapePm,
      series: states.map((bars) => ({
        bars,
        readings: readSill(r.series[bars]!).map((s) => ({
          load_kg: s.load!,
          left_of_centre_mm: s.side === "left" ? r.place : -r.place,
          is_coming_down: s.isDown,
          front_left_mm: s.front_left!,
          front_right_mm: s.front_right!,
          rear_left_mm: s.rear_left!,
          rear_right_mm: s.rear_right!,
        })),
      })),
    },
  };
}

// Lean of each reading against the first one, for the drawing: mean of both axles, degrees, to the left positive.
export function leansOf(rows: readonly SillRow[], track: { front: number; rear: number }): number[] {
  const lean = (s: SillRow) =>
    0.5 * ((s.front_right! - s.front_left!) / track.front + (s.rear_right! - s.rear_left!) / track.rear);
  const read = readSill(rows);
  const rest = read[0] ? lean(read[0]) : 0;
  return read.map((s) => ((lean(s) - rest) * 180) / Math.PI);
}

// The sheet's number, else the typical one.
export const knownOr = (sheet: unknown, filled: unknown, key: string) =>
  estimateAt(sheet, key) ?? estimateAt(filled, key);
