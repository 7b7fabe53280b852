import { describe, expect, it } from "vitest";
import type { BumpResult, SineResult, SlalomMoment, StepMoment, StepResult } from "@/api/types";
import { bumpRows, delayOf, normalised, passes, sineLines, stepRows, verdictOf } from "./motionModel";

const about = (value: number, pm = 0.1) => ({ value, pm, low: value - pm, high: value + pm });

describe("verdicts", () => {
  it("call a change that nobody feels the same", () => {
    expect(verdictOf(about(0.005, 0.005), 0.02)).toBe("same");
  });
  it("call a change that may be nothing unclear", () => {
    expect(verdictOf(about(0.05, 0.06), 0.02)).toBe("unclear");
  });
  it("call a sure and sizeable change a change", () => {
    expect(verdictOf(about(-12, 2), 2)).toBe("changes");
  });
  it("have nothing to say about a car alone", () => {
    expect(verdictOf(null, 2)).toBe("alone");
  });
});

const step = (name: string, lean: number): StepResult["setups"][number] => ({
  name,
  yaw_rise_s: about(0.2, 0.02),
  lateral_rise_s: about(0.4, 0.02),
  roll_rise_s: about(0.45, 0.02),
  roll_delay_s: about(0.05, 0.01),
  yaw_overshoot_percent: about(8, 2),
  roll_overshoot_percent: about(4, 2),
  roll_steady_deg: about(lean, 0.1),
  roll_peak_deg: about(lean * 1.04, 0.1),
  smallest_wheel_load_n: about(1500, 80),
  trace: [],
});

it("a car alone has rows without changes", () => {
  const rows = stepRows({ meaning: "", setups: [step("a", 3)], changes: [] });
  expect(rows).toHaveLength(6);
  expect(rows.every((r) => r.after === null && r.verdict === "alone")).toBe(true);
});

it("no setups, no rows", () => {
  expect(stepRows({ meaning: "", setups: [], changes: [] })).toEqual([]);
  expect(bumpRows({ meaning: "", setups: [], changes: [] } as BumpResult)).toEqual([]);
});

it("a phase of 36 degrees at one hertz is a tenth of a second", () => {
  expect(delayOf(-36, 1)).toBeCloseTo(100, 9);
  expect(delayOf(-36, 2)).toBeCloseTo(50, 9);
});

it("points of a weave are gathered by setup", () => {
  const point = (setup: string, hz: number): SineResult["points"][number] => ({
    setup,
    frequency_hz: hz,
    roll_per_lateral_deg_per_g: about(6),
    roll_phase_deg: about(-10),
    yaw_gain_percent: about(100),
    yaw_phase_deg: about(-20),
    lateral_phase_deg: about(-30),
    roll_amplitude_deg: null,
    lateral_amplitude_g: null,
    roll_per_lateral_driven_deg_per_g: null,
  });
  const lines = sineLines({ meaning: "", modes: [], points: [point("a", 0.5), point("a", 1), point("b", 0.5)] });
  expect(lines.map((l) => [l.name, l.points.length])).toEqual([
    ["a", 2],
    ["b", 1],
  ]);
});

it("a level is passed between two samples", () => {
  const m = (time_s: number, roll_deg: number): StepMoment => ({
    time_s,
    steer_deg: 0,
    yaw_rate_deg_per_s: 0,
    lateral_g: 0,
    roll_deg,
  });
  expect(passes([m(0, 0), m(0.1, 2), m(0.2, 4)], (x) => x.roll_deg, 3)).toBeCloseTo(0.15, 9);
  expect(passes([m(0, 0), m(0.1, 2)], (x) => x.roll_deg, 3)).toBeNull();
});

it("lean and pull are brought to the same height", () => {
  const m = (time_s: number, roll_deg: number, lateral_g: number): SlalomMoment => ({
    time_s,
    x_m: 0,
    y_m: 0,
    heading_deg: 0,
    roll_deg,
    steer_deg: 0,
    lateral_g,
  });
  expect(normalised([m(0, -4, -0.8), m(1, 2, 0.8)])).toEqual([
    { t: 0, lean: -1, pull: -1 },
    { t: 1, lean: 0.5, pull: 1 },
  ]);
});
