// From the program's answer to what the sheet shows: loads and lean at a chosen g, what changes and what does not.
import { holeInWords } from "@/api/garage";
import type { CompareResult, HolePoint, LeanPoint, SetupForecast } from "@/api/types";
import { type Interval, isSureOfSign } from "@/base/estimate";
import type { UnitKey } from "@/base/units";
import type { HolePoint as MapPoint } from "@/charts/HoleMap";
import type { WheelLoads } from "@/charts/LeaningCars";

const G = 9.80665; // m/s², to write newtons as the kilograms that scales would show

// ---------------------------------------------------------------- one car at one g
export interface Stance {
  leanDeg: number;
  leanPm: number;
  loads: WheelLoads;
  isBeyondLimit: boolean;
}

export function stanceAt(setup: SetupForecast, g: number, loadsAt: number): Stance {
  const last = setup.curve.at(-1);
  const at = pointAt(setup.curve, g);
  const kg = (n: number) => Math.max(0, n) / G;
  return {
    leanDeg: at ? at.roll_deg : setup.roll_gradient_deg_per_g.value * g,
    leanPm: setup.roll_gradient_deg_per_g.pm * Math.min(g, last?.lateral_g ?? g),
    loads: at
      ? {
          frontLeft: kg(at.front_left_n),
          frontRight: kg(at.front_right_n),
          rearLeft: kg(at.rear_left_n),
          rearRight: kg(at.rear_right_n),
        }
      : straightLoads(setup, g, loadsAt),
    isBeyondLimit: last !== undefined && g > last.lateral_g + 1e-9,
  };
}

// Without a curve: loads move in proportion to g, as they do until a wheel lifts.
function straightLoads(setup: SetupForecast, g: number, loadsAt: number): WheelLoads {
  const axle = (a: SetupForecast["front"]) => {
    const still = (a.left_load_n.value + a.right_load_n.value) / 2;
    const moved = ((a.right_load_n.value - a.left_load_n.value) / 2) * (g / loadsAt);
    const inner = Math.max(0, still - moved);
    return [inner / G, (2 * still - inner) / G] as const;
  };
  const [frontLeft, frontRight] = axle(setup.front);
  const [rearLeft, rearRight] = axle(setup.rear);
  return { frontLeft, frontRight, rearLeft, rearRight };
}

// Straight between the curve's points; at its end the car lets go, so the last point stays.
export function pointAt(curve: readonly LeanPoint[], g: number): LeanPoint | null {
  if (curve.length === 0) return null;
  const i = curve.findIndex((p) => p.lateral_g >= g);
  if (i === 0) return curve[0]!;
  if (i < 0) return curve.at(-1)!;
  const [a, b] = [curve[i - 1]!, curve[i]!];
  const k = (g - a.lateral_g) / (b.lateral_g - a.lateral_g || 1);
  const mix = (key: keyof LeanPoint) => a[key] + k * (b[key] - a[key]);
  return {
    lateral_g: g,
    roll_deg: mix("roll_deg"),
    steer_deg: mix("steer_deg"),
    front_left_n: mix("front_left_n"),
    front_right_n: mix("front_right_n"),
    rear_left_n: mix("rear_left_n"),
    rear_right_n: mix("rear_right_n"),
  };
}

// ---------------------------------------------------------------- what changes
export interface ChangeRow {
  key: string;
  name: string;
  term?: string;
  before: Interval;
  after: Interval;
  change: Interval;
  unit: UnitKey;
  beforeUnit: UnitKey;
  verdict: "changes" | "same" | "unclear";
}

// Changes smaller than `matters` cannot be felt or do not count in practice (our own choice, no source).
const ROWS: readonly {
  key: string;
  name: string;
  term?: string;
  of: (s: SetupForecast) => Interval;
  change: (c: CompareResult["changes"][number]) => Interval;
  unit: UnitKey;
  beforeUnit: UnitKey;
  matters: number;
}[] = [
  {
    key: "lean",
    name: "Lean",
    term: "roll gradient",
    of: (s) => s.roll_gradient_deg_per_g,
    change: (c) => c.roll_gradient_change_percent,
    unit: "percent",
    beforeUnit: "deg_per_g",
    matters: 2,
  },
  {
    key: "share",
    name: "Front axle’s part of the load shift",
    term: "TLLTD",
    of: (s) => s.front_load_transfer_share_percent,
    change: (c) => c.front_load_transfer_share_percent,
    unit: "points",
    beforeUnit: "percent",
    matters: 0.5,
  },
  {
    key: "push",
    name: "Pushes wide",
    term: "understeer gradient",
    of: (s) => s.understeer_gradient_deg_per_g,
    change: (c) => c.understeer_gradient_deg_per_g,
    unit: "deg_per_g",
    beforeUnit: "deg_per_g",
    matters: 0.1,
  },
  {
    key: "rear-lift",
    name: "Inner rear wheel lifts at",
    of: (s) => s.rear.wheel_lift_g,
    change: (c) => c.rear_wheel_lift_g,
    unit: "g",
    beforeUnit: "g",
    matters: 0.02,
  },
  {
    key: "front-lift",
    name: "Inner front wheel lifts at",
    of: (s) => s.front.wheel_lift_g,
    change: (c) => c.front_wheel_lift_g,
    unit: "g",
    beforeUnit: "g",
    matters: 0.02,
  },
  {
    key: "rear-bump",
    name: "One rear wheel over a bump, firmer by",
    of: (s) => s.rear.one_wheel_rate_n_per_mm,
    change: (c) => c.one_wheel_rate_rear_change_percent,
    unit: "percent",
    beforeUnit: "n_per_mm",
    matters: 2,
  },
  {
    key: "front-bump",
    name: "One front wheel over a bump, firmer by",
    of: (s) => s.front.one_wheel_rate_n_per_mm,
    change: (c) => c.one_wheel_rate_front_change_percent,
    unit: "percent",
    beforeUnit: "n_per_mm",
    matters: 2,
  },
  {
    key: "answer",
    name: "How quickly it rolls",
    term: "roll frequency",
    of: (s) => s.roll_frequency_hz,
    change: (c) => c.roll_frequency_change_percent,
    unit: "percent",
    beforeUnit: "hz",
    matters: 2,
  },
  {
    key: "limit",
    name: "Grip in a long corner",
    term: "limit",
    of: (s) => s.limit_g,
    change: (c) => c.limit_g,
    unit: "g",
    beforeUnit: "g",
    matters: 0.01,
  },
];

export function changeRows(result: CompareResult): ChangeRow[] {
  const [before, after] = result.setups;
  const change = result.changes[0];
  if (!before || !after || !change) return [];
  return ROWS.map(({ of, change: changeOf, matters, ...row }) => {
    const c = changeOf(change);
    return { ...row, before: of(before), after: of(after), change: c, verdict: judge(c, matters) };
  });
}

function judge(c: Interval, matters: number): ChangeRow["verdict"] {
  if (Math.max(Math.abs(c.low), Math.abs(c.high)) < matters) return "same";
  return isSureOfSign(c) && Math.abs(c.value) >= matters ? "changes" : "unclear";
}

// ---------------------------------------------------------------- the map
// A short name for a hole on the map: 0 is the fitted bar, 2 both ends in hole 2, 1·2 left 1 and right 2.
export function shortHole(bar: string, setting: string, barsOfAxle: readonly string[]): string {
  if (!bar) return "0";
  const [l, r] = setting.split("/");
  const index = Math.max(0, barsOfAxle.indexOf(bar));
  return `${l === r ? l : `${l}·${r}`}${"′".repeat(index)}`;
}

export const isMixed = (setting: string) => {
  const [l, r] = setting.split("/");
  return r !== undefined && l !== r;
};

export interface MapEntry extends MapPoint {
  source: HolePoint;
  inWords: string;
}

export function mapPoints(
  points: readonly HolePoint[],
  frontBars: readonly string[],
  rearBars: readonly string[],
  withMixed: boolean,
): MapEntry[] {
  return points
    .filter((p) => withMixed || (!isMixed(p.front_setting) && !isMixed(p.rear_setting)))
    .map((p) => {
      const front = shortHole(p.front_bar, p.front_setting, frontBars);
      const rear = shortHole(p.rear_bar, p.rear_setting, rearBars);
      const words = (bar: string, setting: string) => (bar ? `${bar}, hole ${holeInWords(setting)}` : "as fitted");
      return {
        id: `${front}/${rear}`,
        front,
        rear,
        lean: p.roll_gradient_deg_per_g.value,
        leanPm: p.roll_gradient_deg_per_g.pm,
        share: p.front_load_transfer_share_percent.value,
        sharePm: p.front_load_transfer_share_percent.pm,
        isBad: p.cautions.length > 0,
        source: p,
        inWords: `front ${words(p.front_bar, p.front_setting)}; rear ${words(p.rear_bar, p.rear_setting)}`,
      };
    });
}
