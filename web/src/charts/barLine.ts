// The centreline of a bar from its sheet: corners rounded by their bend radius, sampled with arc length.
// x forward, y left, z up, in millimetres, as the bar sheet gives it (right end first).

export type Vec3 = readonly [x: number, y: number, z: number];
export interface Corner {
  point: Vec3;
  bendRadius: number | null;
}
export interface Station {
  s: number; // along the line from the right end
  p: Vec3;
  t: Vec3; // unit tangent
}

const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const add = (a: Vec3, b: Vec3, k = 1): Vec3 => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
const scaled = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];
const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const norm = (a: Vec3) => Math.hypot(a[0], a[1], a[2]);
const unit = (a: Vec3): Vec3 => scaled(a, 1 / (norm(a) || 1));
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const vec = { sub, add, scaled, dot, norm, unit, cross };

export function sampleLine(corners: readonly Corner[], step = 6): Station[] {
  const points: Vec3[] = [];
  corners.forEach((c, i) => {
    const before = corners[i - 1];
    const after = corners[i + 1];
    if (!before || !after || !c.bendRadius) {
      points.push(c.point);
      return;
    }
    points.push(...bend(before.point, c.point, after.point, c.bendRadius, step));
  });
  return measured(refined(points, step));
}

// The arc that rounds one corner; where the legs are too short for it, the largest that fits.
function bend(a: Vec3, b: Vec3, c: Vec3, radius: number, step: number): Vec3[] {
  const u = unit(sub(a, b));
  const v = unit(sub(c, b));
  const angle = Math.PI - Math.acos(Math.max(-1, Math.min(1, dot(u, v)))); // turned through
  if (angle < 1e-6) return [b];
  const half = Math.tan(angle / 2);
  const back = Math.min(radius * half, 0.5 * norm(sub(a, b)), 0.5 * norm(sub(c, b)));
  const r = back / half;
  const start = add(b, u, back);
  const inward = unit(add(u, v));
  const centre = add(b, inward, Math.hypot(r, back));
  const e1 = unit(sub(start, centre));
  const e2 = scaled(u, -1);
  const count = Math.max(3, Math.ceil((r * angle) / step));
  return Array.from({ length: count + 1 }, (_, i) => {
    const a = (angle * i) / count;
    return add(add(centre, e1, r * Math.cos(a)), e2, r * Math.sin(a));
  });
}

function refined(points: readonly Vec3[], step: number): Vec3[] {
  const list: Vec3[] = [];
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b] = [points[i]!, points[i + 1]!];
    const count = Math.max(1, Math.round(norm(sub(b, a)) / step));
    for (let k = 0; k < count; k++) list.push(add(a, sub(b, a), k / count));
  }
  const last = points.at(-1);
  if (last) list.push(last);
  return list;
}

function measured(points: readonly Vec3[]): Station[] {
  let s = 0;
  return points.map((p, i) => {
    if (i > 0) s += norm(sub(p, points[i - 1]!));
    const t = unit(sub(points[Math.min(points.length - 1, i + 1)]!, points[Math.max(0, i - 1)]!));
    return { s, p, t };
  });
}

export const lengthOf = (line: readonly Station[]) => line.at(-1)?.s ?? 0;

// Nearest place on the line to a point, by stations.
export function nearest(line: readonly Station[], point: Vec3): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  line.forEach((q, i) => {
    const d = norm(sub(q.p, point));
    if (d < least) [best, least] = [i, d];
  });
  return best;
}

// Value at arc length s, from pairs in rising s.
export function along(table: readonly (readonly [s: number, v: number])[], s: number): number {
  if (table.length === 0) return 0;
  if (s <= table[0]![0]) return table[0]![1];
  for (let i = 1; i < table.length; i++) {
    const [s1, v1] = table[i]!;
    if (s <= s1) {
      const [s0, v0] = table[i - 1]!;
      return v0 + ((v1 - v0) * (s - s0)) / (s1 - s0 || 1);
    }
  }
  return table.at(-1)![1];
}

// The picture of a twisted bar: each end turned about the straight's axis (along y through the origin) by ±angle, the
// twist spread evenly between the bushings. A picture only: rate and stress come from the program. A positive angle
// lifts the left end of an arm that reaches back (x < 0): turning by a about +y moves z by −x·sin a.
export function twisted(
  line: readonly Station[],
  bushingsY: readonly [right: number, left: number],
  angle: number,
): Vec3[] {
  const [right, left] = bushingsY;
  return line.map(({ p: [x, y, z] }) => {
    const part = Math.max(-1, Math.min(1, (2 * (y - (right + left) / 2)) / (left - right || 1)));
    const [c, s] = [Math.cos(angle * part), Math.sin(angle * part)];
    return [x * c + z * s, y, z * c - x * s];
  });
}
