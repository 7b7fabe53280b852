import { describe, expect, it } from "vitest";
import { decimalsForPm, plain, readNumber, sentence, unbroken, write } from "./format";

describe("numbers as text", () => {
  it("gives a number the decimals that its ± deserves", () => {
    expect(sentence(22.437, 1.31, "n_per_mm", "metric")).toBe("22.4 ±1.3 N/mm");
    expect(sentence(1460.4, 3, "mm", "metric")).toBe("1460 ±3 mm");
    expect(sentence(4.6218, 0.402, "deg_per_g", "metric")).toBe("4.6 ±0.4 deg/g");
    expect(sentence(5.5234, 0.0312, "deg_per_g", "metric")).toBe("5.52 ±0.03 deg/g");
  });

  it("keeps two figures of a ± only where one would hide more than a tenth of it", () => {
    expect(decimalsForPm(0.14)).toBe(2); // 0.1 would hide 29 %
    expect(decimalsForPm(2.7)).toBe(1); // 3 would add 11 %
    expect(decimalsForPm(0.2)).toBe(1);
    expect(decimalsForPm(0.57)).toBe(1); // 0.6 adds 5 %
    expect(decimalsForPm(19)).toBe(0);
    expect(decimalsForPm(1)).toBe(0);
  });

  it("keeps the numbers of a sentence in one piece", () => {
    expect(unbroken("it leans less by 25.4 ± 2.7 % (measured)")).toBe(
      "it leans less by 25.4\u00a0±\u00a02.7\u00a0% (measured)",
    );
  });

  it("has no decimals for a ± of nothing or of no number", () => {
    expect(decimalsForPm(0)).toBeNull();
    expect(decimalsForPm(Number.NaN)).toBeNull();
  });

  it("writes a real minus and never minus nothing", () => {
    expect(plain(-3.2, 1)).toBe("−3.2");
    expect(plain(-0.04, 1)).toBe("0.0");
  });

  it("puts a plus before a change upwards, and nothing before no change", () => {
    expect(write(14, 4, "percent", "metric", { signed: true }).value).toBe("+14");
    expect(write(0.2, 4, "percent", "metric", { signed: true }).value).toBe("0");
  });

  it("keeps a degree sign close to its number", () => {
    expect(sentence(3.24, 0.3, "deg", "metric")).toBe("3.2 ±0.3°");
  });

  it("reads what people type: point, comma, spaces, typographic minus", () => {
    expect(readNumber(" 1 460 ")).toBe(1460);
    expect(readNumber("22,4")).toBe(22.4);
    expect(readNumber("−0.5")).toBe(-0.5);
    expect(readNumber(".5")).toBe(0.5);
  });

  it("refuses what is not one number", () => {
    for (const text of ["", "abc", "1.2.3", "12 mm", "1e5", "--3", "1,460.5", "Infinity", "NaN"])
      expect(readNumber(text)).toBeNull();
  });
});
