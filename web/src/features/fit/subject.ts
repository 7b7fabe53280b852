// Which bar is being fitted: the one the setup 'after' puts where another was.
import { settingById, withAllSettings } from "@/api/barSheet";
import type { AxleName, Garage } from "@/api/garage";
import { carFor } from "@/api/setups";
import type { BarSheetInput, CarSheetInput } from "@/api/types";

export interface Subject {
  axle: AxleName;
  car: CarSheetInput;
  bar: BarSheetInput;
  setting: string;
  oldBar: string;
}

// The axles whose bar changes, rear first as the usual purchase.
export function subjectsOf(g: Garage): Subject[] {
  const car = carFor(g);
  if (!car) return [];
  return (["rear", "front"] as const).flatMap((axle): Subject[] => {
    const choice = g.after[axle];
    const bar = g.bars[axle].find((b) => b.name === choice.bar);
    if (!bar || (choice.bar === g.before[axle].bar && choice.setting === g.before[axle].setting)) return [];
    const full = withAllSettings({ ...bar, axle });
    const setting = (choice.setting && settingById(bar, choice.setting)?.id) || full.settings?.[0]?.id;
    return setting ? [{ axle, car, bar: full, setting, oldBar: g.before[axle].bar ?? "the fitted bar" }] : [];
  });
}
