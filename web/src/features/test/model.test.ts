import { describe, expect, it } from "vitest";
import type { Flag, Outing, Pass, TestProveResult } from "@/api/types";
import { equivalence, flagList, headline, isTakenOut, marksOf, secondsOf, stretchOf, stripOf } from "./model";

const pass = (begin_s: number, end_s: number, is_used = true): Pass =>
  ({
    begin_s,
    end_s,
    is_used,
    cones: [
      { time_s: begin_s, lateral_g: 0.5, roll_deg: 2.6 },
      { time_s: end_s, lateral_g: -0.5, roll_deg: -2.5 },
    ],
  }) as Pass;
const outing = (passes: Pass[], flags: Flag[] = []) =>
  ({
    passes,
    flags,
    traces: passes.map((_, k) => ({
      pass: k,
      start_s: 0,
      step_s: 0.1,
      roll_deg: [0, 1, 2, 1, 0],
      lateral_g: [0, 0.2, 0.4, 0.2, 0],
    })),
  }) as unknown as Outing;

describe("runs", () => {
  it("are known again by their stretch when their numbers have moved", () => {
    const out = [stretchOf(pass(10, 20))];
    expect(isTakenOut(pass(10.2, 19.8), out)).toBe(true);
    expect(isTakenOut(pass(20, 30), out)).toBe(false);
  });

  it("give one mark a cone, crossed where the run is left out", () => {
    const marks = marksOf("before", outing([pass(0, 5), pass(8, 12, false)]));
    expect(marks).toHaveLength(4);
    expect(marks.filter((m) => m.isLeftOut)).toHaveLength(2);
    expect(marksOf("after", null)).toEqual([]);
  });

  it("stand one after the other on the time line without overlap", () => {
    const { trace, passes } = stripOf(outing([pass(0, 5), pass(800, 805)]));
    for (let k = 1; k < trace.time.length; k++) expect(trace.time[k]!).toBeGreaterThanOrEqual(trace.time[k - 1]!);
    expect(passes[1]!.from).toBeGreaterThan(passes[0]!.to);
    expect(trace.time.length).toBe(trace.rollDeg.length);
  });
});

describe("the headline", () => {
  const proof = (answer: TestProveResult["answer"], value: number, is_practical = true) =>
    ({
      answer,
      is_practical,
      change_percent: { value, pm: 1, low: value - 1, high: value + 1 },
      difference_deg_per_g: { value, pm: 1, low: 0, high: 0 },
    }) as TestProveResult;

  it("says less, more, nothing and cannot tell with the same calm", () => {
    expect(headline(proof("changed", -20))).toBe("It leans less. Sure of it.");
    expect(headline(proof("changed", 15))).toBe("It leans more. Sure of it.");
    expect(headline(proof("changed", -3, false))).toBe("It leans less. Sure, but little.");
    expect(headline(proof("no_change", 0))).toBe("No change that you could notice.");
    expect(headline(proof("cannot_tell", -8))).toBe("Cannot tell from these drives.");
  });
});

describe("flags", () => {
  const flag = (code: string, text: string, is_serious = false): Flag => ({ code, text, is_serious });

  it("say whose recording they are about, and what both have in common only once", () => {
    const before = outing([], [flag("b", "gaps", true), flag("c", "one direction")]);
    const after = outing([], [flag("b", "gaps", true), flag("d", "slipped")]);
    const list = flagList([flag("a", "short")], before, after);
    expect(list.map((f) => f.text)).toEqual([
      "Short",
      "Before and after: gaps",
      "Before: one direction",
      "After: slipped",
    ]);
    expect(list[1]!.kind).toBe("out");
  });

  it("leave to the comparison what it says itself", () => {
    expect(flagList([flag("b", "gaps in both")], outing([], [flag("b", "gaps")]), null)).toHaveLength(1);
  });

  it("say so when nothing is wrong", () => {
    expect(flagList([], outing([]), null)).toEqual([expect.objectContaining({ kind: "good" })]);
  });
});

describe("a null result", () => {
  const proof = (bound: number | null, answer: TestProveResult["answer"] = "no_change") =>
    ({ answer, no_change_larger_than_percent: bound }) as TestProveResult;

  it("says what size of change is ruled out, and whether that is small enough", () => {
    expect(equivalence(proof(4.2), 10)).toContain("larger than 4.2 % is ruled out");
    expect(equivalence(proof(14, "cannot_tell"), 10)).toContain("up to 14 % may still be there");
    expect(equivalence(proof(30, "changed"), 10)).toBeNull();
    expect(equivalence(proof(null), 10)).toBeNull();
  });
});

describe("a time by stopwatch", () => {
  it("is read as people write it", () => {
    expect(secondsOf("32.41")).toBe(32.41);
    expect(secondsOf(" 32,4 s")).toBe(32.4);
    expect(secondsOf("1:02.5")).toBe(62.5);
  });
  it.each(["", "later", "1:75", "0.2", "-3", "99999"])("%s is no time", (text) => {
    expect(secondsOf(text)).toBeNull();
  });
});

describe("a run of a second recording", () => {
  it("is not taken out by a stretch of the first", () => {
    const second = { ...pass(10, 20), recording: 1 } as Pass;
    expect(isTakenOut(second, [{ recording: 0, from_s: 9, to_s: 21 }])).toBe(false);
    expect(isTakenOut(second, [{ recording: 1, from_s: 9, to_s: 21 }])).toBe(true);
  });
});
