// Films: what is marked, how two films are laid on one another, and what is drawn into a picture. Pure.
import type { FilmCone, FilmFrame, MarkInput, MarksSheetInput } from "@/api/types";

// ---------------------------------------------------------------- marks
export type Px = [number, number];
export interface MarkPlan {
  name: string;
  what: MarkInput["what"];
  side: "left" | "right";
  hint: string;
  isNeeded: boolean;
}
const pair = (name: string, what: MarkInput["what"], hint: string, isNeeded: boolean): MarkPlan[] =>
  (["left", "right"] as const).map((side) => ({ name: `${name} ${side}`, what, side, hint, isNeeded }));

export type Wheels = "tyre_contact" | "wheel_centre";
export const planOf = (wheels: Wheels): MarkPlan[] =>
  [
    ...pair("lamp", "body", "The same corner of both lamps.", true),
    wheels === "tyre_contact"
      ? pair("tyre", "tyre_contact", "Where the tyre meets the road, in the middle of its width.", true)
      : pair("wheel", "wheel_centre", "The centre of the wheel, where it can be seen.", true),
    pair("window", "body", "The same corner of the window: a second line makes the answer firmer.", false),
    pair("level", "level", "The two ends of a sill, eaves or the horizon that faces the camera.", false),
  ].flat();

export interface Marked {
  time_s: number;
  wheels: Wheels;
  at: Record<string, Px>; // by the name of the mark, in pixels of the film
  sd: Record<string, number>; // of those that were moved to a corner
}
export const NOTHING_MARKED: Marked = { time_s: 0, wheels: "tyre_contact", at: {}, sd: {} };

export const missing = (m: Marked): string[] =>
  planOf(m.wheels)
    .filter((p) => p.isNeeded && !m.at[p.name])
    .map((p) => p.name);

// One end of a pair that may be left out is not sent without the other.
export function sheetOf(m: Marked, car: { trackMm: number | null; focalMm: number | null }): MarksSheetInput {
  const other = (name: string) =>
    name.endsWith("left") ? name.replace(/left$/, "right") : name.replace(/right$/, "left");
  return {
    kind: "marks/1",
    time_s: m.time_s,
    ...(car.trackMm === null ? {} : { track_mm: car.trackMm }),
    camera: car.focalMm === null ? {} : { focal_full_frame_mm: car.focalMm },
    marks: planOf(m.wheels)
      .filter((p) => m.at[p.name] && m.at[other(p.name)])
      .map((p) => ({
        name: p.name,
        what: p.what,
        side: p.side,
        px: m.at[p.name]!,
        ...(m.sd[p.name] ? { sd_px: m.sd[p.name]! } : {}),
      })),
  };
}

// Moving by hand makes a mark the person's own again.
export function moveMark(m: Marked, name: string, to: Px, size: { width: number; height: number }): Marked {
  const inside = (v: number, most: number) => Math.min(most - 1, Math.max(0, v));
  const { [name]: _, ...sd } = m.sd;
  return { ...m, at: { ...m.at, [name]: [inside(to[0], size.width), inside(to[1], size.height)] }, sd };
}

export const nextToMark = (m: Marked): string | null => missing(m)[0] ?? null;

// ---------------------------------------------------------------- two films on one time
// Cones of both that belong together: counted from the first that is passed on the same side.
export function matchCones(
  before: readonly Pick<FilmCone, "time_s" | "is_left">[],
  after: readonly Pick<FilmCone, "time_s" | "is_left">[],
): { before: number[]; after: number[] } {
  if (before.length === 0 || after.length === 0) return { before: [], after: [] };
  const skip = before[0]!.is_left === after[0]!.is_left ? 0 : 1;
  const b = before.map((c) => c.time_s);
  const a = after.map((c) => c.time_s).slice(skip);
  const n = Math.min(b.length, a.length);
  return { before: b.slice(0, n), after: a.slice(0, n) };
}

// Time in the film at `phase` cones from the first: even between two cones.
export function timeAt(cones: readonly number[], phase: number): number {
  if (cones.length === 0) return 0;
  const p = Math.min(cones.length - 1, Math.max(0, phase));
  const i = Math.min(cones.length - 2, Math.floor(p));
  if (i < 0) return cones[0]!;
  return cones[i]! + (p - i) * (cones[i + 1]! - cones[i]!);
}

// ---------------------------------------------------------------- frames
// The frame whose stamp is nearest, when it is near enough to be the one that is shown.
export function frameAt<F extends Pick<FilmFrame, "time_s">>(
  frames: readonly F[],
  time: number,
  within = 0.1,
): F | null {
  if (frames.length === 0) return null;
  let [low, high] = [0, frames.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (frames[middle]!.time_s < time) low = middle + 1;
    else high = middle;
  }
  const at = [frames[low]!, frames[Math.max(0, low - 1)]!].sort(
    (x, y) => Math.abs(x.time_s - time) - Math.abs(y.time_s - time),
  )[0]!;
  return Math.abs(at.time_s - time) <= within ? at : null;
}

// ---------------------------------------------------------------- words
export const leanInWords = (deg: number): string =>
  Math.abs(deg) < 0.05 ? "upright" : `${Math.abs(deg).toFixed(1)}° to the ${deg > 0 ? "right" : "left"}`;

export const bytesInWords = (n: number) =>
  n < 1e6
    ? `${Math.max(1, Math.round(n / 1e3))} kB`
    : n < 1e9
      ? `${(n / 1e6).toFixed(1)} MB`
      : `${(n / 1e9).toFixed(2)} GB`;
