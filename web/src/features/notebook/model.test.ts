import { describe, expect, it } from "vitest";
import { kindInWords, moment, nameOf, readOuting, size } from "./model";

describe("the notebook sheet in words", () => {
  it("calls kinds by plain words, and unknown ones by their own", () => {
    expect(kindInWords("car/1")).toBe("car");
    expect(kindInWords("tractor/3")).toBe("tractor");
    expect(nameOf({ kind: "work/1", name: "fit" })).toContain("Fitting");
    expect(nameOf({ kind: "car/1", name: "fit" })).toBe("fit");
  });
  it("says a moment in the person's words and repeats what is none", () => {
    expect(moment("2026-05-01T12:30:00Z", "en-GB")).toContain("2026");
    expect(moment("last spring")).toBe("last spring");
  });
  it("says sizes", () => {
    expect([size(12), size(12_345), size(12_345_678)]).toEqual(["12 bytes", "12 kB", "12.3 MB"]);
  });
});

describe("an outing written by hand", () => {
  const good = { date: "2026-05-01", lean: "4,2", pm: "0.2" };
  it("takes a decimal comma", () => expect(readOuting(good)).toEqual({ lean: 4.2, pm: 0.2 }));
  it.each([
    { ...good, date: "" },
    { ...good, lean: "" },
    { ...good, lean: "four" },
    { ...good, lean: "42" },
    { ...good, pm: "0" },
    { ...good, pm: "9" },
  ])("explains what is wrong with %o", (form) => expect(readOuting(form)).toEqual(expect.any(String)));
});
