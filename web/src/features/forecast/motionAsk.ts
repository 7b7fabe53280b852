// The request that the three questions about motion share, and two answers to each: at once without doubts, then with.
import { garage } from "@/api/garage";
import { barsFor, carFor, isChanged, setupOf } from "@/api/setups";
import type { BarSheetInput, CarSheetInput, SetupInput } from "@/api/types";

export interface MotionRequest {
  car: CarSheetInput;
  bars: BarSheetInput[];
  setups: SetupInput[];
}

export function motionRequest(): MotionRequest | null {
  const g = garage.value.value;
  const car = carFor(g);
  if (!car) return null;
  const before = setupOf(g.before);
  const after = { ...setupOf(g.after), name: g.after.name === g.before.name ? "after" : g.after.name };
  return { car, bars: barsFor(g, [g.before, g.after]), setups: isChanged(g) ? [before, after] : [before] };
}
