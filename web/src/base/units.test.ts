import { describe, expect, it } from "vitest";
import { fromShown, toShown, UNITS, type UnitKey, unitOfKey } from "./units";

// Conversion values from [NIST SP 811:2008 App. B.8], printed to 7 figures there: the relative tolerance 1e-6 is half a
// unit of the last printed figure, rounded up.
const NIST: [UnitKey, number, number][] = [
  ["mm", 25.4, 1], // inch, exact
  ["m", 0.3048, 1], // foot, exact
  ["kg", 0.4535924, 1], // pound
  ["n", 4.448222, 1], // pound-force
  ["nm", 1.355818, 1], // foot pound-force
  ["n_per_mm", 0.1751268, 1], // pound-force per inch: 175.1268 N/m
  ["mpa", 6.894757, 1], // ksi
  ["bar", 0.06894757, 1], // psi
  ["km_per_h", 1.609344, 1], // mile per hour, exact
];

describe("units", () => {
  it.each(NIST)("one imperial unit of %s is the published number of metric ones", (unit, metric, imperial) => {
    expect(Math.abs(toShown(metric, unit, "imperial") - imperial)).toBeLessThan(1e-6);
  });

  it("shows and reads back the same number in both systems", () => {
    for (const unit of Object.keys(UNITS) as UnitKey[]) {
      for (const system of ["metric", "imperial"] as const) {
        const there = fromShown(toShown(123.456, unit, system), unit, system);
        expect(Math.abs(there - 123.456)).toBeLessThan(1e-9); // a few roundings of a double near 100
      }
    }
  });

  it("finds the longest unit that ends a key", () => {
    expect(unitOfKey("rate_relative_n_per_mm")).toBe("n_per_mm");
    expect(unitOfKey("wheelbase_mm")).toBe("mm");
    expect(unitOfKey("roll_gradient_deg_per_g")).toBe("deg_per_g");
    expect(unitOfKey("peak_mpa_per_mm")).toBe("mpa_per_mm");
    expect(unitOfKey("bar_motion_ratio")).toBe("");
  });
});
