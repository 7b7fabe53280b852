import { describe, expect, it } from "vitest";
import type { CompareResult, HolePoint, LeanPoint, SetupForecast } from "@/api/types";
import { barKey, changeRows, isMixed, mapPoints, pointAt, shortHole, stanceAt } from "./model";

const i = (value: number, pm = 0) => ({ value, pm, low: value - pm, high: value + pm });
const axle = { left_load_n: i(1000), right_load_n: i(3000), wheel_lift_g: i(1) } as SetupForecast["front"];
const curve = [0, 0.4, 0.8].map(
  (g): LeanPoint => ({
    lateral_g: g,
    roll_deg: 5 * g,
    steer_deg: 0,
    front_left_n: 2000 - 1000 * g,
    front_right_n: 2000 + 1000 * g,
    rear_left_n: Math.max(0, 500 - 1000 * g),
    rear_right_n: 500 + 900 * g,
  }),
);
const setup = (extra: Partial<SetupForecast> = {}) =>
  ({ name: "x", roll_gradient_deg_per_g: i(5, 0.5), front: axle, rear: axle, curve, ...extra }) as SetupForecast;

describe("a car at one g", () => {
  it("leans and loads as the curve says, straight between its points", () => {
    const s = stanceAt(setup(), 0.6, 0.7);
    expect(s.leanDeg).toBeCloseTo(3, 12);
    expect(s.loads.frontRight).toBeCloseTo(2600 / 9.80665, 9);
    expect(s.leanPm).toBeCloseTo(0.3, 12);
  });

  it("stands still beyond the limit, and says so", () => {
    const s = stanceAt(setup(), 0.95, 0.7);
    expect(s.isBeyondLimit).toBe(true);
    expect(s.leanDeg).toBeCloseTo(4, 12);
    expect(stanceAt(setup(), 0.8, 0.7).isBeyondLimit).toBe(false);
  });

  it("never shows a load below nothing, and loses no weight, without a curve", () => {
    const bare = setup({ curve: [] });
    for (const g of [0, 0.3, 0.7, 1.5]) {
      const { loads } = stanceAt(bare, g, 0.7);
      expect(loads.frontLeft).toBeGreaterThanOrEqual(0);
      expect(loads.frontLeft + loads.frontRight).toBeCloseTo(4000 / 9.80665, 9);
    }
    expect(stanceAt(bare, 0.7, 0.7).loads.frontRight).toBeCloseTo(3000 / 9.80665, 9);
  });

  it("finds the ends of the curve", () => {
    expect(pointAt([], 0.3)).toBeNull();
    expect(pointAt(curve, -1)).toBe(curve[0]);
    expect(pointAt(curve, 9)).toBe(curve[2]);
  });
});

describe("what changes", () => {
  const rowsFor = (lean: ReturnType<typeof i>) => {
    const changes = new Proxy({ roll_gradient_change_percent: lean } as Record<string, unknown>, {
      get: (t, k) => t[k as string] ?? i(0),
    });
    const full = new Proxy(setup() as unknown as Record<string, unknown>, { get: (t, k) => t[k as string] ?? i(1) });
    return changeRows({ setups: [full, full], changes: [changes] } as unknown as CompareResult);
  };
  const verdictOf = (lean: ReturnType<typeof i>) => rowsFor(lean).find((r) => r.key === "lean")!.verdict;

  it("is a change only when its sign is sure and it is large enough to matter", () => {
    expect(verdictOf(i(-12, 1.3))).toBe("changes");
    expect(verdictOf(i(-1, 0.4))).toBe("same"); // sure, but nobody feels one per cent
    expect(verdictOf(i(-6, 8))).toBe("unclear"); // may be nothing
    expect(verdictOf(i(0.2, 0.3))).toBe("same");
  });

  it("keeps one row for each thing that is asked about", () => {
    const keys = rowsFor(i(0)).map((r) => r.key);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys).toContain("limit");
  });

  it("finds every figure in the answer, with its unit", () => {
    const rows = changeRows({
      setups: [0, 1].map(() => ({
        ...setup(),
        front_load_transfer_share_percent: i(55),
        understeer_gradient_deg_per_g: i(2),
        roll_frequency_hz: i(1.6),
        limit_g: i(0.9),
        front: { wheel_lift_g: i(1.2), one_wheel_rate_n_per_mm: i(25) },
        rear: { wheel_lift_g: i(1), one_wheel_rate_n_per_mm: i(21) },
      })),
      changes: [
        {
          roll_gradient_change_percent: i(-12),
          front_load_transfer_share_percent: i(-5),
          understeer_gradient_deg_per_g: i(-0.3),
          rear_wheel_lift_g: i(-0.1),
          front_wheel_lift_g: i(0.1),
          one_wheel_rate_rear_change_percent: i(20),
          one_wheel_rate_front_change_percent: i(0),
          roll_frequency_change_percent: i(7),
          limit_g: i(0.02),
        },
      ],
    } as unknown as CompareResult);
    expect(rows.every((r) => r.before && r.after && r.change)).toBe(true);
    expect(rows.map((r) => r.unit)).toEqual([
      "percent",
      "points",
      "deg_per_g",
      "g",
      "g",
      "percent",
      "percent",
      "percent",
      "g",
    ]);
    expect(rows.map((r) => r.beforeUnit)).toEqual([
      "deg_per_g",
      "percent",
      "deg_per_g",
      "g",
      "g",
      "n_per_mm",
      "n_per_mm",
      "hz",
      "g",
    ]);
  });

  it("has nothing to say about one setup alone", () => {
    expect(changeRows({ setups: [setup()], changes: [] } as unknown as CompareResult)).toEqual([]);
  });
});

describe("the map", () => {
  const point = (front: string, rear: string): HolePoint =>
    ({
      front_bar: front ? "f" : "",
      front_setting: front,
      rear_bar: rear ? "r" : "",
      rear_setting: rear,
      roll_gradient_deg_per_g: i(5),
      front_load_transfer_share_percent: i(55),
      cautions: [],
    }) as unknown as HolePoint;

  it("names holes as people say them", () => {
    expect(shortHole("", "", [])).toBe("0");
    expect(shortHole("f", "2/2", ["f"])).toBe("2");
    expect(shortHole("f", "1/2", ["f"])).toBe("1·2");
  });

  it("give each of several bars a letter, with a key that says which", () => {
    expect(shortHole("g", "2/2", ["f", "g"])).toBe("B2");
    expect(shortHole("f", "1/2", ["f", "g"])).toBe("A1·2");
    expect(barKey(["f", "g"], ["r"])).toEqual([
      { letter: "A", axle: "front", bar: "f" },
      { letter: "B", axle: "front", bar: "g" },
    ]);
  });

  it("shows mixed holes only when they are asked for, and always the bar that is fitted", () => {
    const all = [point("", ""), point("1/1", "2/2"), point("1/2", "2/2")];
    expect(mapPoints(all, ["f"], ["r"], false).map((p) => p.id)).toEqual(["0/0", "1/2"]);
    expect(mapPoints(all, ["f"], ["r"], true).map((p) => p.id)).toEqual(["0/0", "1/2", "1·2/2"]);
    expect(isMixed("")).toBe(false);
  });
});
