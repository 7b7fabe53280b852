// Reading a bar sheet (bar/1): its holes as people call them, its settings, its picture.
import type { AxleName } from "./garage";
import type { BarHoleInput, BarSettingInput, BarSheetInput, EstimateInput } from "./types";

// A bar sheet with its shape by points, which is what a drawing needs; a sheet by tape says less.
export type FullBar = BarSheetInput & Required<Pick<BarSheetInput, "centreline_right_to_left" | "bushings" | "holes">>;

export type Side = "left" | "right";
type Point = [number, number, number];

export const middleOf = (e: EstimateInput | null | undefined): number | null =>
  e == null ? null : typeof e === "number" ? e : e.value;

// "L2" on the left and "R2" on the right are both hole 2 to the person who bolts them.
export function holeLabel(id: string, side: Side): string {
  const short = id.replace(side === "left" ? /^l(eft)?[\s_-]*/i : /^r(ight)?[\s_-]*/i, "");
  return short || id;
}

export const holesOf = (bar: FullBar, side: Side): BarHoleInput[] => bar.holes.filter((h) => h.side === side);

// Every pair of holes with the name people use, left/right. What the sheet lists by another name keeps that name.
export function allSettings(bar: FullBar): BarSettingInput[] {
  const listed = bar.settings ?? [];
  return holesOf(bar, "left").flatMap((l) =>
    holesOf(bar, "right").map(
      (r) =>
        listed.find((s) => s.left_hole === l.id && s.right_hole === r.id) ?? {
          id: `${holeLabel(l.id, "left")}/${holeLabel(r.id, "right")}`,
          left_hole: l.id,
          right_hole: r.id,
        },
    ),
  );
}

export const withAllSettings = (bar: FullBar): FullBar => ({ ...bar, settings: allSettings(bar) });

export const settingOf = (bar: FullBar, left: string, right: string) =>
  allSettings(bar).find((s) => s.left_hole === left && s.right_hole === right);
export const settingById = (bar: FullBar, id: string) => allSettings(bar).find((s) => s.id === id);

// The softest setting: the holes listed first, or hole 1 at both ends.
export function firstSetting(bar: FullBar): BarSettingInput | undefined {
  const all = allSettings(bar);
  return all.find((s) => s.id === "1/1") ?? all[0];
}

// Where a hole lies: as given, or so far back along the last straight of its arm.
export function holePoint(bar: FullBar, hole: BarHoleInput): Point {
  if (hole.point_mm) return hole.point_mm;
  const line = hole.side === "right" ? bar.centreline_right_to_left : bar.centreline_right_to_left.toReversed();
  let left = hole.back_from_arm_end_mm ?? 0;
  for (let i = 0; i + 1 < line.length; i++) {
    const [a, b] = [line[i]!.point_mm, line[i + 1]!.point_mm];
    const d = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
    if (left <= d || i + 2 === line.length) {
      const k = d === 0 ? 0 : Math.min(1, left / d);
      return [a[0] + k * (b[0] - a[0]), a[1] + k * (b[1] - a[1]), a[2] + k * (b[2] - a[2])];
    }
    left -= d;
  }
  return line[0]?.point_mm ?? [0, 0, 0];
}

export const axleOf = (bar: FullBar, otherwise: AxleName): AxleName => bar.axle ?? otherwise;

export function barPicture(bar: FullBar) {
  const diameter = middleOf(bar.section.outer_diameter_mm) ?? middleOf(bar.section.thickness_mm) ?? 20;
  return {
    diameter,
    bladeWidth: middleOf(bar.arm_section?.width_mm),
    corners: bar.centreline_right_to_left.map((c) => ({ point: c.point_mm, bendRadius: c.bend_radius_mm ?? null })),
    bushings: bar.bushings.map((b) => ({ point: b.point_mm, width: b.width_mm ?? 0 })),
    holes: bar.holes.map((h) => ({ id: h.id, side: h.side, label: holeLabel(h.id, h.side), point: holePoint(bar, h) })),
  };
}
