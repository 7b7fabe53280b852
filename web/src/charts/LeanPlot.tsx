// Lean against lateral g: marks of what was found, the fitted lines and the band each lies in.
import type { Interval } from "@/base/estimate";
import { Mark, type Role, strokeOf } from "./marks";
import { Axes, Label, through } from "./plot";
import { scale } from "./scale";

export interface LeanPoint {
  role: Role;
  g: number;
  leanDeg: number;
  isLeftOut?: boolean;
}
export interface LeanLine {
  role: Role;
  degPerG: Interval;
}

export function LeanPlot(p: {
  points: readonly LeanPoint[];
  lines: readonly LeanLine[];
  width: number;
  label: string;
}) {
  const isRoomy = p.width >= 700;
  const height = isRoomy ? 500 : 380;
  const frame = { left: isRoomy ? 58 : 42, right: p.width - 14, top: 14, bottom: height - 56 };
  const reach = Math.max(0.3, ...p.points.map((d) => Math.abs(d.g))) * 1.12;
  const steepest = Math.max(
    0.5,
    ...p.lines.map((l) => Math.abs(l.degPerG.high) * reach),
    ...p.points.map((d) => Math.abs(d.leanDeg)),
  );
  const X = scale(-reach, reach, frame.left, frame.right);
  const Y = scale(-steepest * 1.08, steepest * 1.08, frame.bottom, frame.top);
  return (
    <svg class="dwg" viewBox={`0 0 ${p.width} ${height}`} role="img" aria-label={p.label}>
      <Axes
        frame={frame}
        x={X}
        y={Y}
        xName="how hard the corner pulls, g"
        yName="lean, degrees"
        xWanted={isRoomy ? 8 : 4}
      >
        {p.lines.map(({ role, degPerG: k }) => (
          <g key={role}>
            <path
              class={`band-${role}`}
              d={`${through([
                [X(-reach), Y(-reach * k.low)],
                [X(0), Y(0)],
                [X(reach), Y(reach * k.high)],
                [X(reach), Y(reach * k.low)],
                [X(0), Y(0)],
                [X(-reach), Y(-reach * k.high)],
              ])}Z`}
            />
            <path
              class={`bold ${strokeOf(role)}`}
              d={through([
                [X(-reach), Y(-reach * k.value)],
                [X(reach), Y(reach * k.value)],
              ])}
            />
          </g>
        ))}
        {p.points.map((d, i) =>
          d.isLeftOut ? (
            <path key={i} class="fine" d={`M${X(d.g) - 4} ${Y(d.leanDeg) - 4}l8 8m0 -8l-8 8`} />
          ) : (
            <Mark key={i} role={d.role} x={X(d.g)} y={Y(d.leanDeg)} />
          ),
        )}
        {p.lines.map(({ role, degPerG: k }) => (
          <Label
            key={role}
            x={X(reach * 0.97)}
            y={Y(reach * 0.97 * k.value) + (k.value >= Math.max(...p.lines.map((l) => l.degPerG.value)) ? -14 : 34)}
            px={18}
            anchor="end"
            class={`${role} halo`}
          >
            {role}
          </Label>
        ))}
      </Axes>
    </svg>
  );
}
