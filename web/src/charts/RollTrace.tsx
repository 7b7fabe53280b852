// Roll over time of one recording, with the passes that were found standing on the time line.
import type { Role } from "./marks";
import { strokeOf } from "./marks";
import { Axes, Label, through } from "./plot";
import { scale, span } from "./scale";

export interface FoundPass {
  id: string;
  from: number; // s
  to: number;
  isLeftOut?: boolean;
}
export interface Trace {
  time: readonly number[]; // s
  rollDeg: readonly number[];
}

export function RollTrace(p: { role: Role; trace: Trace; passes: readonly FoundPass[]; width: number; label: string }) {
  const height = 220;
  const frame = { left: 42, right: p.width - 10, top: 26, bottom: height - 46 };
  const last = p.trace.time.at(-1) ?? 1;
  const X = scale(p.trace.time[0] ?? 0, last, frame.left, frame.right);
  const Y = scale(...span([...p.trace.rollDeg, 0], 0.1), frame.bottom, frame.top);
  // One point per pixel is all a screen can show: the lowest and highest of each column keep the peaks.
  const points = thin(p.trace, Math.max(100, p.width)).map(([t, v]) => [X(t), Y(v)] as const);
  return (
    <svg class="dwg" viewBox={`0 0 ${p.width} ${height}`} role="img" aria-label={p.label}>
      <Axes frame={frame} x={X} y={Y} xName="seconds" yName="lean, degrees" yWanted={4}>
        {p.passes.map((pass, i) => {
          const [a, b] = [X(pass.from), X(pass.to)];
          const y = frame.top - 6;
          return (
            <g key={pass.id}>
              <path class={pass.isLeftOut ? "thin origin-guess" : "mid"} d={`M${a} ${y + 5}V${y}H${b}V${y + 5}`} />
              <path class="fine" d={`M${a} ${frame.top}V${frame.bottom}M${b} ${frame.top}V${frame.bottom}`} />
              {b - a > 16 && (
                <Label x={(a + b) / 2} y={y - 5} px={14} class={pass.isLeftOut ? "soft" : ""}>
                  {pass.isLeftOut ? "✕" : i + 1}
                </Label>
              )}
            </g>
          );
        })}
        <path class={`thin ${strokeOf(p.role).replace("dashed", "")}`} d={through(points)} />
      </Axes>
    </svg>
  );
}

export function thin(trace: Trace, columns: number): [number, number][] {
  const n = trace.time.length;
  if (n <= columns * 2) return trace.time.map((t, i) => [t, trace.rollDeg[i] ?? 0]);
  const kept: [number, number][] = [];
  for (let c = 0; c < columns; c++) {
    const from = Math.floor((c * n) / columns);
    const to = Math.floor(((c + 1) * n) / columns);
    let [low, high] = [from, from];
    for (let i = from; i < to; i++) {
      if (trace.rollDeg[i]! < trace.rollDeg[low]!) low = i;
      if (trace.rollDeg[i]! > trace.rollDeg[high]!) high = i;
    }
    for (const i of low < high ? [low, high] : low > high ? [high, low] : [low])
      kept.push([trace.time[i]!, trace.rollDeg[i]!]);
  }
  return kept;
}
