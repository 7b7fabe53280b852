import { describe, expect, it } from "vitest";
import type { Clash } from "@/base/merge";
import { EMPTY, type Garage } from "./garage";
import { BENCH, documentsOf, garageOf, mergeParts, NOTHING, namedBy, type Parts, partsFrom, partsOf } from "./parts";
import { fromSimple, USUAL } from "./simpleBar";

const bar = (name: string) => fromSimple(USUAL, name, "rear") as Garage["bars"]["rear"][0];
const GARAGE: Garage = {
  ...EMPTY,
  car: { kind: "car/1", name: "Mine", class: "front_drive_hatch", wheelbase_mm: 2500 },
  bars: { front: [], rear: [bar("one"), bar("two")] },
  after: { ...EMPTY.after, rear: { bar: "one", setting: "1/1" } },
  work: { fit: { done: ["stands"] } },
};

const through = (p: Parts): Parts | null => {
  const all = Object.fromEntries(documentsOf(p).map((d) => [d.id, JSON.parse(JSON.stringify(d.json))]));
  return partsFrom(all[BENCH], (id) => all[id]);
};

describe("the garage as documents", () => {
  it("comes back from its documents as it was", () => {
    expect(garageOf(through(partsOf(GARAGE, null))!)).toEqual(GARAGE);
    expect(garageOf(through(NOTHING)!)).toEqual(EMPTY);
  });

  it("names every document on the bench once, and the bench comes last", () => {
    const documents = documentsOf(partsOf(GARAGE, null));
    expect(documents.map((d) => d.json.kind)).toEqual(["car/1", "bar/1", "bar/1", "work/1", "workbench/1"]);
    expect(namedBy(documents.at(-1)!.json)).toEqual(documents.slice(0, -1).map((d) => d.id));
  });

  it("keeps the document of a car or bar that is only renamed, and gives another one another", () => {
    const one = partsOf(GARAGE, null);
    const renamed = partsOf(
      { ...GARAGE, car: { ...GARAGE.car!, name: "Yours" }, bars: { front: [], rear: [bar("one"), bar("three")] } },
      one,
    );
    expect(renamed.car!.id).toBe(one.car!.id);
    expect(renamed.bars.rear.map((b) => b.id)).toEqual(one.bars.rear.map((b) => b.id));
    const other = partsOf({ ...GARAGE, car: { kind: "car/1", name: "Van", class: "van", height_mm: 2000 } }, one);
    expect(other.car!.id).not.toBe(one.car!.id);
  });

  it("takes up a document again that fell out of use, and never one twice", () => {
    const two = { ...GARAGE, bars: { front: [bar("x")], rear: [bar("x")] } };
    const found = partsOf(two, null, (json) => (json.kind === "bar/1" ? "old" : undefined));
    expect(found.bars.front[0]!.id).toBe("old");
    expect(found.bars.rear[0]!.id).not.toBe("old");
  });

  it("refuses a bench of a form that it does not know", () => {
    expect(partsFrom({ kind: "workbench/2", form: 1 }, () => undefined)).toBeNull();
    expect(partsFrom({ kind: "workbench/1", form: 9 }, () => undefined)).toBeNull();
  });
});

describe("joining two pages", () => {
  const base = partsOf(GARAGE, null);
  const mineOf = (g: Partial<Garage>) => partsOf({ ...GARAGE, ...g }, base);

  it("takes in a bar, a tick and a setup from elsewhere and keeps one's own", () => {
    const clashes: Clash[] = [];
    const mine = mineOf({ car: { ...GARAGE.car!, wheelbase_mm: 2600 } });
    const theirs = mineOf({
      bars: { front: [], rear: [...GARAGE.bars.rear, bar("three")] },
      work: { fit: { done: ["stands"] }, plan: { site: "apron" } },
    });
    const g = garageOf(mergeParts(base, mine, theirs, clashes));
    expect(g.car!.wheelbase_mm).toBe(2600);
    expect(g.bars.rear.map((b) => b.name)).toEqual(["one", "two", "three"]);
    expect(g.work.plan).toEqual({ site: "apron" });
    expect(clashes).toEqual([]);
  });

  it("leaves a bar off that one side took off, unless the other has worked on it", () => {
    const mine = mineOf({ bars: { front: [], rear: [bar("one")] } });
    expect(mergeParts(base, mine, base, []).bars.rear.length).toBe(1);
    const worked = mineOf({ bars: { front: [], rear: [bar("one"), { ...bar("two"), notes: "x" } as never] } });
    expect(mergeParts(base, mine, worked, []).bars.rear.length).toBe(2);
  });

  it("never mixes two cars: the one chosen since counts, and two choices are told", () => {
    const van = { kind: "car/1" as const, name: "Van", class: "van", height_mm: 2000 };
    const theirs = mineOf({ car: van });
    expect(mergeParts(base, base, theirs, []).car!.json).toEqual(van);
    const clashes: Clash[] = [];
    const mine = mineOf({ car: { ...van, name: "Bus", class: "bus", height_mm: 3000 } });
    expect(mergeParts(base, mine, theirs, clashes).car!.json.name).toBe("Bus");
    expect(clashes).toEqual([{ path: "car", mine: "Bus", theirs: "Van" }]);
  });
});
