// Paths in millimetres with y up, as on a drawing; SVG's y points down, so the sign flips here and nowhere else.

export type Point = readonly [x: number, y: number];
// A line to a point, or a cubic curve through two control points to a point.
export type Segment = readonly [x: number, y: number] | readonly [number, number, number, number, number, number];

const r = (v: number) => {
  const text = v.toFixed(2);
  return text.includes(".") ? text.replace(/\.?0+$/, "") || "0" : text;
};
export const at = (x: number, y: number) => `${r(x)} ${r(-y)}`;

function segment(s: Segment): string {
  return s.length === 2 ? `L${at(s[0], s[1])}` : `C${at(s[0], s[1])} ${at(s[2], s[3])} ${at(s[4], s[5])}`;
}

export function trace(start: Point, segments: readonly Segment[], isClosed = false): string {
  return `M${at(...start)}${segments.map(segment).join("")}${isClosed ? "Z" : ""}`;
}

export const polyline = (points: readonly Point[], isClosed = false) =>
  points.length === 0 ? "" : `M${points.map((p) => at(...p)).join("L")}${isClosed ? "Z" : ""}`;

export const straight = (x1: number, y1: number, x2: number, y2: number) => `M${at(x1, y1)}L${at(x2, y2)}`;

const endOf = (s: Segment): Point => (s.length === 2 ? [s[0], s[1]] : [s[4], s[5]]);
const flip = (p: Point): Point => [-p[0], p[1]];

// A closed outline from its right half, given from bottom to top; the left half is the mirror image.
export function mirrored(start: Point, right: readonly Segment[]): string {
  const points = [start, ...right.map(endOf)];
  const left: Segment[] = [];
  for (let i = right.length - 1; i >= 0; i--) {
    const s = right[i]!;
    const to = flip(points[i]!);
    left.push(s.length === 2 ? [to[0], to[1]] : [-s[2], s[3], -s[0], s[1], to[0], to[1]]);
  }
  return trace(start, [...right, ...left], true);
}

// The same open line on both sides of the centre line.
export function twice(start: Point, segments: readonly Segment[], isClosed = false): string {
  const other = segments.map(
    (s): Segment => (s.length === 2 ? [-s[0], s[1]] : [-s[0], s[1], -s[2], s[3], -s[4], s[5]]),
  );
  return trace(start, segments, isClosed) + trace(flip(start), other, isClosed);
}

// Hatching of a rectangle, spaced by hand so that it keeps its density on any screen.
export function hatch(
  x: number,
  y: number,
  width: number,
  height: number,
  spacing: number,
  direction: 1 | -1 = 1,
): string {
  let d = "";
  if (!(spacing > 0)) return d;
  for (let t = -height + spacing / 2; t < width; t += spacing) {
    const a = Math.max(0, t);
    const b = Math.min(width, t + height);
    if (b <= a) continue;
    const rise = (v: number) => (direction > 0 ? y + v - t : y + height - (v - t));
    d += straight(x + a, rise(a), x + b, rise(b));
  }
  return d;
}

// The slim filled arrow of a dimension line; its point at (x, y), looking along `angle`.
export function arrow(x: number, y: number, angle: number, u: number): string {
  const length = 11 * u;
  const half = 3.2 * u;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return polyline(
    [
      [x, y],
      [x - length * c + half * s, y - length * s - half * c],
      [x - length * c - half * s, y - length * s + half * c],
    ],
    true,
  );
}

export const circlePath = (x: number, y: number, radius: number) =>
  `M${at(x - radius, y)}a${r(radius)} ${r(radius)} 0 1 0 ${r(2 * radius)} 0a${r(radius)} ${r(radius)} 0 1 0 ${r(-2 * radius)} 0Z`;
