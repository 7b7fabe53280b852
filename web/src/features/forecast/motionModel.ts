// From the program's answers about motion to the rows and lines of the sheet.
import type { BumpResult, SineResult, SlalomMoment, StepMoment, StepResult } from "@/api/types";
import { type Interval, isSureOfSign } from "@/base/estimate";
import type { UnitKey } from "@/base/units";

export interface MotionRow {
  key: string;
  name: string;
  term?: string;
  before: Interval;
  after: Interval | null;
  unit: UnitKey;
  change: Interval | null;
  changeUnit: UnitKey;
  verdict: "changes" | "same" | "unclear" | "alone";
}

// What nobody can feel does not count as a change: 20 ms, 2 %, 2 points (our own choice, no source).
export function verdictOf(change: Interval | null, matters: number): MotionRow["verdict"] {
  if (!change) return "alone";
  if (Math.max(Math.abs(change.low), Math.abs(change.high)) < matters) return "same";
  return isSureOfSign(change) && Math.abs(change.value) >= matters ? "changes" : "unclear";
}

// People read hundredths of a second better in thousandths.
const inMs = (i: Interval): Interval => ({
  value: i.value * 1000,
  pm: i.pm * 1000,
  low: i.low * 1000,
  high: i.high * 1000,
});

export function stepRows(r: StepResult): MotionRow[] {
  const [a, b] = r.setups;
  const c = r.changes[0];
  if (!a) return [];
  const row = (
    key: string,
    name: string,
    term: string,
    of: (s: StepResult["setups"][number]) => Interval,
    change: Interval | undefined,
    unit: UnitKey,
    changeUnit: UnitKey,
    matters: number,
  ): MotionRow => ({
    key,
    name,
    term,
    before: of(a),
    after: b ? of(b) : null,
    unit,
    change: change ?? null,
    changeUnit,
    verdict: verdictOf(change ?? null, matters),
  });
  return [
    row(
      "yaw",
      "It begins to turn within",
      "yaw rise time",
      (s) => inMs(s.yaw_rise_s),
      c && inMs(c.yaw_rise_s),
      "ms",
      "ms",
      20,
    ),
    row(
      "side",
      "It corners within",
      "lateral rise time",
      (s) => inMs(s.lateral_rise_s),
      c && inMs(c.lateral_rise_s),
      "ms",
      "ms",
      20,
    ),
    row(
      "lean",
      "It has leaned within",
      "roll rise time",
      (s) => inMs(s.roll_rise_s),
      c && inMs(c.roll_rise_s),
      "ms",
      "ms",
      20,
    ),
    row(
      "late",
      "The lean comes later by",
      "roll delay",
      (s) => inMs(s.roll_delay_s),
      c && inMs(c.roll_delay_s),
      "ms",
      "ms",
      10,
    ),
    row(
      "peak",
      "It leans at most",
      "peak roll",
      (s) => s.roll_peak_deg,
      c?.roll_peak_change_percent,
      "deg",
      "percent",
      2,
    ),
    row(
      "over",
      "The lean swings past by",
      "overshoot",
      (s) => s.roll_overshoot_percent,
      c?.roll_overshoot_percent,
      "percent",
      "points",
      2,
    ),
  ];
}

export function bumpRows(r: BumpResult): MotionRow[] {
  const [a, b] = r.setups;
  const c = r.changes[0];
  if (!a) return [];
  const row = (
    key: string,
    name: string,
    of: (s: BumpResult["setups"][number]) => Interval,
    change: Interval | undefined,
    unit: UnitKey,
    term?: string,
  ): MotionRow => ({
    key,
    name,
    ...(term ? { term } : {}),
    before: of(a),
    after: b ? of(b) : null,
    unit,
    change: change ?? null,
    changeUnit: "percent",
    verdict: verdictOf(change ?? null, 2),
  });
  return [
    row(
      "two",
      "Both wheels: jolt",
      (s) => s.both_wheels.seat_vertical_m_per_s2,
      c?.both_wheels_vertical_percent,
      "m_per_s2",
    ),
    row(
      "one-tip",
      "One wheel: tips you at",
      (s) => s.one_wheel.roll_rate_deg_per_s,
      c?.one_wheel_roll_rate_percent,
      "deg_per_s",
      "roll rate",
    ),
    row(
      "one-shove",
      "One wheel: shoves you sideways",
      (s) => s.one_wheel.seat_lateral_m_per_s2,
      c?.one_wheel_lateral_percent,
      "m_per_s2",
    ),
    row(
      "one-front",
      "One front wheel, firmness",
      (s) => s.front.one_wheel_rate_n_per_mm,
      c?.one_wheel_front_percent,
      "n_per_mm",
      "one-wheel rate",
    ),
    row(
      "one-rear",
      "One rear wheel, firmness",
      (s) => s.rear.one_wheel_rate_n_per_mm,
      c?.one_wheel_rear_percent,
      "n_per_mm",
      "one-wheel rate",
    ),
    row(
      "road",
      "An ordinary road shakes you",
      (s) => s.comfort_total_m_per_s2,
      c?.comfort_total_percent,
      "m_per_s2",
      "ISO 2631-1",
    ),
    row("damping", "Roll dies out", (s) => s.roll_damping, c?.roll_damping_percent, "", "damping ratio"),
  ];
}

// One line of the sine plot: lean per g against steering frequency, for one setup.
export interface SineLine {
  name: string;
  points: { hz: number; gain: Interval; delayMs: number }[];
}

// A phase is a delay: 36° at 1 Hz is a tenth of a second.
export const delayOf = (phaseDeg: number, hz: number) => (-phaseDeg / 360 / hz) * 1000;

export function sineLines(r: SineResult): SineLine[] {
  const lines: SineLine[] = [];
  for (const p of r.points) {
    let line = lines.find((l) => l.name === p.setup);
    if (!line) {
      line = { name: p.setup, points: [] };
      lines.push(line);
    }
    line.points.push({
      hz: p.frequency_hz,
      gain: p.roll_per_lateral_deg_per_g,
      delayMs: delayOf(p.roll_phase_deg.value, p.frequency_hz),
    });
  }
  return lines;
}

// When a rising trace first passes a share of its settled value, between its samples.
export function passes(trace: readonly StepMoment[], of: (m: StepMoment) => number, level: number): number | null {
  for (let i = 1; i < trace.length; i++) {
    const [a, b] = [of(trace[i - 1]!), of(trace[i]!)];
    if (a < level && b >= level) {
      const k = (level - a) / (b - a || 1);
      return trace[i - 1]!.time_s + k * (trace[i]!.time_s - trace[i - 1]!.time_s);
    }
  }
  return null;
}

// Lean and lateral g over their largest values, so that one lies on the other but for the delay.
export function normalised(replay: readonly SlalomMoment[]): { t: number; lean: number; pull: number }[] {
  const lean = Math.max(1e-9, ...replay.map((m) => Math.abs(m.roll_deg)));
  const pull = Math.max(1e-9, ...replay.map((m) => Math.abs(m.lateral_g)));
  return replay.map((m) => ({ t: m.time_s, lean: m.roll_deg / lean, pull: m.lateral_g / pull }));
}
