// The control chart: each outing with its interval, and the limits it was judged by. An alarm has a triangle and a word.
import type { TrendPoint } from "@/api/types";
import { Axes, across, Label, through, upright } from "./plot";
import { scale } from "./scale";

const ALARMS: Record<TrendPoint["alarm"], string> = {
  none: "as before",
  step_up: "leans more, all at once",
  step_down: "leans less, all at once",
  drift_up: "leans more and more",
  drift_down: "leans less and less",
};
export const alarmInWords = (alarm: TrendPoint["alarm"]) => ALARMS[alarm];

export function TrendChart({ points, width }: { points: readonly TrendPoint[]; width: number }) {
  const height = width >= 700 ? 380 : 320;
  const frame = { left: 46, right: width - 14, top: 16, bottom: height - 56 };
  const all = points.flatMap((p) => [
    p.roll_gradient_deg_per_g,
    ...(p.expected_deg_per_g ? [p.expected_deg_per_g] : []),
  ]);
  const [low, high] = [Math.min(...all.map((i) => i.low)), Math.max(...all.map((i) => i.high))];
  const spare = Math.max(0.2, (high - low) * 0.15);
  const X = scale(0.4, points.length + 0.6, frame.left, frame.right);
  const Y = scale(Math.max(0, low - spare), high + spare, frame.bottom, frame.top);
  const band = points.flatMap((p, i) => (p.expected_deg_per_g ? [{ i: i + 1, e: p.expected_deg_per_g }] : []));
  const alarms = points.filter((p) => p.alarm !== "none").length;
  return (
    <svg
      class="dwg"
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={`Lean over ${points.length} outings with the limits each is judged by; ${alarms || "no"} alarm${alarms === 1 ? "" : "s"}`}
    >
      <Axes
        frame={frame}
        x={X}
        y={Y}
        xName="outing"
        yName="lean, degrees for each g"
        xWanted={Math.min(8, points.length)}
      >
        {band.length > 0 && (
          <>
            <path
              class="trend-band"
              d={`${through([
                ...band.map(({ i, e }) => [X(i), Y(e.high)] as const),
                ...band.toReversed().map(({ i, e }) => [X(i), Y(e.low)] as const),
              ])}Z`}
            />
            <path class="fine dashed" d={through(band.map(({ i, e }) => [X(i), Y(e.value)] as const))} />
          </>
        )}
        {points.map((p, k) => {
          const [x, r] = [X(k + 1), p.roll_gradient_deg_per_g];
          const y = Y(r.value);
          return (
            <g key={`${p.date} ${p.name} ${k}`}>
              <path
                class="thin"
                d={upright(x, Y(r.low), Y(r.high)) + across(x - 5, x + 5, Y(r.low)) + across(x - 5, x + 5, Y(r.high))}
              />
              {p.alarm === "none" ? (
                <circle class="mid fill-paper" cx={x} cy={y} r={5} />
              ) : (
                <>
                  <path class="bold alarm" d={`M${x} ${y - 9}l9 16h-18Z`} />
                  <Label x={Math.min(x, frame.right - 70)} y={Y(r.high) - 8} class="halo">
                    {alarmInWords(p.alarm)}
                  </Label>
                </>
              )}
            </g>
          );
        })}
      </Axes>
    </svg>
  );
}
