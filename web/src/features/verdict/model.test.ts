import { describe, expect, it } from "vitest";
import type { VerdictResult } from "@/api/types";
import { effectRows, heldInWords, leansAt, moneyInWords } from "./model";

const i = (value: number, pm = 1) => ({ value, pm, low: value - pm, high: value + pm });
const change = new Proxy({}, { get: () => i(-5) });
const proof = (extra = {}) => ({
  change_percent: i(-20),
  before: { roll_gradient_deg_per_g: i(6) },
  after: { roll_gradient_deg_per_g: i(4.8) },
  forecast: null,
  ...extra,
});
const result = (extra = {}) =>
  ({
    forecast: { changes: [change], setups: [{ roll_gradient_deg_per_g: i(6.2) }, { roll_gradient_deg_per_g: i(5) }] },
    proof: null,
    ...extra,
  }) as unknown as VerdictResult;

describe("forecast, then measured", () => {
  it("calls untested what was not tested, and nothing measured that was only forecast", () => {
    const rows = effectRows(result());
    expect(rows.every((r) => r.measured === null)).toBe(true);
    expect(rows.every((r) => r.measuredWords === "not tested")).toBe(true);
  });

  it("measures lean only, and says when the drives cannot tell", () => {
    const rows = effectRows(result({ proof: proof() }));
    expect(rows.filter((r) => r.measured !== null).map((r) => r.key)).toEqual(["lean"]);
    const unclear = effectRows(result({ proof: proof({ change_percent: null }) }));
    expect(unclear.find((r) => r.key === "lean")!.measuredWords).toBe("cannot tell");
  });
});

describe("the two cars", () => {
  it("lean as measured where it was measured, else as forecast, and say which", () => {
    expect(leansAt(result({ proof: proof() }), 0.5)).toMatchObject({ before: { value: 3 }, isMeasured: true });
    expect(leansAt(result(), 0.5)).toMatchObject({ before: { value: 3.1 }, isMeasured: false });
  });
});

describe("words", () => {
  it("say with the same calm whether the forecast held", () => {
    expect(heldInWords(result({ proof: proof({ forecast: { agrees: true } }) }))).toMatch(/held\.$/);
    expect(heldInWords(result({ proof: proof({ forecast: { agrees: false } }) }))).toMatch(/did not hold/);
    expect(heldInWords(result())).toBe("");
  });

  it("write money without false pennies", () => {
    expect(moneyInWords(1234.6, "€")).toBe("€ 1\u2009235");
    expect(moneyInWords(80, "")).toBe("80");
  });
});
