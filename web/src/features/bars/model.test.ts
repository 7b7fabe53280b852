import { describe, expect, it } from "vitest";
import { fromSimple, USUAL } from "@/api/simpleBar";
import type { BarRateResult, BarSettingResult } from "@/api/types";
import { atWheel } from "./BarAnswer";
import { fromStraight, ratesAtHoles, resultOf, stressAt } from "./model";

const BAR = fromSimple(USUAL, "mine", "rear");
const answer = {
  settings: ["1/1", "2/2", "3/3", "1/2"].map((id, k) => ({
    id,
    rate_relative_n_per_mm: { value: 10 + k, pm: 1, low: 0, high: 0 },
  })),
} as unknown as BarRateResult;

describe("the chosen setting", () => {
  it("is found by its two holes", () => {
    expect(resultOf(BAR, answer, { left: "L2", right: "R2" })!.id).toBe("2/2");
    expect(resultOf(BAR, answer, { left: "L1", right: "R2" })!.id).toBe("1/2");
    expect(resultOf(BAR, answer, { left: "L3", right: "R1" })).toBeNull();
    expect(resultOf(BAR, null, { left: "L1", right: "R1" })).toBeNull();
  });
});

describe("the rates written at the holes", () => {
  it("change both ends together while they are the same", () => {
    const list = ratesAtHoles(BAR, answer, { left: "L2", right: "R2" }, "left", true);
    expect(list.map((h) => h.result?.id)).toEqual(["1/1", "2/2", "3/3"]);
  });

  it("change one end where left and right differ", () => {
    const list = ratesAtHoles(BAR, answer, { left: "L1", right: "R2" }, "left", false);
    expect(list.map((h) => h.ends)).toEqual([
      { left: "L1", right: "R2" },
      { left: "L2", right: "R2" },
      { left: "L3", right: "R2" },
    ]);
  });

  it("stand in the order of the arm, nearest the straight first", () => {
    const list = ratesAtHoles(BAR, answer, { left: "L2", right: "R2" }, "left", true);
    expect(fromStraight(BAR, "left", list).map((h) => h.label)).toEqual(["3", "2", "1"]);
  });
});

describe("stress along the bar", () => {
  const result = {
    along: [
      { station_mm: 0, von_mises_mpa_per_mm: 0 },
      { station_mm: 100, von_mises_mpa_per_mm: 10 },
    ],
  } as unknown as BarSettingResult;

  it("grows in proportion to travel", () => {
    expect(stressAt(result, 30)!(50)).toBeCloseTo(150, 12);
    expect(stressAt(result, 60)!(50)).toBeCloseTo(300, 12);
  });

  it("is nothing where the program gave none", () => {
    expect(stressAt(null, 30)).toBeNull();
    expect(stressAt({ along: [] } as unknown as BarSettingResult, 30)).toBeNull();
  });
});

describe("at the wheel", () => {
  it("takes the ratio twice, and its doubt twice", () => {
    // 80 ± 4 N/mm at ratio 0.5 ± 0.05: 20 N/mm; relative ± √(0.05² + (2·0.1)²) = 0.2062, by hand.
    const w = atWheel({ value: 80, pm: 4 }, { value: 0.5, pm: 0.05 });
    expect(w.value).toBeCloseTo(20, 12);
    expect(w.pm).toBeCloseTo(20 * Math.sqrt(0.05 ** 2 + 0.2 ** 2), 12);
  });
});
