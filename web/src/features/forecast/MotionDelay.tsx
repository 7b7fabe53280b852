// The delay made visible: lateral g and lean of one run on one line, brought to the same height. Where they part, the body
// is late. It shows the moment of the replay, wide enough for a few hundredths of a second to be seen.
import type { SlalomForecast } from "@/api/types";
import { plain } from "@/base/format";
import type { Role } from "@/charts/marks";
import { strokeOf } from "@/charts/marks";
import { across, Label, through, upright } from "@/charts/plot";
import { scale } from "@/charts/scale";
import { normalised } from "./motionModel";

const STRIP = 120;
const WINDOW = 0.8; // s before and after the moment shown

export function MotionDelay(p: { runs: readonly { s: SlalomForecast; role: Role }[]; time: number; width: number }) {
  const height = p.runs.length * STRIP + 22;
  const X = scale(p.time - WINDOW, p.time + WINDOW, 4, p.width - 4);
  return (
    <svg
      class="dwg clipped"
      viewBox={`0 0 ${p.width} ${height}`}
      role="img"
      aria-label={p.runs
        .map(
          ({ s, role }) =>
            `${role}: the lean follows the sideways pull by ${plain(s.roll_delay_s.value * 1000, 0)} milliseconds`,
        )
        .join("; ")}
    >
      {p.runs.map(({ s, role }, i) => {
        const Y = scale(-1.1, 1.1, (i + 1) * STRIP - 6, i * STRIP + 20);
        const points = normalised(s.replay).filter((q) => Math.abs(q.t - p.time) < WINDOW + 0.1);
        return (
          <g key={role}>
            <path class="grid" d={across(4, p.width - 4, Y(0))} />
            <path class="fine" d={through(points.map((q) => [X(q.t), Y(q.pull)]))} />
            <path class={`bold ${strokeOf(role)}`} d={through(points.map((q) => [X(q.t), Y(q.lean)]))} />
            <Label x={6} y={i * STRIP + 15} px={15} anchor="start" class={`${role} halo`}>
              {role}: lean {plain(s.roll_delay_s.value * 1000, 0)} ms after the pull
            </Label>
          </g>
        );
      })}
      <path class="mid" d={upright(X(p.time), 4, height - 20)} />
      <Label x={Math.min(p.width - 30, Math.max(30, X(p.time)))} y={height - 4} px={14} class="soft">
        {plain(p.time, 1)} s
      </Label>
    </svg>
  );
}
