// Invented samples for the kit sheet. They show the parts and say nothing about any car.
import type { TrendPoint } from "@/api/types";
import type { BarPicture } from "@/charts/BarFlat";
import type { HolePoint } from "@/charts/HoleMap";
import type { WheelLoads } from "@/charts/LeaningCars";
import type { LeanPoint } from "@/charts/LeanPlot";
import type { TurnLines } from "@/charts/TurnCurves";

export const kitLean = "Lean is drawn twice as large as it is; the protractor reads true degrees.";

export const KIT_BAR: BarPicture = {
  diameter: 20,
  bladeWidth: 44,
  corners: [
    { point: [-280, -440, 0], bendRadius: null },
    { point: [0, -440, 0], bendRadius: 45 },
    { point: [0, 440, 0], bendRadius: 45 },
    { point: [-280, 440, 0], bendRadius: null },
  ],
  bushings: [
    { point: [0, -300, 0], width: 40 },
    { point: [0, 300, 0], width: 40 },
  ],
  holes: (["right", "left"] as const).flatMap((side) =>
    [250, 225, 200].map((x, i) => ({ id: String(i + 1), side, point: [-x, side === "left" ? 440 : -440, 0] as const })),
  ),
};

export function kitStress(hole: string) {
  const lever = 275 - 25 * Number(hole);
  return (s: number) => {
    const d = Math.min(s, 1400 - s);
    const reach = 280 - lever;
    if (d < reach) return 0;
    return d < 280 ? (240 * (d - reach)) / lever : 180 + 80 * Math.exp(-(d - 280) / 60);
  };
}

export function kitLoads(g: number, share: number): WheelLoads {
  const move = 428 * g;
  const [f, r] = [move * share, move * (1 - share)];
  return { frontLeft: 359 - f, frontRight: 359 + f, rearLeft: Math.max(0, 220 - r), rearRight: 220 + r };
}

export function kitPoints(): LeanPoint[] {
  return (["before", "after"] as const).flatMap((role, k) =>
    Array.from({ length: 24 }, (_, i) => {
      const g = (i % 2 ? 1 : -1) * (0.3 + 0.012 * i);
      return {
        role,
        g,
        leanDeg: g * (5.5 - 1.1 * k) + 0.12 * Math.sin(3.1 * i + k),
        isLeftOut: role === "before" && i === 4,
      };
    }),
  );
}

export function kitHoles(): HolePoint[] {
  return [0, 1, 2].flatMap((f) =>
    [0, 1, 2, 3].map((r) => {
      const total = 1000 + 60 * f + [0, 150, 230, 330][r]!;
      const share = 20 + (65 * (570 + 60 * f)) / total;
      return {
        id: `${f}/${r}`,
        front: String(f),
        rear: String(r),
        lean: 5600 / total,
        share,
        leanPm: 0.4,
        sharePm: 1.4,
        isBad: share < 48.5,
      };
    }),
  );
}

export function kitOutings(): TrendPoint[] {
  const about = (value: number, pm: number) => ({ value, pm, low: value - pm, high: value + pm });
  return [4.2, 4.3, 4.15, 4.25, 5.3].map((lean, i) => ({
    date: `2026-05-0${i + 1}`,
    name: `day ${i + 1}`,
    setup: "as built",
    roll_gradient_deg_per_g: about(lean, 0.15),
    expected_deg_per_g: i === 0 ? null : about(4.2, 0.9 / Math.sqrt(i)),
    alarm: i === 4 ? "step_up" : "none",
  }));
}

export function kitTrace() {
  const time = Array.from({ length: 600 }, (_, i) => i * 0.05);
  const rollDeg = time.map((t) => {
    const isPass = (t > 3 && t < 12) || (t > 18 && t < 27);
    return (isPass ? 2.4 * Math.sin(2.6 * t) : 0) + 0.1 * Math.sin(17 * t);
  });
  return { time, rollDeg };
}

// Two invented ways to the limit.
export const kitTurn = (["before", "after"] as const).map((role, k): TurnLines => {
  const limit = 0.9 + 0.03 * k;
  const gs = Array.from({ length: 31 }, (_, i) => (limit * i) / 30);
  const line = (of: (g: number) => number) => gs.map((g) => [g, of(g)] as const);
  return {
    role,
    limit: { value: limit, pm: 0.05, low: limit - 0.05, high: limit + 0.05 },
    grip: { front: line((g) => (100 * g) / limit), rear: line((g) => (82 * g) / limit) },
    gradient: line((g) => 2 + 6 * (g / limit) ** 6),
    known: [{ g: 0.41, of: { value: 2.1, pm: 1, low: 1.1, high: 3.1 } }],
    inner: { front: line((g) => 380 - (260 + 30 * k) * g), rear: line((g) => 240 - 230 * g) },
    events: k === 0 ? [{ n: 1, g: 0.84 }] : [],
  };
});
