import { describe, expect, it } from "vitest";
import { joined } from "./HoleMap";
import { thin } from "./RollTrace";
import { scale, span, tickDecimals, ticks } from "./scale";
import { spread } from "./spread";
import { hatchSpacing } from "./stressHatch";

describe("axes", () => {
  it("puts ticks at 1, 2 or 5 times a power of ten, inside the range", () => {
    expect(ticks(0, 1, 5)).toEqual([0, 0.2, 0.4, 0.6, 0.8, 1]);
    expect(ticks(-7, 7, 7)).toEqual([-6, -4, -2, 0, 2, 4, 6]);
    expect(ticks(3.7, 5.8, 5)).toEqual([4, 4.5, 5, 5.5]);
  });

  it("writes ticks with just enough decimals to tell them apart", () => {
    for (const [a, b] of [
      [0, 1],
      [3.7, 5.8],
      [0, 900],
      [-0.02, 0.03],
    ] as const) {
      const list = ticks(a, b, 5);
      const texts = list.map((v) => v.toFixed(tickDecimals(list)));
      expect(new Set(texts).size).toBe(list.length);
      list.forEach((v, i) => {
        expect(Number(texts[i])).toBeCloseTo(v, 9);
      });
    }
  });

  it("does not hang or fail on a range of nothing", () => {
    expect(ticks(5, 5, 5)).toEqual([5]);
    expect(span([])).toEqual([0, 1]);
    expect(Number.isFinite(scale(2, 2, 0, 100)(2))).toBe(true);
  });
});

describe("the trace", () => {
  it("keeps every peak when there are more points than pixels", () => {
    const time = Array.from({ length: 10000 }, (_, i) => i);
    const rollDeg = time.map((i) => (i === 7777 ? 50 : i === 1234 ? -40 : Math.sin(i)));
    const kept = thin({ time, rollDeg }, 200);
    expect(kept.length).toBeLessThanOrEqual(400);
    expect(kept.some(([, v]) => v === 50)).toBe(true);
    expect(kept.some(([, v]) => v === -40)).toBe(true);
    for (let i = 1; i < kept.length; i++) expect(kept[i]![0]).toBeGreaterThan(kept[i - 1]![0]);
  });
});

describe("hole buttons in space", () => {
  it("stand at least a finger apart in a group and inside the picture", () => {
    const box = { width: 390, height: 230 };
    const holes = [0.2, 0.21, 0.22]
      .map((x) => ({ group: "left", x, y: 0.3 }))
      .concat([0.8, 0.81, 0.82].map((x) => ({ group: "right", x, y: 0.8 })));
    const placed = spread(holes, box);
    for (const p of placed) {
      expect(p.x).toBeGreaterThanOrEqual(22);
      expect(p.x).toBeLessThanOrEqual(box.width - 22);
      expect(p.y).toBeGreaterThanOrEqual(22);
      expect(p.y).toBeLessThanOrEqual(box.height - 22);
    }
    for (let i = 0; i < placed.length; i++) {
      for (let k = 0; k < i; k++) {
        // 44 px: the smallest target of the look.
        expect(
          Math.max(Math.abs(placed[i]!.x - placed[k]!.x), Math.abs(placed[i]!.y - placed[k]!.y)),
        ).toBeGreaterThanOrEqual(44);
      }
    }
  });
});

describe("stress hatching", () => {
  it("gets closer with stress and never closes up", () => {
    let last = Number.POSITIVE_INFINITY;
    for (let mpa = 20; mpa < 2000; mpa += 20) {
      const spacing = hatchSpacing(mpa, false);
      expect(spacing).toBeLessThanOrEqual(last);
      expect(spacing).toBeGreaterThanOrEqual(2.6);
      last = spacing;
    }
  });

  it("stays open on a thin bar in glare", () => {
    expect(hatchSpacing(900, true, 12)).toBeGreaterThan(hatchSpacing(900, false, 40));
  });
});

describe("the hole map", () => {
  it("joins each front and each rear hole once, from less to more front share", () => {
    const points = ["1", "2"].flatMap((f) =>
      ["1", "2", "3"].map((r) => ({ id: `${f}/${r}`, front: f, rear: r, lean: 5, share: 60 - Number(r) + Number(f) })),
    );
    const lines = joined(points, "front");
    expect(lines).toHaveLength(2);
    for (const l of lines)
      for (let i = 1; i < l.points.length; i++) expect(l.points[i]!.share).toBeGreaterThan(l.points[i - 1]!.share);
    expect(joined(points, "rear")).toHaveLength(3);
  });
});
