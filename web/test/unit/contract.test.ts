// The page's requests against the schemas that the program writes of itself: what the page sends must be allowed.
import { readFileSync } from "node:fs";
import Ajv2020 from "ajv/dist/2020";
import { describe, expect, it } from "vitest";
import { withAllSettings } from "@/api/barSheet";
import type { BarDocument, CarDocument, Garage } from "@/api/garage";
import { EMPTY } from "@/api/garage";
import { allBars, barsFor, carFor, setupOf } from "@/api/setups";
import { fromSimple, USUAL } from "@/api/simpleBar";
import { requestOf, wishesOf } from "@/features/choose/model";
import { linkOf } from "@/features/fit/model";

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

describe("what the page sends", () => {
  it.each([
    ["car-typical", { car: carFor(GARAGE) }],
    ["car-check", { car: carFor(GARAGE) }],
    [
      "car-next",
      { car: { ...carFor(GARAGE), setups: [setupOf(GARAGE.after)] }, bars: barsFor(GARAGE, [GARAGE.after]) },
    ],
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
