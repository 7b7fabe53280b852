import { describe, expect, it } from "vitest";
import { arrow, hatch, mirrored, polyline, twice } from "./path";

// Every number pair of a path, y up again.
const pairs = (d: string) =>
  [...d.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), -Number(m[2])] as const);

describe("paths", () => {
  it("mirrors the right half of an outline to the left, point for point", () => {
    const points = pairs(
      mirrored(
        [0, 10],
        [
          [50, 10],
          [60, 20, 70, 30, 40, 90],
          [0, 100],
        ],
      ),
    );
    for (const [x, y] of points) expect(points.some(([a, b]) => a === -x && b === y)).toBe(true);
  });

  it("draws the same line on both sides of the middle", () => {
    const points = pairs(twice([3, 4], [[5, 6]]));
    expect(points).toEqual([
      [3, 4],
      [5, 6],
      [-3, 4],
      [-5, 6],
    ]);
  });

  it("keeps hatching inside its rectangle in both directions", () => {
    for (const direction of [1, -1] as const) {
      const points = pairs(hatch(10, 20, 100, 40, 7, direction));
      expect(points.length).toBeGreaterThan(20);
      for (const [x, y] of points) {
        // Half a printed digit (0.01) of slack on each side.
        expect(x).toBeGreaterThanOrEqual(10 - 0.005);
        expect(x).toBeLessThanOrEqual(110 + 0.005);
        expect(y).toBeGreaterThanOrEqual(20 - 0.005);
        expect(y).toBeLessThanOrEqual(60 + 0.005);
      }
    }
  });

  it("hatches twice as many strokes at half the distance", () => {
    const count = (spacing: number) => hatch(0, 0, 1000, 10, spacing).split("M").length - 1;
    expect(Math.abs(count(5) - 2 * count(10))).toBeLessThanOrEqual(2); // strokes cut off at the two ends
  });

  it("stops at a spacing of nothing instead of hatching for ever", () => {
    expect(hatch(0, 0, 10, 10, 0)).toBe("");
    expect(hatch(0, 0, 10, 10, Number.NaN)).toBe("");
  });

  it("points an arrow at its point", () => {
    const [tip] = pairs(arrow(5, 7, Math.PI / 3, 1));
    expect(tip).toEqual([5, 7]);
  });

  it("draws nothing from nothing", () => {
    expect(polyline([])).toBe("");
  });
});
