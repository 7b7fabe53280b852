import { describe, expect, it } from "vitest";
import { EMPTY } from "@/api/garage";
import { fromSimple, USUAL } from "@/api/simpleBar";
import { bring, everything } from "./bring";
import { nextStep } from "./next";

const car = JSON.stringify({ kind: "car/1", name: "Wren", invented: true });

describe("bringing sheets", () => {
  it("puts a car, a bar and a whole garage where they belong", async () => {
    const withCar = bring(EMPTY, "wren.json", car);
    if (!("garage" in withCar)) throw new Error(withCar.refused);
    expect(withCar.garage.car!.name).toBe("Wren");
    const withBar = bring(withCar.garage, "bar.json", JSON.stringify(fromSimple(USUAL, "mine", "front")));
    if (!("garage" in withBar)) throw new Error(withBar.refused);
    expect(withBar.garage.bars.front[0]!.name).toBe("mine");
    const text = await everything(withBar.garage).text();
    expect(bring(EMPTY, "all.json", text)).toMatchObject({ garage: withBar.garage });
  });

  it("gives a second bar of the same name another one, since setups call bars by name", () => {
    const bar = JSON.stringify(fromSimple(USUAL, "mine", "rear"));
    const one = bring(EMPTY, "a.json", bar);
    const two = "garage" in one ? bring(one.garage, "b.json", bar) : one;
    expect("garage" in two && two.garage.bars.rear.map((b) => b.name)).toEqual(["mine", "mine 2"]);
  });

  it("refuses everything else with a reason, and changes nothing", () => {
    for (const text of [
      "",
      "{",
      "[]",
      "3",
      "null",
      '{"kind":"outing/1"}',
      '{"kind":"car/1"}',
      '{"kind":"bar/1","tape":{}}',
      '{"form":2}',
    ]) {
      const r = bring(EMPTY, "x.json", text);
      expect("refused" in r && r.refused.length).toBeGreaterThan(10);
    }
  });
});

describe("the next step", () => {
  const own = { ...EMPTY, car: { kind: "car/1" as const, name: "Mine" } };
  const bar = fromSimple(USUAL, "mine", "rear") as (typeof EMPTY.bars.rear)[0];
  const log = { id: "1", name: "l.csv", bytes: 1 };

  it("is not urged on someone who only looks at the demo", () => {
    expect(nextStep(EMPTY)).toBeNull();
    expect(nextStep({ ...own, isDemo: true })).toBeNull();
  });

  it("puts the look after the first drive before everything else", () => {
    const fitted = { ...own, work: { fit: { fitted: "2026-05-01", seenAgain: [] as string[] } } };
    expect(nextStep(fitted)!.title).toContain("first drive");
    expect(nextStep({ ...own, work: { fit: { fitted: "2026-05-01", seenAgain: ["after the first drive"] } } })!.n).toBe(
      2,
    );
  });

  it("follows the order of the job", () => {
    const withBar = { ...own, bars: { front: [], rear: [bar] } };
    const tried = { ...withBar, after: { ...withBar.after, rear: { bar: "mine", setting: "1/1" } } };
    const before = { ...tried, logs: { before: [log], after: [] } };
    const after = { ...tried, logs: { before: [log], after: [log] } };
    expect([own, withBar, tried, before, after].map((g) => nextStep(g)!.room)).toEqual([
      "bars",
      "bars",
      "test",
      "fit",
      "verdict",
    ]);
  });
});
