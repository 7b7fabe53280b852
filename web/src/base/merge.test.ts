import { describe, expect, it } from "vitest";
import { type Clash, isSame, merge3 } from "./merge";

describe("joining two changed copies", () => {
  const base = { a: 1, b: { c: 2, d: 3 }, list: [{ name: "x", v: 1 }] };

  it("takes what either side changed", () => {
    const clashes: Clash[] = [];
    const joined = merge3(base, { ...base, a: 5 }, { ...base, b: { c: 2, d: 9 } }, clashes);
    expect(joined).toEqual({ ...base, a: 5, b: { c: 2, d: 9 } });
    expect(clashes).toEqual([]);
  });

  it("keeps mine where both changed one place, and tells it", () => {
    const clashes: Clash[] = [];
    expect(merge3(base, { ...base, a: 5 }, { ...base, a: 6 }, clashes).a).toBe(5);
    expect(clashes).toEqual([{ path: "a", mine: 5, theirs: 6 }]);
  });

  it("never mixes the value of one side with the doubt of the other", () => {
    const clashes: Clash[] = [];
    const number = (value: number, pm: number) => ({ track: { value, pm } });
    const joined = merge3(number(1, 1), number(2, 1), number(1, 3), clashes);
    expect(joined).toEqual(number(2, 1));
    expect(clashes.length).toBe(1);
  });

  it("joins lists of named things thing by thing, and what one side took off is off", () => {
    const list = (...names: string[]) => names.map((name) => ({ name }));
    expect(merge3(list("a", "b"), list("a", "b", "mine"), list("b", "theirs"))).toEqual(list("b", "mine", "theirs"));
  });

  it("is the same whichever side asks, as long as nothing clashes", () => {
    const [mine, theirs] = [
      { ...base, a: 7 },
      { ...base, list: [{ name: "x", v: 4 }] },
    ];
    expect(merge3(base, mine, theirs)).toEqual(merge3(base, theirs, mine));
  });

  it("keeps the identity of what did not change", () => {
    const mine = { ...base, a: 2 };
    expect(merge3(base, mine, structuredClone(base))).toBe(mine);
    expect(merge3(base, mine, { ...base, b: { c: 0, d: 0 } }).list).toBe(base.list);
  });

  it("leaves a removal on one side removed", () => {
    const { a: _, ...without } = base;
    expect("a" in merge3<object>(base, without, { ...base, b: { c: 1, d: 1 } })).toBe(false);
  });

  it("does not care for the order of keys", () => {
    expect(isSame({ a: 1, b: [2] }, { b: [2], a: 1 })).toBe(true);
    expect(isSame({ a: 1 }, { a: 1, b: undefined })).toBe(true);
    expect(isSame([], {})).toBe(false);
  });
});
