import { describe, expect, it } from "vitest";
import type { BarDocument } from "@/api/garage";
import { fromSimple, USUAL } from "@/api/simpleBar";
import { BLANK_HANG, BLANK_WEIGH, hangRequest, readHung, weighRequest } from "./model";

const BAR = fromSimple({ ...USUAL, wall_mm: { value: 3, pm: 0.5, origin: "guess" } }, "mine", "rear") as BarDocument;

describe("a bar on the scales", () => {
  it("asks for the wall without telling it", () => {
    const { request } = weighRequest({ ...BLANK_WEIGH, mass: 2.6 }, BAR);
    expect(request!.bar!.section.wall_mm).toBeUndefined();
    expect(request!.bar!.section.outer_diameter_mm).toBeDefined();
    expect(weighRequest(BLANK_WEIGH, BAR).request).toBeNull();
  });
});

describe("weights on a bar", () => {
  const read = (n: number) => ({
    ...BLANK_HANG,
    rows: BLANK_HANG.rows.map((row, i) => (i < n ? { ...row, position: 3 + 0.6 * row.mass! } : row)),
  });
  it("need four positions, and say how many are missing", () => {
    expect(hangRequest(read(3), BAR, "1/1").missing).toEqual(["1 more position"]);
    expect(hangRequest(read(4), BAR, "1/1").request!.readings).toHaveLength(4);
  });
  it("go up and come down by themselves", () => {
    expect(readHung(read(7)).map((q) => [q.mass_kg, q.unloading])).toEqual([
      [0, false],
      [5, false],
      [10, false],
      [15, false],
      [10, true],
      [5, true],
      [0, true],
    ]);
  });
});
