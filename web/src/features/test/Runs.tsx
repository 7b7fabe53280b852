// The runs that were found: leave one out, move its ends by a cone, or mark one that was not found. The answer follows.
import { useState } from "preact/hooks";
import type { Outing, Overview } from "@/api/types";
import { MarkInText, type Role, strokeOf } from "@/charts/marks";
import { Axes, Label, through } from "@/charts/plot";
import { scale, span } from "@/charts/scale";
import { Num } from "@/widgets/Num";
import { Twin } from "@/widgets/small";
import { type BySide, putWork, type Stretch, touches } from "./choices";
import { isTakenOut, type Run, runsOf, stretchOf } from "./model";

const ROLES = ["before", "after"] as const;

interface Sides {
  before: Outing | null;
  after: Outing | null;
}

export function Runs({
  sides,
  leftOut,
  marked,
  width,
}: {
  sides: Sides;
  leftOut: BySide;
  marked: BySide;
  width: number;
}) {
  const runs = ROLES.flatMap((role) => runsOf(role, sides[role]));
  const toggle = (run: Run) =>
    putWork(`${run.role} run ${run.n}`, ({ leftOut: now }) => {
      const list = now[run.role];
      const next = isTakenOut(run.pass, list)
        ? list.filter((s) => !touches(s, stretchOf(run.pass)))
        : [...list, stretchOf(run.pass)];
      return { leftOut: { ...now, [run.role]: next } };
    });
  const back = (role: Role, stretch: Stretch) =>
    putWork(`${role} run back`, ({ leftOut: now }) => ({
      leftOut: { ...now, [role]: now[role].filter((s) => !touches(s, stretch)) },
    }));
  const hidden = (role: Role) =>
    leftOut[role].filter((s) => !runs.some((r) => r.role === role && isTakenOut(r.pass, [s])));
  return (
    <>
      {runs.length + hidden("before").length + hidden("after").length === 0 ? (
        <p>No runs through a slalom were found: the whole drive was used.</p>
      ) : (
        <>
          <h3 class="runs-title">Runs found. Tap one to leave it out.</h3>
          {ROLES.map((role) => (
            <div class="runs" key={role}>
              {runs
                .filter((r) => r.role === role)
                .map((r) => (
                  <button
                    key={r.n}
                    type="button"
                    aria-pressed={r.pass.is_used ? "true" : "false"}
                    title={r.pass.left_out_because || undefined}
                    onClick={() => toggle(r)}
                  >
                    <MarkInText role={role} />
                    {role} {r.n}
                  </button>
                ))}
              {hidden(role).map((s) => (
                <button
                  key={`${s.recording} ${s.from_s}`}
                  type="button"
                  aria-pressed="false"
                  onClick={() => back(role, s)}
                >
                  <MarkInText role={role} />
                  {role}, {s.from_s.toFixed(0)} to {s.to_s.toFixed(0)} s
                </button>
              ))}
            </div>
          ))}
          <LeftOutList runs={runs} leftOut={leftOut} />
        </>
      )}
      <details class="twin marking">
        <summary>Move a run, take cones away, or mark a run that was not found</summary>
        {ROLES.map((role) => (
          <Marking key={role} role={role} outing={sides[role]} marked={marked[role]} width={width} />
        ))}
      </details>
      <Twin
        caption="Every run"
        head={["run", "lean", "peak", "speed", "cones"]}
        rows={runs.map((r) => [
          `${r.role} ${r.n}${r.pass.is_used ? "" : " (left out)"}`,
          <Num key="k" of={r.pass.roll_gradient_deg_per_g} unit="deg_per_g" size="small" decimals={2} />,
          <Num key="g" of={r.pass.peak_lateral_g} unit="g" size="small" />,
          r.pass.speed_km_per_h > 0 ? <Num key="v" of={r.pass.speed_km_per_h} unit="km_per_h" size="small" /> : "–",
          String(r.pass.corners),
        ])}
      />
    </>
  );
}

function LeftOutList({ runs, leftOut }: { runs: readonly Run[]; leftOut: BySide }) {
  const out = runs.filter((r) => !r.pass.is_used);
  if (out.length === 0) return null;
  return (
    <ul class="plain-list note">
      {out.map((r) => (
        <li key={r.role + r.n}>
          {r.role} {r.n} is left out
          {isTakenOut(r.pass, leftOut[r.role])
            ? ", by you"
            : r.pass.left_out_because
              ? `: ${r.pass.left_out_because}`
              : ""}
          .
        </li>
      ))}
    </ul>
  );
}

// Puts a mark in the place of what it touches, and of the run that it was made from.
function mark(role: Role, label: string, stretch: Stretch, instead?: Stretch) {
  putWork(label, ({ marked }) => ({
    marked: {
      ...marked,
      [role]: [...marked[role].filter((s) => !touches(s, stretch) && !(instead && touches(s, instead))), stretch],
    },
  }));
}

function Marking(p: { role: Role; outing: Outing | null; marked: readonly Stretch[]; width: number }) {
  const { role, outing } = p;
  if (!outing) return null;
  return (
    <section aria-label={`Runs ${role}`}>
      {outing.overviews.map((o, i) => (
        <OverviewPlot key={`${o.name} ${i}`} role={role} overview={o} n={i} outing={outing} width={p.width} />
      ))}
      <ol class="moves">
        {runsOf(role, outing).map((run) => (
          <MoveRun key={run.n} run={run} />
        ))}
      </ol>
      <AddRun role={role} recordings={outing.overviews.length} />
      {p.marked.length > 0 && (
        <p class="row">
          <span class="note">
            Marked by you: {p.marked.map((s) => `${s.from_s.toFixed(1)} to ${s.to_s.toFixed(1)} s`).join(", ")}.
          </span>
          <button
            type="button"
            class="plain"
            onClick={() => putWork(`${role} marks away`, ({ marked }) => ({ marked: { ...marked, [role]: [] } }))}
          >
            take the marks {role} away
          </button>
        </p>
      )}
    </section>
  );
}

// What a run's end becomes with one cone less or one more there: half way between two cones is where a corner begins.
export function movedEnd(run: Run["pass"], end: "first" | "last", step: -1 | 1): Stretch | null {
  const t = run.cones.map((c) => c.time_s);
  if (t.length < 2) return null;
  const apart = (t.at(-1)! - t[0]!) / (t.length - 1);
  const { recording, from_s, to_s } = stretchOf(run);
  if (step < 0 && t.length <= 3) return null; // fewer than three corners tell nothing
  if (end === "first") return { recording, from_s: step < 0 ? (t[0]! + t[1]!) / 2 : Math.max(0, from_s - apart), to_s };
  return { recording, from_s, to_s: step < 0 ? (t.at(-2)! + t.at(-1)!) / 2 : to_s + apart };
}

function MoveRun({ run }: { run: Run }) {
  const now = stretchOf(run.pass);
  const name = `${run.role} ${run.n}`;
  const move = (end: "first" | "last", step: -1 | 1) => {
    const next = movedEnd(run.pass, end, step);
    if (next) mark(run.role, `${name}, ${end} cone`, next, now);
  };
  const isShort = run.pass.cones.length <= 3;
  return (
    <li>
      <span>
        <b class="lettering">{name}</b>{" "}
        <span class="note">
          {now.from_s.toFixed(1)} to {now.to_s.toFixed(1)} s, {run.pass.cones.length} cones
        </span>
      </span>
      {(["first", "last"] as const).map((end) => (
        <span class="row" key={end} role="group" aria-label={`${name}, ${end} cone`}>
          <span class="note">{end} cone</span>
          <button type="button" class="plain" disabled={isShort} onClick={() => move(end, -1)}>
            take away
          </button>
          <button type="button" class="plain" onClick={() => move(end, 1)}>
            one more
          </button>
        </span>
      ))}
    </li>
  );
}

function AddRun({ role, recordings }: { role: Role; recordings: number }) {
  const [from, setFrom] = useState("");
  const [to, setTo] = useState("");
  const [recording, setRecording] = useState(0);
  const [a, b] = [number(from), number(to)];
  const isGood = a !== null && b !== null && b > a;
  return (
    <form
      class="row time-entry"
      onSubmit={(e) => {
        e.preventDefault();
        if (!isGood) return;
        mark(role, `${role} run marked`, { recording, from_s: a, to_s: b });
        setFrom("");
        setTo("");
      }}
    >
      {recordings > 1 && (
        <label>
          <span class="note">Recording</span>
          <select value={recording} onChange={(e) => setRecording(Number(e.currentTarget.value))}>
            {Array.from({ length: recordings }, (_, i) => (
              <option key={i} value={i}>
                {i + 1}
              </option>
            ))}
          </select>
        </label>
      )}
      <label>
        <span class="note">Run {role} from, s</span>
        <input
          class="typed short"
          inputMode="decimal"
          autoComplete="off"
          value={from}
          onInput={(e) => setFrom(e.currentTarget.value)}
        />
      </label>
      <label>
        <span class="note">to, s</span>
        <input
          class="typed short"
          inputMode="decimal"
          autoComplete="off"
          value={to}
          onInput={(e) => setTo(e.currentTarget.value)}
        />
      </label>
      <button type="submit" disabled={!isGood}>
        mark this run {role}
      </button>
    </form>
  );
}

function number(text: string): number | null {
  const value = Number(text.replace(",", "."));
  return text.trim() !== "" && Number.isFinite(value) && value >= 0 ? value : null;
}

function OverviewPlot(p: { role: Role; overview: Overview; n: number; outing: Outing; width: number }) {
  const height = 170;
  const frame = { left: 46, right: p.width - 10, top: 26, bottom: height - 46 };
  const y = p.overview.lateral_g;
  const X = scale(0, Math.max(1, y.length * p.overview.step_s), frame.left, frame.right);
  const Y = scale(...span([...y, -0.1, 0.1], 0.3), frame.bottom, frame.top);
  const passes = runsOf(p.role, p.outing).filter((r) => r.pass.recording === p.n);
  return (
    <figure>
      <svg
        class="dwg"
        viewBox={`0 0 ${p.width} ${height}`}
        role="img"
        aria-label={`Sideways force over recording ${p.n + 1} ${p.role}: runs at ${passes.map((r) => `${r.pass.begin_s.toFixed(0)} to ${r.pass.end_s.toFixed(0)} s`).join(", ")}`}
      >
        <Axes frame={frame} x={X} y={Y} xName="seconds" yName="sideways, g" yWanted={3}>
          {passes.map((r) => {
            const [a, b] = [X(r.pass.begin_s), X(r.pass.end_s)];
            return (
              <g key={r.n}>
                <path
                  class={r.pass.is_used ? "mid" : "thin origin-guess"}
                  d={`M${a} ${frame.top - 1}V${frame.top - 6}H${b}V${frame.top - 1}`}
                />
                {b - a > 12 && (
                  <Label x={(a + b) / 2} y={frame.top - 11} px={14} class={r.pass.is_used ? "" : "soft"}>
                    {r.pass.is_used ? r.n : "✕"}
                  </Label>
                )}
              </g>
            );
          })}
          <path
            class={`thin ${strokeOf(p.role).replace("dashed", "")}`}
            d={through(y.map((v, i) => [X((i + 0.5) * p.overview.step_s), Y(v)] as const))}
          />
        </Axes>
      </svg>
      <figcaption>
        {p.role}, {p.overview.name}: the whole recording, with the runs found in it.
      </figcaption>
    </figure>
  );
}
