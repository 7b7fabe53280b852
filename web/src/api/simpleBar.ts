// The bar most people have: a U in one plane, two equal arms, evenly spaced holes. Described by ten numbers that a tape
// and a caliper give; anything else is entered as a bar sheet.

import { type FullBar, middleOf } from "./barSheet";
import type { AxleName } from "./garage";
import type { EstimateInput } from "./types";

export interface SimpleBar {
  apart_mm: number; // between the two corners, where the straights would meet
  arm_mm: number; // from the straight's middle line back to the arm's end
  splay_mm: number; // each arm's end stands this much farther out than its corner
  bend_mm: number; // radius of the middle line in the bends
  outer_diameter_mm: EstimateInput;
  wall_mm: EstimateInput | null; // null: solid
  bushings_mm: number; // between the middles of the two bushings
  bushing_width_mm: number;
  holes: number; // at each end
  first_mm: number; // outermost hole's middle from the arm's end
  pitch_mm: number; // from hole to hole
}

// Invented but usual for a small car's rear; all of it is to be typed over.
export const USUAL: SimpleBar = {
  apart_mm: 860,
  arm_mm: 230,
  splay_mm: 0,
  bend_mm: 45,
  outer_diameter_mm: { value: 20, pm: 0.2, origin: "guess" },
  wall_mm: null,
  bushings_mm: 600,
  bushing_width_mm: 30,
  holes: 3,
  first_mm: 15,
  pitch_mm: 25,
};

// Rubber between bar and bracket: 5000 ± 3000 N/mm spans soft and hard bushings (common practice, no source).
const RUBBER: EstimateInput = { value: 5000, pm: 3000, origin: "typical" };

export function fromSimple(s: SimpleBar, name: string, axle: AxleName): FullBar {
  const half = s.apart_mm / 2;
  const out = half + s.splay_mm;
  const corner = (y: number) => ({ point_mm: [0, y, 0] as [number, number, number], bend_radius_mm: s.bend_mm });
  const end = (y: number) => ({ point_mm: [-s.arm_mm, y, 0] as [number, number, number], bend_radius_mm: null });
  const sides = ["left", "right"] as const;
  return {
    kind: "bar/1",
    name,
    axle,
    centreline_right_to_left: [end(-out), corner(-half), corner(half), end(out)],
    section: { shape: "round", outer_diameter_mm: s.outer_diameter_mm, wall_mm: s.wall_mm },
    bushings: sides.toReversed().map((side) => ({
      side,
      point_mm: [0, ((side === "left" ? 1 : -1) * s.bushings_mm) / 2, 0],
      radial_stiffness_n_per_mm: RUBBER,
      width_mm: s.bushing_width_mm,
    })),
    holes: Array.from({ length: s.holes }, (_, i) => i).flatMap((i) =>
      sides.map((side) => ({
        id: `${side === "left" ? "L" : "R"}${i + 1}`,
        side,
        back_from_arm_end_mm: s.first_mm + i * s.pitch_mm,
      })),
    ),
  };
}

// The ten numbers of a bar sheet that is such a U; null for any other bar.
export function asSimple(bar: FullBar): SimpleBar | null {
  const line = bar.centreline_right_to_left;
  if (line.length !== 4 || bar.bushings.length !== 2 || bar.arm_section || bar.section_changes?.length || bar.arm_clamp)
    return null;
  if ((bar.section.shape ?? "round") !== "round" || bar.section.outer_diameter_mm == null) return null;
  const [end, corner, left, leftEnd] = line as [(typeof line)[0], (typeof line)[0], (typeof line)[0], (typeof line)[0]];
  const isFlat = line.every((c) => c.point_mm[2] === 0) && corner.point_mm[0] === 0;
  const isMirror = same(end, leftEnd) && same(corner, left) && corner.bend_radius_mm === left.bend_radius_mm;
  const [b1, b2] = bar.bushings;
  if (
    !isFlat ||
    !isMirror ||
    !b1 ||
    !b2 ||
    b1.point_mm[1] !== -b2.point_mm[1] ||
    b1.point_mm[0] !== 0 ||
    b1.point_mm[2] !== 0
  )
    return null;
  const back = (side: "left" | "right") =>
    bar.holes.filter((h) => h.side === side).map((h) => h.back_from_arm_end_mm ?? Number.NaN);
  const [l, r] = [back("left"), back("right")];
  const pitch = l.length > 1 ? l[1]! - l[0]! : 25;
  const isEven =
    l.length > 0 && l.length === r.length && l.every((v, i) => v === r[i] && Math.abs(v - l[0]! - i * pitch) < 1e-6);
  if (!isEven) return null;
  return {
    apart_mm: -2 * corner.point_mm[1],
    arm_mm: -end.point_mm[0],
    splay_mm: -end.point_mm[1] + corner.point_mm[1],
    bend_mm: corner.bend_radius_mm ?? 0,
    outer_diameter_mm: bar.section.outer_diameter_mm,
    wall_mm: middleOf(bar.section.wall_mm) === null ? null : (bar.section.wall_mm ?? null),
    bushings_mm: 2 * Math.abs(b1.point_mm[1]),
    bushing_width_mm: b1.width_mm ?? 0,
    holes: l.length,
    first_mm: l[0]!,
    pitch_mm: pitch,
  };
}

type Corner = FullBar["centreline_right_to_left"][0];
const same = (a: Corner, b: Corner) =>
  a.point_mm[0] === b.point_mm[0] && a.point_mm[1] === -b.point_mm[1] && a.point_mm[2] === b.point_mm[2];

// A changed number put back into the sheet, with everything the form does not show (steel, rubber, notes) kept.
export function withSimple(bar: FullBar, s: SimpleBar): FullBar {
  const fresh = fromSimple(s, bar.name ?? "", bar.axle ?? "rear");
  return {
    ...bar,
    centreline_right_to_left: fresh.centreline_right_to_left,
    section: { ...bar.section, outer_diameter_mm: s.outer_diameter_mm, wall_mm: s.wall_mm },
    bushings: bar.bushings.map((b) => ({
      ...b,
      point_mm: [0, (Math.sign(b.point_mm[1]) * s.bushings_mm) / 2, 0],
      width_mm: s.bushing_width_mm,
    })),
    holes: fresh.holes.map((h) => ({ ...bar.holes.find((o) => o.id === h.id), ...h })),
    settings: undefined,
  };
}
