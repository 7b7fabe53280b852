import { describe, expect, it } from "vitest";
import { type CarShape, rearView } from "./carShape";
import { sideView } from "./carSide";

const HATCH: CarShape = { kind: "hatch", track: 1460, width: 1720, height: 1430, wheelbase: 2490, clearance: 165 };
const VAN: CarShape = { kind: "van", track: 1600, width: 1900, height: 2060, wheelbase: 3050, clearance: 190 };
const pairs = (d: string) =>
  [...d.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), -Number(m[2])] as const);

describe.each([
  ["hatchback", HATCH],
  ["van", VAN],
])("the drawing of a %s", (_, car) => {
  const body = rearView(car)
    .body.filter((s) => s.pen === "bold")
    .flatMap((s) => pairs(s.d));

  it("is as high as the car and stands clear of the ground by its clearance", () => {
    const heights = body.map(([, y]) => y);
    expect(Math.max(...heights)).toBe(car.height);
    expect(Math.min(...heights)).toBe(car.clearance);
  });

  it("is as wide as the car within a hundredth", () => {
    const reach = Math.max(...body.map(([x]) => x));
    expect(Math.abs(reach / (car.width / 2) - 1)).toBeLessThan(0.01); // control points stand 0.6 % outside the curve
  });

  it("is the same left and right", () => {
    for (const [x, y] of body)
      expect(body.some(([a, b]) => Math.abs(a + x) < 0.02 && Math.abs(b - y) < 0.02)).toBe(true);
  });

  it("stands on wheels a track apart", () => {
    const wheels = rearView(car)
      .wheels.filter((s) => s.pen === "mid")
      .map((s) => {
        const xs = pairs(s.d).map(([x]) => x);
        return (Math.min(...xs) + Math.max(...xs)) / 2;
      });
    expect(wheels[1]! - wheels[0]!).toBeCloseTo(car.track, 2);
  });

  it("has its axles a wheelbase apart in the side view", () => {
    const side = sideView(car);
    expect(side.rearAxle - side.frontAxle).toBe(car.wheelbase);
    expect(side.length).toBeGreaterThan(side.rearAxle);
  });
});

it("grows with each of its numbers", () => {
  const reach = (c: CarShape, axis: 0 | 1) =>
    Math.max(
      ...rearView(c)
        .body.flatMap((s) => pairs(s.d))
        .map((p) => p[axis]),
    );
  expect(reach({ ...HATCH, width: 1900 }, 0)).toBeGreaterThan(reach(HATCH, 0));
  expect(reach({ ...HATCH, height: 1700 }, 1)).toBeGreaterThan(reach(HATCH, 1));
});
