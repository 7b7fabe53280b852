// Balloons for points that lie too close together to tap: one column or row per group, a finger apart, each with a
// leader to its point. Pixels, y down.

export interface Crowded {
  group: string;
  x: number; // fractions of the box
  y: number;
}
export interface Placed {
  x: number;
  y: number;
  atX: number;
  atY: number;
}

const PITCH = 48; // a finger
const OUT = 64; // length of the leaders, about

export function spread(points: readonly Crowded[], box: { width: number; height: number }): Placed[] {
  const placed: Placed[] = points.map((p) => ({ x: 0, y: 0, atX: p.x * box.width, atY: p.y * box.height }));
  const groups = new Map<string, number[]>();
  for (const [i, p] of points.entries()) groups.set(p.group, [...(groups.get(p.group) ?? []), i]);
  const lanes = new Map<number, [number, number][]>();
  for (const members of groups.values()) {
    const mid = mean(members.map((i) => placed[i]!.atX));
    const high = mean(members.map((i) => placed[i]!.atY));
    // Rows keep clear of the bar: above it in the lower half there is no room, so go to the nearer edge.
    const isTop = high < box.height / 2;
    const y = clamp(high + (isTop ? -OUT : OUT), 26, box.height - 26);
    const order = members.toSorted((a, b) => placed[a]!.atX - placed[b]!.atX);
    const wide = (order.length - 1) * PITCH;
    const lane = lanes.get(isTop ? 0 : 1) ?? [];
    let from = clamp(mid - wide / 2, 26, Math.max(26, box.width - 26 - wide));
    for (const [a, b] of lane)
      if (from < b + PITCH && from + wide > a - PITCH)
        from = mid > box.width / 2 ? Math.min(b + PITCH, box.width - 26 - wide) : Math.max(26, a - PITCH - wide);
    lanes.set(isTop ? 0 : 1, [...lane, [from, from + wide]]);
    order.forEach((i, k) => {
      placed[i] = { ...placed[i]!, x: from + k * PITCH, y };
    });
  }
  return placed;
}

const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / Math.max(1, list.length);
const clamp = (v: number, low: number, high: number) => Math.min(Math.max(v, low), Math.max(low, high));
