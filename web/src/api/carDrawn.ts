// How a car sheet is drawn: its own track and wheelbase where known, the outline of its class for the rest. Height,
// width and clearance are for the picture only; no answer depends on them.
import { estimateAt } from "./documents";

export interface DrawnCar {
  kind: "hatch" | "van";
  track: number;
  width: number;
  height: number;
  wheelbase: number;
  clearance: number;
}

// [track, wheelbase, height, clearance] in mm: proportions of the picture, our own choice.
const OUTLINE: Record<string, readonly [number, number, number, number]> = {
  small_sports: [1430, 2300, 1240, 130],
  front_drive_hatch: [1480, 2560, 1430, 165],
  rear_drive_saloon: [1530, 2750, 1420, 150],
  all_wheel_saloon: [1530, 2650, 1430, 160],
  large_coupe: [1580, 2720, 1330, 140],
  suv_or_pickup: [1600, 2850, 1720, 220],
  van: [1650, 3200, 2150, 190],
  light_kit: [1380, 2350, 1150, 110],
};

export function drawnCar(sheet: unknown, axle: "front" | "rear" = "rear"): DrawnCar {
  const name = String((sheet as { class?: unknown } | null)?.class ?? "front_drive_hatch");
  const [track, wheelbase, height, clearance] = OUTLINE[name] ?? OUTLINE.front_drive_hatch!;
  const known = (path: string) => estimateAt(sheet, path)?.value;
  const t = known(`${axle}.track_mm`) ?? known("rear.track_mm") ?? known("front.track_mm") ?? track;
  return {
    kind: name === "van" ? "van" : "hatch",
    track: t,
    width: Math.max(t + 235, track + 250),
    height,
    wheelbase: known("wheelbase_mm") ?? wheelbase,
    clearance,
  };
}
