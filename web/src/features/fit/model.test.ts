import { describe, expect, it } from "vitest";
import { boltsOf, daysSince, FRESH, perTurn, tick, turnsFor } from "./model";
import { STEPS } from "./steps";

describe("fasteners and re-checks", () => {
  it("asks the program only about fasteners whose thread is known, in the order of tightening", () => {
    const bolts = { Wheels: { thread: "M12x1.5", maker: 110 }, Brackets: { thread: "M8" }, Locknuts: { maker: 50 } };
    expect(boltsOf({ bolts })).toEqual([
      { name: "Brackets", thread: "M8", grade: "8.8", prevailing_nut: false },
      { name: "Wheels", thread: "M12x1.5", grade: "8.8", prevailing_nut: false, maker_torque_nm: 110 },
    ]);
  });
  it("counts whole days since the parts went in, never backwards", () => {
    expect(daysSince("2026-05-01", new Date(2026, 4, 4, 9))).toBe(3);
    expect(daysSince("2026-05-01", new Date(2026, 3, 1))).toBe(0);
    expect(daysSince(null, new Date())).toBeNull();
  });
});

describe("turns of a link", () => {
  it("move both ends where the threads are left and right hand", () => {
    expect(perTurn({ pitch: 1.5, isBothHands: true })).toBe(3); // M10 coarse, ISO 261: pitch 1.5 mm
    expect(perTurn({ pitch: 1.5, isBothHands: false })).toBe(1.5);
  });

  it("take up the gap to the nearest half turn, and say what is left", () => {
    const t = { pitch: 1.5, isBothHands: true };
    expect(turnsFor(7.5, t)).toEqual({ half: 5, leftOver: 0 });
    expect(turnsFor(-3, t)).toEqual({ half: -2, leftOver: 0 });
    for (const gap of [0.1, 0.7, 3.3, 12.9]) {
      const { half, leftOver } = turnsFor(gap, t);
      expect(half * 1.5 + leftOver).toBeCloseTo(gap, 12);
      expect(Math.abs(leftOver)).toBeLessThanOrEqual(0.75);
    }
  });

  it("turn nothing for a pitch or a gap that is none", () => {
    expect(turnsFor(5, { pitch: 0, isBothHands: true }).half).toBe(0);
    expect(turnsFor(Number.NaN, { pitch: 1, isBothHands: true }).half).toBe(0);
  });
});

describe("the order of work", () => {
  it("goes on by a tick, keeps what is ticked, and stops at its end", () => {
    let s = FRESH;
    for (const step of STEPS) s = tick(s, step.key, STEPS.length);
    expect(s.done).toEqual(STEPS.map((x) => x.key));
    expect(s.at).toBe(STEPS.length - 1);
    expect(tick(s, "roll", STEPS.length).done).toHaveLength(STEPS.length);
  });

  it("has a caution before every act, and torque after both links", () => {
    for (const s of STEPS) expect(s.caution.text.length).toBeGreaterThan(20);
    const at = (key: string) => STEPS.findIndex((s) => s.key === key);
    expect(at("torque")).toBeGreaterThan(at("right"));
    expect(new Set(STEPS.map((s) => s.key)).size).toBe(STEPS.length);
  });
});
