import { describe, expect, it } from "vitest";
import { frameAt, leanInWords, matchCones, missing, moveMark, NOTHING_MARKED, planOf, sheetOf, timeAt } from "./model";

const SIZE = { width: 1920, height: 1080 };
const NEEDED = {
  "lamp left": [700, 500],
  "lamp right": [1100, 500],
  "tyre left": [690, 700],
  "tyre right": [1110, 700],
} as const;
const marked = () => ({
  ...NOTHING_MARKED,
  at: structuredClone(NEEDED) as unknown as Record<string, [number, number]>,
});

describe("marks", () => {
  it("ask for four and offer four more", () => {
    expect(planOf("tyre_contact").filter((p) => p.isNeeded)).toHaveLength(4);
    expect(planOf("tyre_contact")).toHaveLength(8);
    expect(missing(NOTHING_MARKED)).toEqual(["lamp left", "lamp right", "tyre left", "tyre right"]);
    expect(missing(marked())).toEqual([]);
  });
  it("send no pair of which one end is missing", () => {
    const m = marked();
    m.at["window left"] = [800, 300];
    const sheet = sheetOf(m, { trackMm: 1480, focalMm: null });
    expect(sheet.marks.map((x) => x.name)).not.toContain("window left");
    expect(sheet.marks).toHaveLength(4);
    expect(sheet.track_mm).toBe(1480);
  });
  it("stay inside the picture and lose their corner when moved by hand", () => {
    const m = { ...marked(), sd: { "lamp left": 0.3 } };
    const to = moveMark(m, "lamp left", [-4, 2000], SIZE);
    expect(to.at["lamp left"]).toEqual([0, 1079]);
    expect(to.sd).toEqual({});
    expect(m.sd).toEqual({ "lamp left": 0.3 });
  });
});

describe("two films on one time", () => {
  const cone = (time_s: number, is_left: boolean) => ({ time_s, is_left });
  it("count from the first cone that is passed on the same side", () => {
    const b = [cone(1, true), cone(3, false), cone(5, true)];
    const a = [cone(0.5, false), cone(2, true), cone(4, false), cone(6, true)];
    expect(matchCones(b, a)).toEqual({ before: [1, 3, 5], after: [2, 4, 6] });
    expect(matchCones(b, b)).toEqual({ before: [1, 3, 5], after: [1, 3, 5] });
    expect(matchCones(b, [])).toEqual({ before: [], after: [] });
  });
  it("go evenly from cone to cone and stop at the ends", () => {
    expect(timeAt([1, 3, 4], 0.5)).toBe(2);
    expect(timeAt([1, 3, 4], 1.5)).toBe(3.5);
    expect(timeAt([1, 3, 4], 9)).toBe(4);
    expect(timeAt([1, 3, 4], -1)).toBe(1);
    expect(timeAt([2], 0.7)).toBe(2);
    expect(timeAt([], 1)).toBe(0);
  });
});

describe("frames", () => {
  const frames = [0, 0.033, 0.066, 0.2].map((time_s) => ({ time_s }));
  it("are found by the nearest stamp, and not across a gap", () => {
    expect(frameAt(frames, 0.05)?.time_s).toBe(0.066);
    expect(frameAt(frames, 0.04)?.time_s).toBe(0.033);
    expect(frameAt(frames, 5)).toBeNull();
    expect(frameAt([], 0)).toBeNull();
  });
  it("say which way the body leans", () => {
    expect(leanInWords(2.34)).toBe("2.3° to the right");
    expect(leanInWords(-0.5)).toBe("0.5° to the left");
    expect(leanInWords(0.01)).toBe("upright");
  });
});
