// Axes: a straight mapping from numbers to pixels, and ticks people read easily.

export type Scale = ((value: number) => number) & { from: number; to: number };

export function scale(from: number, to: number, pixelFrom: number, pixelTo: number): Scale {
  const span = to - from || 1;
  const map = (value: number) => pixelFrom + ((value - from) / span) * (pixelTo - pixelFrom);
  return Object.assign(map, { from, to });
}

// Steps of 1, 2 or 5 × 10ⁿ, about `wanted` of them.
export function ticks(from: number, to: number, wanted = 5): number[] {
  const [low, high] = from <= to ? [from, to] : [to, from];
  const raw = (high - low) / Math.max(1, wanted);
  if (!(raw > 0) || !Number.isFinite(raw)) return [low];
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= raw * 0.999)!;
  const list: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + step * 1e-9; k++)
    list.push(Number((k * step).toPrecision(12)));
  return list;
}

export function tickDecimals(list: readonly number[]): number {
  const step = list.length > 1 ? Math.abs(list[1]! - list[0]!) : 1;
  return Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
}

// The range of the numbers with a margin on both sides, so that no mark sits on the frame.
export function span(values: readonly number[], margin = 0.08): [number, number] {
  const finite = values.filter(Number.isFinite);
  if (finite.length === 0) return [0, 1];
  const low = Math.min(...finite);
  const high = Math.max(...finite);
  const pad = (high - low || Math.abs(high) || 1) * margin;
  return [low - pad, high + pad];
}
