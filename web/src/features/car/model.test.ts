import { describe, expect, it } from "vitest";
import { drawnCar } from "@/api/carDrawn";
import { layoutOf, placesOf } from "./CarDrawing";
import { axleFields, rareFields, WHOLE_CAR } from "./fields";
import { blankCar, firmness, MAIN_KEYS, problemAt, shownAt } from "./model";

describe("how firm the sheet is", () => {
  it("counts only what was read off the car or the maker's paper as ink", () => {
    const car = {
      ...blankCar("x"),
      wheelbase_mm: { value: 2500, origin: "measured" },
      mass_kg: { value: 1200, origin: "maker" },
      cg_height_mm: { value: 540, origin: "typical" },
      rear: { track_mm: 1450 },
    };
    const f = firmness(car);
    expect(f.ink).toBe(3); // a bare number is taken as measured
    expect(f.total).toBe(MAIN_KEYS.length);
    expect(f.origins[0]).toBe("measured");
  });

  it("starts all in pencil", () => {
    expect(firmness(blankCar("x")).ink).toBe(0);
  });
});

describe("fields", () => {
  it("show what the sheet says, and the program's typical value beside it", () => {
    expect(shownAt({ mass_kg: 1200 }, { mass_kg: { value: 1330, pm: 275 } }, "mass_kg")).toEqual({
      value: { value: 1200 },
      typical: { value: 1330, pm: 275 },
    });
  });

  it("find what the program refused about their own number", () => {
    const problems = [{ where: "car.front.track_mm", message: "Too wide.", allowed: "900 to 2200 mm" }];
    expect(problemAt(problems, "front.track_mm")).toBe("Too wide. Allowed: 900 to 2200 mm.");
    expect(problemAt(problems, "rear.track_mm")).toBeNull();
  });

  it("have names and keys of their own", () => {
    for (const axle of ["front", "rear"] as const) {
      const all = [...WHOLE_CAR, ...axleFields(axle), ...rareFields(axle)];
      expect(new Set(all.map((f) => f.key)).size).toBe(all.length);
      expect(new Set(all.map((f) => f.name)).size).toBe(all.length);
    }
  });
});

describe("the drawing as a form", () => {
  const cg = { height: 540, frontShare: 61, rollCentre: 90 };

  it.each([
    ["metric laptop", 1222],
    ["wide screen", 1700],
  ])("keeps its numbers apart on a %s", (_, width) => {
    for (const name of ["front_drive_hatch", "van", "light_kit"]) {
      const shape = drawnCar({ class: name });
      const layout = layoutOf({ shape, axle: "rear", width, isOnDrawing: true, cg });
      const height = (layout.H / layout.W) * width;
      const spots = [...placesOf(layout)].map(([key, p]) => ({ key, x: p.x * width, y: p.y * height }));
      for (let a = 0; a < spots.length; a++) {
        for (let b = 0; b < a; b++) {
          const [p, q] = [spots[a]!, spots[b]!];
          // A number with its ± is about 170 px wide, and 46 px high with its name above.
          expect(Math.abs(p.x - q.x) > 150 || Math.abs(p.y - q.y) > 38, `${p.key} and ${q.key}`).toBe(true);
        }
      }
    }
  });

  it("has a place for every number it offers, inside the sheet", () => {
    for (const isOnDrawing of [true, false]) {
      const places = placesOf(layoutOf({ shape: drawnCar({}), axle: "front", width: 1222, isOnDrawing, cg }));
      for (const f of [...WHOLE_CAR, ...axleFields("front")]) {
        const at = places.get(f.key)!;
        expect(at.x).toBeGreaterThan(0);
        expect(at.x).toBeLessThan(1);
        expect(at.y).toBeGreaterThan(0);
        expect(at.y).toBeLessThan(1);
      }
    }
  });
});
