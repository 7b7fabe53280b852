import { readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { keyInWords, measuredAt, placeOf, withPlaces } from "./places";

describe("hints of the program", () => {
  it("lead to the place where the page asks the same question", () => {
    expect(withPlaces("Read the spring's length. Then 'car ratio'.")).toEqual([
      "Read the spring's length. Then ",
      { name: "the jack-and-tape sheet", at: "car/ratio" },
      ".",
    ]);
  });

  it("keep what is only quoted", () => {
    expect(withPlaces("Write 'left hand' on it.")).toEqual(["Write 'left hand' on it."]);
  });

  it("find a place for every question but those of the notebook and the demo", () => {
    const asked = readdirSync("../schema")
      .filter((f) => f.endsWith(".request.json"))
      .map((f) => f.replace(".request.json", "").replace("-", " "))
      .filter((o) => !/^(notebook|demo)/.test(o));
    expect(asked.length).toBeGreaterThan(30);
    expect(asked.filter((o) => placeOf(o) === null)).toEqual([]);
  });
});

describe("a number to be measured", () => {
  it("has its own place, of its own axle", () => {
    expect(measuredAt("rear.bar_motion_ratio").at).toBe("car/ratio/rear/link");
    expect(measuredAt("front.damper.motion_ratio").at).toBe("car/ratio/front/damper");
    expect(measuredAt("front_weight_share_percent").at).toBe("car/weights");
    expect(measuredAt("front.track_mm").at).toBe("car/number/front.track_mm");
  });

  it("is named in words, without its unit", () => {
    expect(keyInWords("front.tyre.vertical_rate_n_per_mm")).toBe("front tyre vertical rate");
    expect(keyInWords("lifts[0].lift_mm")).toBe("lifts[0] lift");
  });
});
