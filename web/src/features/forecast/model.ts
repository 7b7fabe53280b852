// From the program's answer to what the sheet shows: loads and lean at a chosen g, what changes and what does not.
import { readAt } from "@/api/documents";
import { holeInWords } from "@/api/garage";
import type { CompareResult, HolePoint, LeanPoint, SetupForecast } from "@/api/types";
import { type Interval, isSureOfSign } from "@/base/estimate";
import { type UnitKey, unitOfKey } from "@/base/units";
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

// What is compared: where it stands in the forecast and in the change, and the change below which it cannot be felt or
// does not count in practice (our own choice, no source). Keys carry their unit.
const ROWS: readonly (readonly [
  key: string,
  name: string,
  term: string,
  of: string,
  change: string,
  matters: number,
])[] = [
  ["lean", "Lean", "roll gradient", "roll_gradient_deg_per_g", "roll_gradient_change_percent", 2],
  [
    "share",
    "Front axle’s part of the load shift",
    "TLLTD",
    "front_load_transfer_share_percent",
    "front_load_transfer_share_percent",
    0.5,
  ],
  ["push", "Pushes wide", "understeer gradient", "understeer_gradient_deg_per_g", "understeer_gradient_deg_per_g", 0.1],
  ["rear-lift", "Inner rear wheel lifts at", "", "rear.wheel_lift_g", "rear_wheel_lift_g", 0.02],
  ["front-lift", "Inner front wheel lifts at", "", "front.wheel_lift_g", "front_wheel_lift_g", 0.02],
  [
    "rear-bump",
    "One rear wheel over a bump, firmer by",
    "",
    "rear.one_wheel_rate_n_per_mm",
    "one_wheel_rate_rear_change_percent",
    2,
  ],
  [
    "front-bump",
    "One front wheel over a bump, firmer by",
    "",
    "front.one_wheel_rate_n_per_mm",
    "one_wheel_rate_front_change_percent",
    2,
  ],
  ["answer", "How quickly it rolls", "roll frequency", "roll_frequency_hz", "roll_frequency_change_percent", 2],
  ["limit", "Grip in a long corner", "limit", "limit_g", "limit_g", 0.01],
];

export function changeRows(result: CompareResult): ChangeRow[] {
  const [before, after] = result.setups;
  const change = result.changes[0];
  if (!before || !after || !change) return [];
  return ROWS.map(([key, name, term, of, changeOf, matters]) => {
    const c = readAt(change, changeOf) as Interval;
    const [beforeUnit, own] = [unitOfKey(of), unitOfKey(changeOf)];
    return {
      key,
      name,
      term: term || undefined,
      before: readAt(before, of) as Interval,
      after: readAt(after, of) as Interval,
      change: c,
      beforeUnit,
      // A difference of two percentages is counted in points.
      unit: of === changeOf && own === "percent" ? "points" : own,
      verdict: judge(c, matters),
    };
  });
}

function judge(c: Interval, matters: number): ChangeRow["verdict"] {
  if (Math.max(Math.abs(c.low), Math.abs(c.high)) < matters) return "same";
  return isSureOfSign(c) && Math.abs(c.value) >= matters ? "changes" : "unclear";
}

// ---------------------------------------------------------------- the map
// A short name for a hole on the map: 0 is the fitted bar, 2 both ends in hole 2, 1·2 left 1 and right 2. Where an axle
// has several bars, each has a letter, and a key says which: B2.
export function shortHole(bar: string, setting: string, barsOfAxle: readonly string[]): string {
  if (!bar) return "0";
  const [l, r] = setting.split("/");
  return `${letterOf(bar, barsOfAxle)}${l === r ? l : `${l}·${r}`}`;
}

const letterOf = (bar: string, barsOfAxle: readonly string[]) =>
  barsOfAxle.length > 1 ? String.fromCharCode(65 + Math.max(0, barsOfAxle.indexOf(bar))) : "";

export function barKey(
  front: readonly string[],
  rear: readonly string[],
): { letter: string; axle: string; bar: string }[] {
  return [
    { axle: "front", list: front },
    { axle: "rear", list: rear },
  ].flatMap(({ axle, list }) =>
    list.length > 1 ? list.map((bar) => ({ letter: letterOf(bar, list), axle, bar })) : [],
  );
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
