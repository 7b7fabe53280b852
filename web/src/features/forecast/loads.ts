// The same car with somebody beside, with a full boot, in the wet: each as a setup of its own.
import { estimateAt } from "@/api/documents";
import type { Garage } from "@/api/garage";
import type { EstimateInput, LoadSheetInput, SetupInput } from "@/api/types";
import type { Comparison } from "./request";

export type CaseId = "alone" | "two_up" | "boot" | "wet";
export interface Loads {
  passenger: number; // kg
  boot: number;
  driverSide: "left" | "right";
}
export const USUAL_LOADS: Loads = { passenger: 75, boot: 80, driverSide: "left" };
export const loadsOf = (g: Garage): Loads => ({ ...USUAL_LOADS, ...(g.wish.loads as Partial<Loads> | undefined) });

export interface LoadCase {
  id: CaseId;
  name: string;
  aboard: LoadSheetInput[];
  grip: EstimateInput | null;
}

const typical = (value: number, pm: number): EstimateInput => ({ value, pm, origin: "typical" });

// Where a seat and a boot are: fractions of the wheelbase and heights common to road cars, with a wide ± (common
// practice, no source). Wet grip is 0.60 to 0.85 of dry [TradeValues, tyre.wet_factor].
export function cases(loads: Loads, wheelbase: number): LoadCase[] {
  const beside = loads.driverSide === "left" ? -370 : 370;
  const seat: LoadSheetInput = {
    name: "passenger",
    mass_kg: { value: loads.passenger, pm: 2, origin: "measured" },
    behind_front_axle_mm: typical(0.53 * wheelbase, 150),
    left_of_centre_mm: typical(beside, 60),
    height_mm: typical(600, 80),
  };
  const boot: LoadSheetInput = {
    name: "boot",
    mass_kg: { value: loads.boot, pm: 2, origin: "measured" },
    behind_front_axle_mm: typical(1.08 * wheelbase, 200),
    left_of_centre_mm: typical(0, 100),
    height_mm: typical(650, 120),
  };
  return [
    { id: "alone", name: "driver alone", aboard: [], grip: null },
    { id: "two_up", name: "two-up", aboard: [seat], grip: null },
    { id: "boot", name: "boot loaded", aboard: [boot], grip: null },
    { id: "wet", name: "wet road", aboard: [], grip: typical(0.73, 0.125) },
  ];
}

export const wheelbaseOf = (car: unknown) => estimateAt(car, "wheelbase_mm")?.value ?? 2600;

export function withCases(c: Comparison, list: readonly LoadCase[]): Comparison {
  const loaded = (s: SetupInput, k: LoadCase): SetupInput => ({
    ...s,
    name: `${s.name}, ${k.name}`,
    aboard: k.aboard,
    ...(k.grip ? { front: { ...s.front, grip: k.grip }, rear: { ...s.rear, grip: k.grip } } : {}),
  });
  return { ...c, setups: list.flatMap((k) => c.setups.map((s) => loaded(s, k))) };
}
