// A bar read by tape, as it lies on the bench, made into a bar sheet with a shape.
import type { AxleName, BarDocument } from "@/api/garage";
import { isNumber, measured } from "@/api/readings";
import type { BarRateResult, BarSheetInput, BarTapeInput } from "@/api/types";

type Maybe = number | null;
export interface TapeReadings {
  name: string;
  diameter: Maybe;
  wall: Maybe; // null: solid
  straight: Maybe;
  bushings: Maybe;
  bushingWidth: Maybe;
  bend: Maybe;
  levers: Maybe[]; // hole 1, the farthest, first
  sweep: Maybe;
  drop: Maybe;
  beyond: Maybe;
  isForward: boolean;
}
export const BLANK_TAPE: TapeReadings = {
  name: "",
  diameter: null,
  wall: null,
  straight: null,
  bushings: null,
  bushingWidth: 30,
  bend: null,
  levers: [null, null],
  sweep: null,
  drop: null,
  beyond: null,
  isForward: false,
};

export function tapeSheet(r: TapeReadings, name: string, axle: AxleName) {
  const levers = r.levers.filter(isNumber);
  const missing = [
    !isNumber(r.diameter) && "the diameter",
    !isNumber(r.straight) && "the straight",
    !isNumber(r.bushings) && "the bushings’ distance",
    levers.length === 0 && "one hole’s distance from the straight",
  ].filter((m): m is string => m !== false);
  if (missing.length > 0) return { sheet: null, missing };
  const tape: BarTapeInput = {
    straight_mm: r.straight!,
    bushing_spacing_mm: r.bushings!,
    bushing_width_mm: r.bushingWidth ?? 0,
    bend_radius_mm: r.bend ?? 0,
    levers_mm: levers,
    sweep_mm: r.sweep ?? 0,
    drop_mm: r.drop ?? 0,
    beyond_mm: r.beyond ?? 0,
    points_forward: r.isForward,
    // Rubber from soft to hard (common practice, no source).
    bushing_stiffness_n_per_mm: { value: 5000, pm: 3000, origin: "typical" },
  };
  const sheet: BarSheetInput = {
    kind: "bar/1",
    name,
    axle,
    section: {
      shape: "round",
      outer_diameter_mm: measured(r.diameter!, 0.1),
      wall_mm: isNumber(r.wall) ? measured(r.wall, 0.2) : null,
    },
    tape,
  };
  return { sheet, missing };
}

// The program says where it put line, bushings and holes; the sheet keeps them as points.
export function withShape(sheet: BarSheetInput, result: BarRateResult): BarDocument {
  const { tape, ...rest } = sheet;
  return {
    ...rest,
    name: sheet.name ?? "bar",
    notes: "By tape.",
    centreline_right_to_left: result.assumed_centreline.map((c) => ({
      point_mm: c.point_mm,
      bend_radius_mm: c.bend_radius_mm,
    })),
    bushings: result.drawing.bushings.map((b) => ({
      side: b.side,
      point_mm: b.point_mm,
      width_mm: b.width_mm,
      radial_stiffness_n_per_mm: tape?.bushing_stiffness_n_per_mm ?? null,
    })),
    holes: result.drawing.holes.map((h) => ({ id: h.id, side: h.side, point_mm: h.point_mm })),
  };
}
