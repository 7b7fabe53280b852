import { describe, expect, it } from "vitest";
import type { SlalomForecast, SlalomMoment } from "@/api/types";
import { durationOf, hitsOf, momentAt } from "./replay";

const moment = (time_s: number): SlalomMoment => ({
  time_s,
  x_m: 15 * time_s,
  y_m: Math.sin(time_s),
  heading_deg: 0,
  roll_deg: time_s,
  steer_deg: 0,
  lateral_g: 0,
});
const replay = [0, 0.05, 0.1].map(moment);

describe("the replay", () => {
  it("stands where the car is between two moments", () => {
    expect(momentAt(replay, 0.075)!.x_m).toBeCloseTo(15 * 0.075, 12);
  });

  it("waits at the start and stays at the end", () => {
    expect(momentAt(replay, -1)).toBe(replay[0]);
    expect(momentAt(replay, 99)).toBe(replay[2]);
    expect(momentAt([], 0)).toBeNull();
  });

  it("lasts as long as the slower car, and knows which cones fall", () => {
    const run = (end: number, clearances: number[]) =>
      ({
        replay: [moment(0), moment(end)],
        passes: clearances.map((clearance_mm) => ({ clearance_mm })),
      }) as unknown as SlalomForecast;
    expect(durationOf([run(7, []), run(8, [])])).toBe(8);
    expect(durationOf([])).toBe(0);
    expect(hitsOf(run(7, [120, -5, 30]))).toEqual([1]);
  });
});
