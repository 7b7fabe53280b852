// The page's requests against the schemas that the program writes of itself: what the page sends must be allowed.
import { readFileSync } from "node:fs";
import Ajv2020 from "ajv/dist/2020";
import { describe, expect, it } from "vitest";
import { withAllSettings } from "@/api/barSheet";
import type { BarDocument, CarDocument, Garage } from "@/api/garage";
import { EMPTY } from "@/api/garage";
import { allBars, barsFor, carFor, setupOf } from "@/api/setups";
import { fromSimple, USUAL } from "@/api/simpleBar";
import { BLANK_HANG, BLANK_WEIGH, hangRequest, weighRequest } from "@/features/bars/measure/model";
import { BLANK_TAPE, tapeSheet } from "@/features/bars/measure/tape";
import {
  BLANK_CG,
  BLANK_RATIO,
  BLANK_SILL,
  BLANK_WEIGHTS,
  cgRequest,
  ratioRequest,
  sillRequest,
  sillRows,
  weightsRequest,
} from "@/features/car/measure/model";
import { requestOf, wishesOf } from "@/features/choose/model";
import { linkOf } from "@/features/fit/model";
import { cases, USUAL_LOADS, withCases } from "@/features/forecast/loads";
import { comparison } from "@/features/forecast/request";

const json = (path: string) => JSON.parse(readFileSync(path, "utf8"));
const example = (name: string) => json(`../examples/${name}.json`);
const ajv = new Ajv2020({ strict: false, allErrors: true });
const faults = (schema: string, request: unknown): string[] => {
  const validate = ajv.compile(json(`../schema/${schema}.request.json`));
  return validate(JSON.parse(JSON.stringify(request)))
    ? []
    : (validate.errors ?? []).map((e) => `${e.instancePath} ${e.message}`);
};

const GARAGE: Garage = {
  ...EMPTY,
  car: example("wren") as CarDocument,
  bars: {
    front: [example("bars/wren-front-two-hole") as BarDocument],
    rear: [example("bars/wren-rear-three-hole") as BarDocument],
  },
  after: { name: "after", front: { bar: null, setting: null }, rear: { bar: "rear three-hole", setting: "2/2" } },
};
const files = [{ file: "0123456789abcdef0123456789abcdef", name: "before.csv" }];

const FOUR = { front_left: 389, front_right: 372, rear_left: 245, rear_right: 232 };
const wheelbase = { value: 2540, pm: 4, origin: "measured" as const };

describe("what the page sends", () => {
  it.each([
    ["car-typical", { car: carFor(GARAGE) }],
    ["car-check", { car: carFor(GARAGE) }],
    [
      "car-next",
      { car: { ...carFor(GARAGE), setups: [setupOf(GARAGE.after)] }, bars: barsFor(GARAGE, [GARAGE.after]) },
    ],
    [
      "car-cg",
      cgRequest(
        { ...BLANK_CG, front: 761, rear: 477, frontHub: 300, rearHub: 300, lifts: [{ lift: 400, reading: 780.5 }] },
        wheelbase,
      ).request,
    ],
    [
      "car-ratio",
      ratioRequest("damper", {
        ...BLANK_RATIO,
        rideHeight: 0,
        rows: [-40, 0, 40].map((wheel) => ({ wheel, device: 220 - 0.6 * wheel })),
      }).request,
    ],
    [
      "car-weights",
      weightsRequest(
        {
          ...BLANK_WEIGHTS,
          aboard: FOUR,
          empty: FOUR,
          pads: { ...FOUR, ...{ front_left: 0, front_right: 3, rear_left: 1, rear_right: -2 } },
        },
        carFor(GARAGE),
      ).request,
    ],
    [
      "car-sill",
      sillRequest(
        {
          ...BLANK_SILL,
          series: {
            both_on: sillRows(75, 150).map((s) => ({
              ...s,
              front_left: 650,
              front_right: 655,
              rear_left: 641,
              rear_right: 638,
            })),
          },
        },
        carFor(GARAGE),
      ).request,
    ],
    ["bar-weigh", weighRequest({ ...BLANK_WEIGH, mass: 2.1, extra: 0.1, length: 1300 }, GARAGE.bars.rear[0]!).request],
    [
      "bar-hang",
      hangRequest(
        { ...BLANK_HANG, rows: BLANK_HANG.rows.map((row) => ({ ...row, position: 3 + 0.6 * row.mass! })) },
        withAllSettings(GARAGE.bars.rear[0]!),
        "2/2",
      ).request,
    ],
    [
      "bar-rate",
      {
        bar: tapeSheet(
          { ...BLANK_TAPE, diameter: 22, straight: 860, bushings: 600, levers: [210, 187] },
          "mine",
          "rear",
        ).sheet,
      },
    ],
    [
      "bar-curve",
      { bar: withAllSettings(GARAGE.bars.rear[0]!), settings: ["2/2"], motion: "roll", most_mm: 60, step_mm: 5 },
    ],
    ["forecast-turn", { ...comparison(GARAGE), draws: 200 }],
    ["forecast-compare", { ...withCases(comparison(GARAGE)!, cases(USUAL_LOADS, 2540)), draws: 200, lateral_g: 0.5 }],
    ["forecast-claims", { car: carFor(GARAGE), bars: allBars(GARAGE), stiffer_percent: 38 }],
    ["bar-rate", { bar: withAllSettings(GARAGE.bars.rear[0]!), stress_along: true }],
    ["bar-rate", { bar: withAllSettings(fromSimple(USUAL, "mine", "rear")) }],
    [
      "forecast-compare",
      {
        car: carFor(GARAGE),
        bars: barsFor(GARAGE, [GARAGE.before, GARAGE.after]),
        setups: [setupOf(GARAGE.before), setupOf(GARAGE.after)],
        lateral_g: 0.7,
        draws: 400,
      },
    ],
    ["forecast-holes", { car: carFor(GARAGE), bars: allBars(GARAGE), wish: "less_lean_same_balance" }],
    [
      "test-log",
      {
        files,
        phone: { mount: "fixed", height_mm: { value: 550, pm: 100, origin: "measured" } },
        left_out: [{ from_s: 1, to_s: 9 }],
        traces: true,
      },
    ],
    [
      "test-prove",
      {
        before: files,
        after: files,
        phone: {},
        left_out_before: [],
        left_out_after: [{ from_s: 1, to_s: 9 }],
        forecast_change_percent: null,
        traces: true,
      },
    ],
    [
      "verdict-make",
      {
        car: carFor(GARAGE),
        bars: barsFor(GARAGE, [GARAGE.before, GARAGE.after]),
        before_setup: setupOf(GARAGE.before),
        after_setup: setupOf(GARAGE.after),
        before: files,
        after: files,
        phone: {},
        cost: { currency: "€", parts: [{ what: "bar", price_money: 200 }], work_h: 6 },
        feel: [
          { what: "turn_in", before: 4, after: 7, sealed: true },
          { what: "grip", before: 5, sealed: true },
        ],
        alternatives: [{ setup: { name: "tyres" }, price_money: 400 }],
        wanted_change_percent: -10,
      },
    ],
    [
      "fit-links",
      {
        car: carFor(GARAGE),
        bar: withAllSettings(GARAGE.bars.rear[0]!),
        setting: "2/2",
        measured_gap_mm: -7.5,
        kept: "left",
        right_link: linkOf({ pitch: 1.5, isBothHands: true }),
      },
    ],
    [
      "fit-sheet",
      {
        car_name: "Wren",
        axle: "rear",
        new_bar: "rear three-hole",
        old_bar: "the fitted bar",
        setting: "2/2",
        car: carFor(GARAGE),
        bar: withAllSettings(GARAGE.bars.rear[0]!),
      },
    ],
    [
      "test-tune",
      { car: carFor(GARAGE), bars: allBars(GARAGE), now: setupOf(GARAGE.after), wish: "less_lean_same_balance" },
    ],
    ["choose-rank", requestOf(carFor(GARAGE)!, allBars(GARAGE), wishesOf(GARAGE))],
    ["demo", { logs: true }],
  ])("%s is allowed by the program's schema", (schema, request) => {
    expect(faults(schema, request)).toEqual([]);
  });

  it("would be caught when it is not: a key nobody knows", () => {
    expect(faults("bar-rate", { bar: withAllSettings(GARAGE.bars.rear[0]!), bogus: 1 }).length).toBeGreaterThan(0);
  });
});
