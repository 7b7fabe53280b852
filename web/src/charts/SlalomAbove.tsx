// A slalom from above: cones, the line each car takes, and both cars at one moment. Each car has its own lane, so that
// they do not cover each other; the picture follows them where the screen is narrow.
import { Strokes } from "./Car";
import { carAbove } from "./carAbove";
import type { CarShape } from "./carShape";
import type { Role } from "./marks";
import { strokeOf } from "./marks";
import { polyline } from "./path";
import { Drawing, Text } from "./pen";

export interface Moment {
  x: number; // m along
  y: number; // m to the left
  heading: number; // deg to the left
}
export interface SlalomLane {
  role: Role;
  line: readonly Moment[];
  now: Moment;
  hits: readonly number[]; // cones that fall, by number from 0
}

const M = 1000; // mm
const LANE = 9 * M;

export function SlalomAbove(p: {
  lanes: readonly SlalomLane[];
  cones: readonly { x: number; y: number }[];
  shape: CarShape;
  width: number;
  label: string;
}) {
  const first = Math.min(...p.lanes.flatMap((l) => l.line.map((q) => q.x)), 0) * M;
  const last = Math.max(...p.lanes.flatMap((l) => l.line.map((q) => q.x)), 10) * M;
  const whole = last - first + 6 * M;
  // No smaller than five pixels a metre, or a car is a speck.
  const seen = Math.min(whole, (p.width / 5) * M);
  const ahead = Math.max(...p.lanes.map((l) => l.now.x)) * M;
  const from = Math.max(first - 3 * M, Math.min(last + 3 * M - seen, ahead - 0.6 * seen));
  const u = seen / p.width;
  const top = (LANE * p.lanes.length) / 2 + 14 * u;
  return (
    <Drawing class="clipped" box={[from, top, seen, 2 * top]} label={p.label}>
      {p.lanes.map((lane, i) => {
        const y = ((p.lanes.length - 1) / 2 - i) * LANE;
        return (
          <g key={lane.role} transform={`translate(0 ${-y})`}>
            <path class={`thin ${strokeOf(lane.role)}`} d={polyline(lane.line.map((q) => [q.x * M, q.y * M]))} />
            {p.cones.map((c, k) => (
              <Cone key={k} x={c.x * M} y={c.y * M} u={u} isHit={lane.hits.includes(k)} />
            ))}
            <g
              transform={`translate(${(lane.now.x * M).toFixed(0)} ${(-lane.now.y * M).toFixed(0)}) rotate(${(-lane.now.heading).toFixed(2)})`}
            >
              <Strokes of={carAbove(p.shape)} />
            </g>
            <Text x={from + 6 * u} y={LANE / 2 - 22 * u} u={u} px={16} class={lane.role} anchor="start">
              {lane.role}
            </Text>
          </g>
        );
      })}
    </Drawing>
  );
}

function Cone({ x, y, u, isHit }: { x: number; y: number; u: number; isHit: boolean }) {
  const r = Math.max(180, 3.4 * u);
  if (isHit) return <path class="bold" d={`M${x - r} ${-y - r}l${2 * r} ${2 * r}m0 ${-2 * r}l${-2 * r} ${2 * r}`} />;
  return (
    <>
      <circle class="mid fill-paper" cx={x} cy={-y} r={r} />
      <circle class="solid" cx={x} cy={-y} r={r * 0.35} />
    </>
  );
}
