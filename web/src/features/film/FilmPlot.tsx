// Lean over time of one or two films with its band, and the cones standing on it. Two films lie on one time: cones.
import type { FilmRoll } from "@/api/types";
import { Mark, type Role, strokeOf } from "@/charts/marks";
import { Axes, through, upright } from "@/charts/plot";
import { scale, span } from "@/charts/scale";

export interface FilmLine {
  role: Role;
  film: FilmRoll;
  cones: readonly number[]; // times; empty: seconds are shown
}

// Cones from the first, from a time: even between two, and on at the last pace beyond.
export function phaseAt(cones: readonly number[], t: number): number {
  const n = cones.length;
  if (n < 2) return t;
  let i = cones.findIndex((c) => c > t) - 1;
  if (i < 0) i = t < cones[0]! ? 0 : n - 2;
  return i + (t - cones[i]!) / (cones[i + 1]! - cones[i]!);
}

export function FilmPlot(p: { lines: readonly FilmLine[]; width: number; at?: number | null; label: string }) {
  const height = 280;
  const frame = { left: 46, right: p.width - 12, top: 14, bottom: height - 48 };
  const isByCone = p.lines.every((l) => l.cones.length >= 2);
  const xOf = (l: FilmLine, t: number) => (isByCone ? phaseAt(l.cones, t) + 1 : t);
  const xs = p.lines.flatMap((l) =>
    [l.film.frames[0], l.film.frames.at(-1)].flatMap((f) => (f ? [xOf(l, f.time_s)] : [])),
  );
  const ys = p.lines.flatMap((l) =>
    l.film.frames.flatMap((f) => [f.roll_deg.value - band(f), f.roll_deg.value + band(f)]),
  );
  const X = scale(Math.min(...xs), Math.max(...xs), frame.left, frame.right);
  const Y = scale(...span([...ys, 0], 0.08), frame.bottom, frame.top);
  return (
    <svg class="dwg" viewBox={`0 0 ${p.width} ${height}`} role="img" aria-label={p.label}>
      <Axes
        frame={frame}
        x={X}
        y={Y}
        xName={isByCone ? "cone" : "seconds"}
        yName="lean, degrees (to the right is up)"
        yWanted={5}
      >
        {p.lines.map((l) => (
          <g key={l.role}>
            {stretches(l.film).map((frames) => (
              <g key={frames[0]!.time_s}>
                <path
                  class={`film-band ${l.role}`}
                  d={`${through([
                    ...frames.map((f) => [X(xOf(l, f.time_s)), Y(f.roll_deg.value + band(f))] as const),
                    ...[...frames].reverse().map((f) => [X(xOf(l, f.time_s)), Y(f.roll_deg.value - band(f))] as const),
                  ])}Z`}
                />
                <path
                  class={`thin ${strokeOf(l.role)}`}
                  d={through(frames.map((f) => [X(xOf(l, f.time_s)), Y(f.roll_deg.value)] as const))}
                />
              </g>
            ))}
            {l.film.cones.map((c) => (
              <Mark key={c.time_s} role={l.role} x={X(xOf(l, c.time_s))} y={Y(c.peak_deg.value)} />
            ))}
          </g>
        ))}
        {p.at != null && <path class="thin" d={upright(X(p.at), frame.top, frame.bottom)} />}
      </Axes>
    </svg>
  );
}

const band = (f: FilmRoll["frames"][number]) => 1.96 * f.standard_error_deg;

// Where the car was hidden for a while the line breaks; thinned to what a screen can show.
function stretches(film: FilmRoll): FilmRoll["frames"][] {
  const every = Math.max(1, Math.ceil(film.frames.length / 1500));
  const kept = film.frames.filter((_, i) => i % every === 0);
  const out: FilmRoll["frames"][] = [];
  for (const f of kept) {
    const last = out.at(-1)?.at(-1);
    if (last && f.time_s - last.time_s < Math.max(0.2, every * 0.1)) out.at(-1)!.push(f);
    else out.push([f]);
  }
  return out;
}
