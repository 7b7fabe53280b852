import { describe, expect, it } from "vitest";
import { estimateAt, readAt, writeAt } from "./documents";

describe("places in a document", () => {
  const car = { name: "Wren", front: { track_mm: { value: 1455, pm: 3 } }, mass_kg: 1160 };

  it("reads estimates and bare numbers alike", () => {
    expect(estimateAt(car, "front.track_mm")).toEqual({ value: 1455, pm: 3 });
    expect(estimateAt(car, "mass_kg")).toEqual({ value: 1160 });
  });

  it("finds nothing where there is nothing, at any depth", () => {
    expect(estimateAt(car, "rear.track_mm")).toBeNull();
    expect(readAt(car, "mass_kg.deep.er")).toBeUndefined();
    expect(readAt(null, "a")).toBeUndefined();
    expect(estimateAt(car, "name")).toBeNull();
  });

  it("changes one place and leaves the rest and the original alone", () => {
    const changed = writeAt(car, "rear.tyre.grip", { value: 1 });
    expect(readAt(changed, "rear.tyre.grip")).toEqual({ value: 1 });
    expect(changed.front).toBe(car.front);
    expect("rear" in car).toBe(false);
  });

  it("removes a place, and the records that become empty with it", () => {
    const changed = writeAt(writeAt(car, "rear.tyre.grip", 1), "rear.tyre.grip", null);
    expect(changed).toEqual(car);
  });
});
