// The setups being compared, as the program takes them, with just the bar sheets they need.
import { withAllSettings } from "./barSheet";
import type { AxleName, Choice, Garage } from "./garage";
import type { AxleSetupInput, BarSheetInput, CarSheetInput, SetupInput } from "./types";

const AXLES: readonly AxleName[] = ["front", "rear"];

function axleSetup(c: Choice[AxleName]): AxleSetupInput | undefined {
  return c.bar === null ? undefined : { bar: c.bar, setting: c.setting ?? undefined };
}

export function setupOf(c: Choice): SetupInput {
  return { name: c.name, front: axleSetup(c.front), rear: axleSetup(c.rear) };
}

export function barsFor(g: Garage, choices: readonly Choice[]): BarSheetInput[] {
  const wanted = new Set(choices.flatMap((c) => AXLES.map((a) => c[a].bar)));
  return allBars(g).filter((b) => wanted.has(b.name ?? null));
}

export function allBars(g: Garage): BarSheetInput[] {
  return AXLES.flatMap((axle) => g.bars[axle].map((b) => withAllSettings({ ...b, axle })));
}

// Setups live in the page; the sheet's own list would only stand in the way.
export function carFor(g: Garage): CarSheetInput | null {
  if (!g.car) return null;
  const { setups: _, ...car } = g.car as unknown as CarSheetInput;
  return car;
}

export const isChanged = (g: Garage): boolean =>
  AXLES.some((a) => g.after[a].bar !== g.before[a].bar || g.after[a].setting !== g.before[a].setting);
