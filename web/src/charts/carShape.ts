// Line drawings of a car from a few of its numbers, in millimetres, standing on y = 0. Control points are fractions of
// the car's own width, height and length, so that a low wide car looks low and wide. The shapes are our own invention.
import { mirrored, type Segment, straight, trace, twice } from "./path";

export type BodyKind = "hatch" | "van";
export interface CarShape {
  kind: BodyKind;
  track: number;
  width: number;
  height: number;
  wheelbase: number;
  clearance: number; // under the body
  tyreRadius?: number;
  tyreWidth?: number;
}
export interface Stroke {
  pen: "bold" | "mid" | "thin" | "fine";
  d: string;
  filled?: boolean; // with paper, to hide what lies behind
}

const radiusOf = (c: CarShape) => c.tyreRadius ?? (c.kind === "van" ? 330 : 305);

// ---------------------------------------------------------------- rear view, centre x = 0
export interface RearView {
  wheels: Stroke[]; // stay on the ground
  body: Stroke[]; // leans
}

export function rearView(c: CarShape): RearView {
  const wheels = rearWheels(c);
  return { wheels, body: c.kind === "van" ? vanRear(c) : hatchRear(c) };
}

function rearWheels(c: CarShape): Stroke[] {
  const width = c.tyreWidth ?? 195;
  const height = 2 * radiusOf(c);
  const edge = 46;
  const block = (x: number): string => {
    const [l, r] = [x - width / 2, x + width / 2];
    return trace([l + edge, 0], [[r - edge, 0], [r - 12, 0, r, 12, r, edge], [r, height - edge],
      [r, height - 12, r - 12, height, r - edge, height], [l + edge, height], [l + 12, height, l, height - 12, l, height - edge],
      [l, edge], [l, 12, l + 12, 0, l + edge, 0]], true);
  };
  const grooves = (x: number) => [-0.28, 0, 0.28].map((k) => straight(x + k * width, 6, x + k * width, c.clearance + 40)).join("");
  return [-1, 1].flatMap((s): Stroke[] => [
    { pen: "mid", filled: true, d: block((s * c.track) / 2) },
    { pen: "fine", d: grooves((s * c.track) / 2) },
  ]);
}

function hatchRear(c: CarShape): Stroke[] {
  const w = c.width / 2;
  const H = c.height;
  const f = c.clearance;
  const q = (...v: number[]): Segment =>
    v.map((n, i) => n * (i % 2 === 0 ? w : H)) as unknown as Segment;
  const outline: Segment[] = [
    [0.6 * w, f], [0.82 * w, f, 0.9 * w, f + 10, 0.935 * w, f + 72],
    [0.965 * w, f + 150, 0.985 * w, 0.28 * H, 0.992 * w, 0.36 * H],
    q(1.006, 0.42, 1.004, 0.5, 0.984, 0.556), q(0.968, 0.61, 0.942, 0.64, 0.92, 0.664),
    q(0.872, 0.79, 0.828, 0.885, 0.788, 0.94), q(0.757, 0.98, 0.66, 0.989, 0.5, 0.994), q(0.3, 1, 0.1, 1, 0, 1),
  ];
  const gate: Segment[] = [
    q(0.6, 0.39), q(0.7, 0.392, 0.745, 0.41, 0.765, 0.45), q(0.815, 0.6, 0.83, 0.64, 0.81, 0.68), q(0.715, 0.915),
    q(0.7, 0.945, 0.66, 0.949, 0.6, 0.951), q(0, 0.957),
  ];
  const glass: Segment[] = [
    q(0.6, 0.672), q(0.72, 0.675, 0.745, 0.69, 0.725, 0.725), q(0.655, 0.855), q(0.635, 0.893, 0.6, 0.9, 0.54, 0.903), q(0, 0.91),
  ];
  const lamp: Segment[] = [
    q(0.86, 0.515, 0.94, 0.505, 0.994, 0.5), q(0.994, 0.56, 0.97, 0.61, 0.93, 0.65), q(0.82, 0.655), q(0.825, 0.62, 0.81, 0.58, 0.79, 0.52),
  ];
  const mirror: Segment[] = [
    q(0.99, 0.65, 1.1, 0.65, 1.105, 0.69), q(1.1, 0.725, 1, 0.735, 0.9, 0.7),
  ];
  const plate = 0.475 * H;
  return [
    { pen: "mid", filled: true, d: twice([0.925 * w, 0.655 * H], mirror, true) },
    { pen: "bold", filled: true, d: mirrored([0, f], outline) },
    { pen: "thin", d: mirrored([0, 0.385 * H], gate) },
    { pen: "mid", d: mirrored([0, 0.665 * H], glass) },
    { pen: "mid", d: twice([0.79 * w, 0.52 * H], lamp) },
    { pen: "fine", d: twice([0.806 * w, 0.565 * H], [[0.982 * w, 0.56 * H]]) },
    { pen: "thin", d: trace([-0.99 * w, 0.36 * H], [[-0.6 * w, 0.335 * H, 0.6 * w, 0.335 * H, 0.99 * w, 0.36 * H]]) },
    { pen: "thin", d: trace([-250, plate], [[250, plate], [250, plate + 104], [-250, plate + 104]], true) },
    { pen: "fine", d: trace([-0.93 * w, f + 70], [[-0.5 * w, f + 85, 0.5 * w, f + 85, 0.93 * w, f + 70]]) + straight(-0.1 * w, 0.7 * H, 0.42 * w, 0.715 * H) },
  ];
}

function vanRear(c: CarShape): Stroke[] {
  const w = c.width / 2;
  const H = c.height;
  const f = c.clearance;
  const q = (...v: number[]): Segment => v.map((n, i) => n * (i % 2 === 0 ? w : H)) as unknown as Segment;
  const outline: Segment[] = [
    [0.7 * w, f], [0.9 * w, f, 0.95 * w, f + 30, 0.96 * w, f + 110], q(0.985, 0.28, 1, 0.34, 1, 0.45),
    q(1, 0.6, 0.97, 0.78, 0.93, 0.92), q(0.92, 0.975, 0.86, 0.99, 0.72, 0.994), q(0.4, 1, 0.2, 1, 0, 1),
  ];
  const glass: Segment[] = [
    q(0.4, 0.6), q(0.78, 0.6, 0.8, 0.605, 0.8, 0.63), q(0.77, 0.86), q(0.765, 0.885, 0.74, 0.89, 0.7, 0.892), q(0, 0.897),
  ];
  const mirror: Segment[] = [q(1, 0.55, 1.12, 0.55, 1.12, 0.6), q(1.12, 0.66, 1.02, 0.67, 0.95, 0.66)];
  const plate = 0.42 * H;
  return [
    { pen: "mid", filled: true, d: twice([0.95 * w, 0.56 * H], mirror, true) },
    { pen: "bold", filled: true, d: mirrored([0, f], outline) },
    { pen: "thin", d: trace([-0.86 * w, 0.34 * H], [[0.86 * w, 0.34 * H], [0.84 * w, 0.95 * H], [-0.84 * w, 0.95 * H]], true) + straight(0, 0.34 * H, 0, 0.95 * H) },
    { pen: "mid", d: mirrored([0, 0.6 * H], glass) },
    { pen: "mid", d: twice([0.9 * w, 0.36 * H], [[0.985 * w, 0.36 * H], [0.985 * w, 0.56 * H], [0.9 * w, 0.56 * H]], true) },
    { pen: "thin", d: trace([-0.97 * w, f + 110], [[-0.6 * w, f + 92, 0.6 * w, f + 92, 0.97 * w, f + 110]]) },
    { pen: "thin", d: trace([-250, plate], [[250, plate], [250, plate + 104], [-250, plate + 104]], true) },
  ];
}
