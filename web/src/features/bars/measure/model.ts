// Raw readings of a bar made into requests.
import type { BarDocument } from "@/api/garage";
import { isNumber, measured } from "@/api/readings";
import type { BarHangRequestInput, BarSheetInput, BarWeighRequestInput } from "@/api/types";

type Maybe = number | null;

// ---------------------------------------------------------------- on the scales
export interface WeighReadings {
  mass: Maybe; // kg
  massPm: number;
  extra: Maybe; // kg that are not bar
  length: Maybe; // mm, by a string along the bends; null: from the sheet's shape
}
export const BLANK_WEIGH: WeighReadings = { mass: null, massPm: 0.05, extra: null, length: null };

export function weighRequest(r: WeighReadings, bar: BarDocument) {
  if (!isNumber(r.mass)) return { request: null, missing: ["what the bar weighs"] };
  const { wall_mm: _, ...section } = bar.section;
  const request: BarWeighRequestInput = {
    mass_kg: measured(r.mass, r.massPm),
    extra_mass_kg: isNumber(r.extra) ? measured(r.extra, 0.02) : null,
    length_mm: isNumber(r.length) ? measured(r.length, 10) : null,
    bar: { ...bar, section } as BarSheetInput, // the wall is what is asked
  };
  return { request, missing: [] as string[] };
}

// ---------------------------------------------------------------- hung with weights
export interface HangRow {
  mass: Maybe; // kg
  position: Maybe; // mm
  isDown: boolean; // weight was taken off to get here
}
export interface HangReadings {
  way: "one_end_held" | "both_ends_apart";
  setting: string;
  rows: HangRow[];
}
const STEPS = [0, 5, 10, 15]; // kg
export const BLANK_HANG: HangReadings = {
  way: "one_end_held",
  setting: "",
  rows: [
    ...STEPS.map((mass) => ({ mass, position: null, isDown: false })),
    ...STEPS.slice(0, -1)
      .toReversed()
      .map((mass) => ({ mass, position: null, isDown: true })),
  ],
};

export const readHung = (r: HangReadings) =>
  r.rows.flatMap((row) =>
    isNumber(row.mass) && isNumber(row.position)
      ? [{ mass_kg: row.mass, position_mm: row.position, unloading: row.isDown }]
      : [],
  );

export function hangRequest(r: HangReadings, bar: BarSheetInput, setting: string) {
  const readings = readHung(r);
  if (readings.length < 4) {
    const more = 4 - readings.length;
    return { request: null, missing: [`${more} more ${more === 1 ? "position" : "positions"}`] };
  }
  const request: BarHangRequestInput = { setup: r.way, readings, bar, setting };
  return { request, missing: [] as string[] };
}
