// The car from above, nose to +x, middle of the wheelbase at the origin, in millimetres.
import type { CarShape, Stroke } from "./carShape";
import { polyline, type Segment, straight, trace } from "./path";

export function carAbove(c: CarShape): Stroke[] {
  const half = c.width / 2;
  const [front, rear] = c.kind === "van" ? [900, 980] : [815, 665];
  const nose = c.wheelbase / 2 + front;
  const tail = -(c.wheelbase / 2 + rear);
  const corner = 0.32 * c.width;
  const left: Segment[] = [
    [nose, 0.62 * half, nose - 0.1 * corner, half, nose - corner, half],
    [tail + 0.6 * corner, half],
    [tail + 0.1 * corner, half, tail, 0.8 * half, tail, 0.5 * half],
  ];
  const right: Segment[] = [
    [tail, -0.5 * half],
    [tail, -0.8 * half, tail + 0.1 * corner, -half, tail + 0.6 * corner, -half],
    [nose - corner, -half],
    [nose - 0.1 * corner, -half, nose, -0.62 * half, nose, 0],
  ];
  const screen = nose - (c.kind === "van" ? 0.5 : 1.0) * front - 200;
  const back = tail + 0.5 * rear;
  const glass = 0.78 * half;
  return [
    { pen: "mid", filled: true, d: trace([nose, 0], [...left, ...right], true) },
    {
      pen: "thin",
      d: polyline(
        [
          [screen, -glass],
          [screen + 120, 0],
          [screen, glass],
          [screen - 420, 0.68 * half],
          [screen - 420, -0.68 * half],
        ],
        true,
      ),
    },
    {
      pen: "thin",
      d: polyline(
        [
          [back, -0.66 * half],
          [back + 260, -0.6 * half],
          [back + 260, 0.6 * half],
          [back, 0.66 * half],
        ],
        true,
      ),
    },
    {
      pen: "fine",
      d:
        straight(screen - 420, 0.68 * half, back + 260, 0.6 * half) +
        straight(screen - 420, -0.68 * half, back + 260, -0.6 * half),
    },
  ];
}
