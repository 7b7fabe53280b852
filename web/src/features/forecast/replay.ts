// The run at one time: between the moments the program gives.
import type { SlalomForecast, SlalomMoment } from "@/api/types";

export const durationOf = (setups: readonly SlalomForecast[]) =>
  Math.max(0, ...setups.map((s) => s.replay.at(-1)?.time_s ?? 0));

export function momentAt(replay: readonly SlalomMoment[], time: number): SlalomMoment | null {
  const last = replay.at(-1);
  if (!last) return null;
  const i = replay.findIndex((m) => m.time_s >= time);
  if (i < 0) return last;
  if (i === 0) return replay[0]!;
  const [a, b] = [replay[i - 1]!, replay[i]!];
  const k = (time - a.time_s) / (b.time_s - a.time_s || 1);
  const mix = (key: keyof SlalomMoment) => a[key] + k * (b[key] - a[key]);
  return {
    time_s: time,
    x_m: mix("x_m"),
    y_m: mix("y_m"),
    heading_deg: mix("heading_deg"),
    roll_deg: mix("roll_deg"),
    steer_deg: mix("steer_deg"),
    lateral_g: mix("lateral_g"),
  };
}

export const hitsOf = (s: SlalomForecast): number[] => s.passes.flatMap((p, i) => (p.clearance_mm < 0 ? [i] : []));
