import { describe, expect, it } from "vitest";
import type { TurnForecast } from "@/api/types";
import { cases, USUAL_LOADS, withCases } from "./loads";
import { endsFirst, gradientKnown, gripUsed, innerLoad, pointNear } from "./turn";

const i = (value: number, pm = 0.05) => ({ value, pm, low: value - pm, high: value + pm });
const turn = (gs: number[], limit = 0.9) =>
  ({
    name: "x",
    limit_g: i(limit),
    limited_by: "rear axle",
    understeer_gentle_deg_per_g: i(2),
    understeer_4_deg_per_g: i(2.5),
    understeer_6_deg_per_g: i(3),
    events: [],
    curve: gs.map((g) => ({
      lateral_g: g,
      front_grip_used_percent: 100 * g,
      rear_grip_used_percent: 90 * g,
      load_n: [3000 - 4000 * g, 3000, 2000 - 2000 * g, 2000],
    })),
  }) as unknown as TurnForecast;

describe("the way to the limit", () => {
  it("ends at its top and never shows a load below nothing", () => {
    const s = turn([0, 0.4, 0.8, 0.9, 0.85]);
    expect(gripUsed(s, "front").map(([g]) => g)).toEqual([0, 0.4, 0.8, 0.9]);
    for (const [, kg] of innerLoad(s, "front")) expect(kg).toBeGreaterThanOrEqual(0);
    expect(innerLoad(s, "rear")[1]![1]).toBeCloseTo(1200 / 9.80665, 9);
  });

  it("says the gradient only where the car gets to", () => {
    // 4 m/s² is 0.408 g and 6 m/s² 0.612 g.
    expect(gradientKnown(turn([0, 0.5], 0.5)).map((k) => k.of.value)).toEqual([2, 2.5]);
  });

  it("has no row of the table beyond it", () => {
    const s = turn([0, 0.4, 0.8]);
    expect(pointNear(s, 0.5)!.lateral_g).toBe(0.4);
    expect(pointNear(s, 0.9)).toBeNull();
    expect(endsFirst(s)).toMatch(/rear/);
  });
});

describe("load cases", () => {
  const list = cases(USUAL_LOADS, 2500);
  it("are the same setups with something aboard, or less grip", () => {
    const c = withCases(
      {
        car: { kind: "car/1", name: "x" },
        bars: [],
        setups: [{ name: "before" }, { name: "after", rear: { bar: "b" } }],
      },
      list,
    );
    expect(c.setups).toHaveLength(8);
    expect(new Set(c.setups.map((s) => s.name)).size).toBe(8);
    expect(c.setups[7]!.rear!.bar).toBe("b");
    expect(c.setups[7]!.rear!.grip).toBeDefined();
    expect(c.setups[6]!.front!.grip).toBeDefined();
    expect(c.setups[0]!.aboard).toEqual([]);
  });

  it("put the passenger on the other side from the driver", () => {
    const side = (driverSide: "left" | "right") =>
      (cases({ ...USUAL_LOADS, driverSide }, 2500)[1]!.aboard[0]!.left_of_centre_mm as { value: number }).value;
    expect(side("left")).toBeLessThan(0);
    expect(side("right")).toBeGreaterThan(0);
  });
});
