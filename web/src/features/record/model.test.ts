import { describe, expect, it } from "vitest";
import { HEADING, lengthInWords, lineOf, nameOf, signOf, whyNot } from "./model";

const motion = { time: 1.25, force: [0.5, -1, 9.81], rate: [0, 90, -180] } as const;

describe("a line of the log", () => {
  it("has a cell for each heading, in SI units", () => {
    const cells = lineOf(motion, 1, { time: 1, speed: 12.3, course: 90, latitude: 51.5, longitude: -0.25 }).split(",");
    expect(cells.length).toBe(HEADING.split(",").length);
    // Six decimals of a radian per second are written.
    const rad = (deg: number) => Number(((deg * Math.PI) / 180).toFixed(6));
    expect(cells.slice(4, 7).map(Number)).toEqual([0, rad(90), rad(-180)]);
    expect(cells.slice(7)).toEqual(["12.30", "90.0", "51.5000000", "-0.2500000"]);
  });
  it("leaves empty what is not known, and turns accelerations round where the browser does", () => {
    const cells = lineOf(motion, -1, null).split(",");
    expect(cells.slice(1, 4).map(Number)).toEqual([-0.5, 1, -9.81]);
    expect(cells.slice(7)).toEqual(["", "", "", ""]);
    expect(lineOf({ ...motion, rate: [Number.NaN, 0, 0] }, 1, null)).not.toContain("NaN");
  });
});

describe("which way round", () => {
  it("is told from how the phone lies", () => {
    expect(signOf("screen_up", [0, 0, 9.8])).toBe(1);
    expect(signOf("screen_up", [0, 0, -9.8])).toBe(-1);
    expect(signOf("screen_down", [0, 0, -9.8])).toBe(1);
    expect(signOf("top_up", [0, 9.8, 0])).toBe(1);
    expect(signOf("top_up", [0, 0, 9.8])).toBeNull();
  });
});

it("names and lengths are plain", () => {
  expect(nameOf(new Date(2026, 4, 1, 8, 5))).toBe("phone-2026-05-01-0805.csv");
  expect([lengthInWords(5.9), lengthInWords(125)]).toEqual(["0:05", "2:05"]);
});

it("says why a browser cannot record", () => {
  expect(whyNot({ isSecureContext: false, hasMotion: true })).toContain("--lan");
  expect(whyNot({ isSecureContext: true, hasMotion: false })).toContain("phone");
  expect(whyNot({ isSecureContext: true, hasMotion: true })).toBeNull();
});
