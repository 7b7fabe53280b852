import { describe, expect, it } from "vitest";
import { along, lengthOf, nearest, sampleLine, twisted } from "./barLine";

const U = (radius: number) => [
  { point: [-280, -440, 0] as const, bendRadius: null },
  { point: [0, -440, 0] as const, bendRadius: radius },
  { point: [0, 440, 0] as const, bendRadius: radius },
  { point: [-280, 440, 0] as const, bendRadius: null },
];

describe("the bar's centreline", () => {
  it("is as long as straight legs and arcs together", () => {
    const r = 45;
    const exact = 2 * (280 - r) + (880 - 2 * r) + 2 * (Math.PI / 2) * r; // closed form of a U with right angles
    // Chords of at most 2 mm on a 45 mm arc are short by (2/45)²/24 = 8e-5 of the arc's 141 mm: 0.012 mm.
    expect(Math.abs(lengthOf(sampleLine(U(r), 2)) - exact)).toBeLessThan(0.02);
  });

  it("keeps sharp corners where the radius is nothing", () => {
    expect(lengthOf(sampleLine(U(0), 5))).toBeCloseTo(2 * 280 + 880, 9);
  });

  it("stays within its corners and keeps arcs at their radius from the centre", () => {
    const r = 45;
    const arc = sampleLine(U(r), 2).filter((q) => q.p[0] > -r && q.p[1] < -440 + r);
    expect(arc.length).toBeGreaterThan(10);
    for (const q of arc) {
      const off = Math.hypot(q.p[0] + r, q.p[1] + 440 - r) - r;
      // Points between arc points lie on chords: inside by at most step²/(8 r) = 4/(360) mm.
      expect(Math.abs(off)).toBeLessThan(0.012);
    }
  });

  it("takes the largest arc that fits where the legs are too short", () => {
    const line = sampleLine([
      { point: [0, 0, 0], bendRadius: null },
      { point: [10, 0, 0], bendRadius: 500 },
      { point: [10, 10, 0], bendRadius: null },
    ]);
    for (const q of line) for (const v of q.p) expect(Number.isFinite(v)).toBe(true);
  });

  it("survives three corners on one line", () => {
    const line = sampleLine([
      { point: [0, 0, 0], bendRadius: null },
      { point: [0, 50, 0], bendRadius: 30 },
      { point: [0, 100, 0], bendRadius: null },
    ]);
    expect(lengthOf(line)).toBeCloseTo(100, 9);
  });

  it("lifts the left end and lowers the right one by the same, and turns nothing in the middle", () => {
    const line = sampleLine(U(45));
    const shape = twisted(line, [-300, 300], 0.2);
    const [right, left] = [shape[0]!, shape.at(-1)!];
    expect(left[2]).toBeCloseTo(280 * Math.sin(0.2), 9);
    expect(right[2]).toBeCloseTo(-280 * Math.sin(0.2), 9);
    const middle = nearest(line, [0, 0, 0]);
    expect(Math.abs(shape[middle]![2])).toBeLessThan(1e-9);
  });

  it("keeps distances along the straight's axis when it twists", () => {
    const line = sampleLine(U(45));
    twisted(line, [-300, 300], 0.3).forEach((p, i) => {
      const before = line[i]!.p;
      expect(p[1]).toBe(before[1]);
      expect(Math.hypot(p[0], p[2])).toBeCloseTo(Math.hypot(before[0], before[2]), 9);
    });
  });

  it("reads a table of values along the line in straight steps", () => {
    const table = [
      [0, 0],
      [10, 100],
      [20, 50],
    ] as const;
    expect(along(table, 5)).toBe(50);
    expect(along(table, 15)).toBe(75);
    expect(along(table, -1)).toBe(0);
    expect(along(table, 99)).toBe(50);
    expect(along([], 3)).toBe(0);
  });
});
