// Before and after as the program takes them; before alone where nothing is changed.
import type { Garage } from "@/api/garage";
import { barsFor, carFor, isChanged, setupOf } from "@/api/setups";
import type { BarSheetInput, CarSheetInput, SetupInput } from "@/api/types";

export interface Comparison {
  car: CarSheetInput;
  bars: BarSheetInput[];
  setups: SetupInput[];
}

export function comparison(g: Garage): Comparison | null {
  const car = carFor(g);
  if (!car) return null;
  const before = { ...setupOf(g.before), name: "before" };
  return {
    car,
    bars: barsFor(g, [g.before, g.after]),
    setups: isChanged(g) ? [before, { ...setupOf(g.after), name: "after" }] : [before],
  };
}
