// A car drawn from its numbers. In the rear view the body leans about a pivot near the ground, the wheels stay.
import type { ComponentChildren } from "preact";
import { type CarShape, rearView, type Stroke } from "./carShape";
import type { SideView } from "./carSide";

export function Strokes({ of }: { of: readonly Stroke[] }) {
  return (
    <>
      {of.map((s, i) => (
        <path key={i} class={`${s.pen}${s.filled ? " fill-paper" : ""}`} d={s.d} />
      ))}
    </>
  );
}

export function RearCar(p: {
  shape: CarShape;
  leanDeg?: number;
  pivot?: number;
  inside?: ComponentChildren;
  x?: number;
}) {
  const { wheels, body } = rearView(p.shape);
  const lean = p.leanDeg ?? 0;
  // SVG turns clockwise for positive angles, which is to the right as seen from behind: positive roll.
  return (
    <g transform={p.x ? `translate(${p.x} 0)` : undefined}>
      <Strokes of={wheels} />
      <g transform={lean ? `rotate(${lean.toFixed(3)} 0 ${-(p.pivot ?? PIVOT)})` : undefined}>
        <Strokes of={body} />
        {p.inside}
      </g>
    </g>
  );
}

// Drawn height of the roll axis above the ground; near enough for a picture, the numbers come from the forecast.
export const PIVOT = 90;

export const SideCar = ({ view }: { view: SideView }) => <Strokes of={view.strokes} />;
