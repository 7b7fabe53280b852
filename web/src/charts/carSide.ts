// Side view, front to the left, nose at x = 0, from the same numbers as the rear view.
import type { CarShape, Stroke } from "./carShape";
import { at, circlePath, type Segment, straight, trace } from "./path";

export interface SideView {
  strokes: Stroke[];
  length: number;
  frontAxle: number;
  rearAxle: number;
  tyreRadius: number;
  archTop: number; // lip of the front wheel arch above the ground
}

export function sideView(c: CarShape): SideView {
  const isVan = c.kind === "van";
  const [front, rear] = isVan ? [900, 980] : [815, 665];
  const length = front + c.wheelbase + rear;
  const tyre = c.tyreRadius ?? (isVan ? 330 : 305);
  const arch = tyre + 52;
  const [xf, xr] = [front, front + c.wheelbase];
  const f = c.clearance;
  const H = c.height;
  const q = (...v: number[]): Segment => v.map((n, i) => n * (i % 2 === 0 ? length : H)) as unknown as Segment;

  // From the front sill upwards over the roof and down to the rear bumper.
  const over: Segment[] = isVan
    ? [[5, f + 160, -5, 0.26 * H, 25, 0.34 * H], [70, 0.42 * H, 0.06 * length, 0.46 * H, 0.12 * length, 0.5 * H],
       q(0.17, 0.66, 0.22, 0.86, 0.29, 0.94), q(0.33, 0.985, 0.38, 1, 0.48, 1), q(0.93, 0.99), q(0.985, 0.985, 0.99, 0.96, 0.992, 0.9), q(0.998, 0.36)]
    : [[20, f + 130, -10, 0.27 * H, 22, 0.385 * H], [45, 0.46 * H, 0.035 * length, 0.495 * H, 0.07 * length, 0.525 * H],
       q(0.13, 0.575, 0.2, 0.61, 0.262, 0.635), q(0.3, 0.74, 0.355, 0.89, 0.41, 0.945), q(0.46, 0.995, 0.6, 1.006, 0.72, 0.985),
       q(0.8, 0.968, 0.85, 0.945, 0.892, 0.915), q(0.885, 0.885), q(0.915, 0.8, 0.94, 0.72, 0.962, 0.645), q(0.978, 0.6, 0.984, 0.54, 0.984, 0.475),
       q(0.998, 0.43, 1.002, 0.36, 0.998, 0.28)];
  const down: Segment[] = [[0.996 * length, f + 70, 0.985 * length, f + 40, 0.965 * length, f + 35]];
  const lip = f + 45;
  const overWheel = (x: number) => `L${at(x + arch, lip)}A${arch} ${arch} 0 0 0 ${at(x - arch, lip)}`;
  const outline = `${trace([70, f + 60], [...over, ...down])}${overWheel(xr)}L${at(xf + arch, f + 10)}${overWheel(xf)}L${at(70, f + 60)}Z`;

  return {
    strokes: [
      { pen: "bold", filled: true, d: outline },
      ...(isVan ? vanSide(c, length) : hatchSide(c, length, xf, xr, arch)),
      ...wheel(xf, tyre),
      ...wheel(xr, tyre),
    ],
    length,
    frontAxle: xf,
    rearAxle: xr,
    tyreRadius: tyre,
    archTop: tyre + arch,
  };
}

function wheel(x: number, radius: number): Stroke[] {
  const openings = Array.from({ length: 8 }, (_, i) => {
    const a = (i * Math.PI) / 4 + 0.39;
    return circlePath(x + Math.cos(a) * radius * 0.4, radius + Math.sin(a) * radius * 0.4, radius * 0.085);
  });
  return [
    { pen: "bold", filled: true, d: circlePath(x, radius, radius) },
    { pen: "mid", d: circlePath(x, radius, radius * 0.64) },
    { pen: "fine", d: circlePath(x, radius, radius * 0.58) },
    { pen: "thin", d: openings.join("") + circlePath(x, radius, radius * 0.13) },
  ];
}

function hatchSide(c: CarShape, L: number, xf: number, xr: number, arch: number): Stroke[] {
  const H = c.height;
  const f = c.clearance;
  const q = (...v: number[]): Segment => v.map((n, i) => n * (i % 2 === 0 ? L : H)) as unknown as Segment;
  const p = (x: number, y: number) => [x * L, y * H] as const;
  return [
    { pen: "mid", d: trace(p(0.302, 0.655), [q(0.335, 0.75, 0.37, 0.86, 0.415, 0.9), q(0.45, 0.93, 0.5, 0.94, 0.545, 0.942), q(0.548, 0.672)], true) +
        trace(p(0.575, 0.674), [q(0.572, 0.942), q(0.66, 0.94, 0.74, 0.925, 0.79, 0.895), q(0.815, 0.85, 0.83, 0.77, 0.835, 0.7)], true) },
    { pen: "thin", d: trace(p(0.56, 0.96), [q(0.56, 0.4), [0.56 * L, 0.25 * H, 0.56 * L, f + 90, 0.55 * L, f + 75], [xf + arch + 150, f + 75],
          [0.3 * L, f + 90, 0.285 * L, 0.35 * H, 0.285 * L, 0.62 * H]]) +
        trace([0.56 * L, f + 75], [[xr - arch - 40, f + 75], [xr - arch - 20, 0.34 * H, xr - arch + 120, 0.46 * H, xr - arch + 210, 0.5 * H],
          q(0.83, 0.6, 0.85, 0.66, 0.845, 0.7)]) },
    { pen: "fine", d: trace(p(0.13, 0.51), [q(0.35, 0.575, 0.65, 0.6, 0.93, 0.59)]) + straight(xf + arch + 20, f + 120, xr - arch - 20, f + 130) },
    { pen: "mid", d: straight(0.495 * L, 0.56 * H, 0.535 * L, 0.562 * H) + straight(0.72 * L, 0.575 * H, 0.76 * L, 0.577 * H) },
    { pen: "mid", d: trace([24, 0.4 * H], [q(0.05, 0.425, 0.085, 0.455, 0.108, 0.52), q(0.09, 0.53, 0.06, 0.51, 0.045, 0.5)]) +
        trace(p(0.984, 0.49), [q(0.95, 0.49, 0.915, 0.5, 0.905, 0.525), q(0.92, 0.59, 0.94, 0.62, 0.972, 0.62)]) },
    { pen: "thin", d: trace(p(0.305, 0.64), [q(0.32, 0.7, 0.355, 0.7, 0.36, 0.66), q(0.33, 0.645)], true) },
    { pen: "fine", d: straight(0.985 * L, 0.4 * H, xr + arch + 10, 0.37 * H) + straight(10, 0.3 * H, xf - arch - 10, 0.33 * H) },
  ];
}

function vanSide(c: CarShape, L: number): Stroke[] {
  const H = c.height;
  const f = c.clearance;
  const q = (...v: number[]): Segment => v.map((n, i) => n * (i % 2 === 0 ? L : H)) as unknown as Segment;
  const p = (x: number, y: number) => [x * L, y * H] as const;
  return [
    { pen: "mid", d: trace(p(0.165, 0.54), [q(0.2, 0.68, 0.235, 0.82, 0.29, 0.885), q(0.4, 0.89), q(0.4, 0.545)], true) },
    { pen: "thin", d: trace(p(0.47, 0.585), [q(0.69, 0.585), q(0.69, 0.885), q(0.47, 0.885)], true) },
    { pen: "thin", d: straight(0.42 * L, f + 90, 0.42 * L, 0.95 * H) + straight(0.72 * L, 0.95 * H, 0.72 * L, 0.62 * H) + straight(0.44 * L, 0.5 * H, 0.99 * L, 0.5 * H) },
    { pen: "mid", d: straight(0.365 * L, 0.47 * H, 0.4 * L, 0.47 * H) + straight(0.435 * L, 0.47 * H, 0.47 * L, 0.47 * H) },
  ];
}
