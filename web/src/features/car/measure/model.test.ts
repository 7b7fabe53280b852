import { describe, expect, it } from "vitest";
import {
  BLANK_CG,
  BLANK_RATIO,
  BLANK_SILL,
  BLANK_WEIGHTS,
  cgRequest,
  leansOf,
  NO_FOUR,
  ratioRequest,
  rowInRequest,
  sillRequest,
  sillRows,
  weightsRequest,
} from "./model";

describe("what is still to read", () => {
  it("is named before anything is asked", () => {
    expect(cgRequest(BLANK_CG, { value: 2540 }).request).toBeNull();
    expect(
      cgRequest({ ...BLANK_CG, front: 761, rear: 477, frontHub: 300, rearHub: 300 }, { value: 2540 }).missing,
    ).toEqual(["one lift with its reading"]);
    expect(ratioRequest("spring", { ...BLANK_RATIO, rideHeight: 0 }).missing).toEqual(["3 more rows"]);
    expect(weightsRequest({ ...BLANK_WEIGHTS, aboard: { ...NO_FOUR, front_left: 380 } }, null).missing).toEqual([
      "front right",
      "rear left",
      "rear right",
    ]);
    expect(sillRequest(BLANK_SILL, { kind: "car/1", name: "x" }).missing[0]).toMatch(/^4 more readings/);
  });
});

describe("requests", () => {
  it("leave out rows that are half read, and know where the others went", () => {
    const rows = [
      { wheel: -40, device: 245 },
      { wheel: -20, device: null },
      { wheel: 0, device: 220 },
      { wheel: 40, device: 195 },
    ];
    const r = { ...BLANK_RATIO, rows, rideHeight: 0 };
    expect(ratioRequest("link", r).request!.readings).toHaveLength(3);
    expect(rowInRequest(r, 2)).toBe(1);
    expect(rowInRequest(r, 0)).toBe(0);
  });

  it("take the second weighing and the floor only when all four are there", () => {
    const four = { front_left: 380, front_right: 370, rear_left: 240, rear_right: 230 };
    const half = { ...NO_FOUR, front_left: 360 };
    const q = weightsRequest({ ...BLANK_WEIGHTS, aboard: four, empty: half, pads: half }, null).request!;
    expect(q.without_driver).toBeNull();
    expect(q.pads).toBeNull();
    expect(
      weightsRequest({ ...BLANK_WEIGHTS, aboard: four, empty: four }, null).request!.without_driver,
    ).not.toBeNull();
  });

  it("put a load on the right sill to the right of the middle", () => {
    const arches = { front_left: 650, front_right: 650, rear_left: 640, rear_right: 640 };
    const rows = sillRows(75, 150).map((s) => ({ ...s, ...arches }));
    const q = sillRequest({ ...BLANK_SILL, place: 660, series: { both_on: rows } }, { kind: "car/1", name: "x" })
      .request!;
    expect(q.series[0]!.readings.map((x) => x.left_of_centre_mm)).toEqual([660, 660, 660, 660, -660, -660, -660, -660]);
    expect(q.series[0]!.readings[3]!.is_coming_down).toBe(true);
  });
});

describe("the lean drawn for a reading", () => {
  it("is the arches’ difference over the track, from the first reading on", () => {
    const rest = { ...sillRows(0, 0)[0]!, front_left: 650, front_right: 655, rear_left: 640, rear_right: 640 };
    // Ten millimetres lower on the left at 1500 mm track: 0.382 degrees, by hand.
    const loaded = { ...rest, load: 75, front_left: 640, rear_left: 630 };
    const leans = leansOf([rest, loaded], { front: 1500, rear: 1500 });
    expect(leans[0]).toBe(0);
    expect(leans[1]).toBeCloseTo((10 / 1500) * (180 / Math.PI), 9);
  });
});
