// 'What did it do?' Drop the recordings before and after; the answer comes first, then what it rests on.
import { useState } from "preact/hooks";
import { takeFile } from "@/api/files";
import { garage, type LogFile } from "@/api/garage";
import { known } from "@/api/operations";
import { isChanged } from "@/api/setups";
import type { Outing, PhonePlaceInput } from "@/api/types";
import { useForecast } from "@/api/useForecast";
import { useRoom } from "@/base/room";
import { LeanPlot } from "@/charts/LeanPlot";
import { MarkInText, type Role } from "@/charts/marks";
import { RollTrace } from "@/charts/RollTrace";
import { FileDrop } from "@/widgets/FileDrop";
import { Num } from "@/widgets/Num";
import { Footing, Problems } from "@/widgets/Problems";
import { Caution, Flags, Twin } from "@/widgets/small";
import { flagList, isTakenOut, marksOf, type Run, runsOf, type Stretch, stretchOf, stripOf } from "./model";
import { PhonePlace } from "./PhonePlace";
import { Plan } from "./Plan";
import { ProofAnswer } from "./ProofAnswer";
import { Tune } from "./Tune";
import { type TestState, useTest } from "./useTest";
import "./test.css";

type LeftOut = { before: Stretch[]; after: Stretch[] };
const NONE: LeftOut = { before: [], after: [] };

export function TestSheet() {
  const g = garage.value.value;
  const phone = (g.work.phone as PhonePlaceInput | undefined) ?? {};
  const leftOut = (g.work.leftOut as LeftOut | undefined) ?? NONE;
  const forecast = useForecast(g);
  const forecastChange =
    isChanged(g) && forecast.isFull ? (forecast.result?.changes[0]?.roll_gradient_change_percent ?? null) : null;
  const state = useTest(
    g.logs,
    { phone, leftOut, forecast: forecastChange },
    !isChanged(g) || forecast.isFull || forecast.problems.length > 0,
  );
  const before = state.proof?.result.before ?? (state.alone?.role === "before" ? state.alone.outing : null);
  const after = state.proof?.result.after ?? (state.alone?.role === "after" ? state.alone.outing : null);
  const toggle = (run: Run) =>
    garage.change(`${run.role} run ${run.n}`, (old) => {
      const now = (old.work.leftOut as LeftOut | undefined) ?? NONE;
      const list = now[run.role];
      const next = isTakenOut(run.pass, list)
        ? list.filter((s) => s.to_s <= run.pass.begin_s || s.from_s >= run.pass.end_s)
        : [...list, stretchOf(run.pass)];
      return { ...old, work: { ...old.work, leftOut: { ...now, [run.role]: next } } };
    });
  const back = (role: Role, stretch: Stretch) =>
    garage.change(`${role} run back`, (old) => {
      const now = (old.work.leftOut as LeftOut | undefined) ?? NONE;
      return {
        ...old,
        work: { ...old.work, leftOut: { ...now, [role]: now[role].filter((s) => s.from_s !== stretch.from_s) } },
      };
    });
  const hasAny = before !== null || after !== null;
  return (
    <main class="sheet">
      <div class="sheet-head">
        <h1>What did it do?</h1>
        <p>A slalom before and the same slalom after, with the phone left where it lies.</p>
      </div>
      {!hasAny && <BeforeDriving />}
      {known.value?.has("test/plan") && <Plan />}
      <Piles busy={state.busy} />
      <Problems list={state.problems} title="These recordings give no answer." />
      {hasAny && (
        <div class="tested">
          <section class="answer-place">
            <ProofAnswer state={state} />
          </section>
          <section class="plot-place">
            <Plot before={before} after={after} />
            <Runs
              runs={[...runsOf("before", before), ...runsOf("after", after)]}
              leftOut={leftOut}
              onToggle={toggle}
              onBack={back}
            />
          </section>
          <section class="flags-place">
            <h2>What the files say</h2>
            <Flags list={flagList(state.proof?.result.flags ?? [], before, after)} />
          </section>
        </div>
      )}
      {state.proof && <Tune />}
      <PhonePlace phone={phone} />
      {hasAny && <BeforeDriving />}
      <Footing answer={state.footing} />
    </main>
  );
}

function BeforeDriving() {
  return (
    <Caution title="Private ground, one car moving, someone watching.">
      Never on a public road. Stop when the tyres smell, when it rains, or when you start to chase the clock. A slalom
      this slow proves lean and timing; it cannot prove grip.
    </Caution>
  );
}

function Piles({ busy }: { busy: TestState["busy"] }) {
  const g = garage.value.value;
  const add = async (role: Role, files: File[]) => {
    const taken = await Promise.all(files.map(takeFile));
    garage.change(`${role} log`, (old) => ({
      ...old,
      logs: { ...old.logs, [role]: [...old.logs[role], ...taken] },
      work: { ...old.work, leftOut: { ...((old.work.leftOut as LeftOut | undefined) ?? NONE), [role]: [] } },
    }));
  };
  const drop = (role: Role, file: LogFile) =>
    garage.change(`without ${file.name}`, (old) => ({
      ...old,
      logs: { ...old.logs, [role]: old.logs[role].filter((f) => f.id !== file.id) },
    }));
  return (
    <div class="halves piles">
      {(["before", "after"] as const).map((role) => (
        <section key={role} aria-label={`Recordings ${role}`}>
          <FileDrop
            label={
              <>
                <MarkInText role={role} />
                <span class={role}>
                  {g.logs[role].length > 0 ? `more recordings ${role}` : `recordings ${role} the change`}
                </span>
              </>
            }
            hint="Drop the files here, or choose them: any table of acceleration and turn rate from a phone or a logger, also one file a sensor."
            accept=".csv,.txt,.tsv,.gpx,.log,text/*"
            onFiles={(files) => add(role, files)}
            busy={g.logs[role].length > 0 ? busy : null}
          />
          <ul class="pile">
            {g.logs[role].map((f) => (
              <li key={f.id}>
                <span>
                  {f.name} <span class="note">{bytesInWords(f.bytes)}</span>
                </span>
                <button type="button" class="plain" onClick={() => drop(role, f)} aria-label={`take away ${f.name}`}>
                  take away
                </button>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </div>
  );
}

const bytesInWords = (n: number) => (n < 1e6 ? `${Math.max(1, Math.round(n / 1e3))} kB` : `${(n / 1e6).toFixed(1)} MB`);

function Plot({ before, after }: { before: Outing | null; after: Outing | null }) {
  const [ref, room] = useRoom<HTMLDivElement>(800);
  const [open, setOpen] = useState(false);
  const sides = [
    ["before", before],
    ["after", after],
  ] as const;
  const lines = sides.flatMap(([role, o]) => (o ? [{ role, degPerG: o.roll_gradient_deg_per_g }] : []));
  return (
    <div ref={ref}>
      <figure>
        <LeanPlot
          points={sides.flatMap(([role, o]) => marksOf(role, o))}
          lines={lines}
          width={room.width}
          label={`Lean against lateral g. ${lines.map((l) => `${l.role}: ${l.degPerG.value.toFixed(2)} degrees per g`).join(". ")}. The table has the same by runs.`}
        />
        <figcaption>
          Each mark is one cone of one run. The band is where the line lies nineteen times in twenty. Left turns to the
          right of the middle. A weaving car leans a little more than a steady one, so the marks may lie just outside
          the line.
        </figcaption>
      </figure>
      <details class="twin" onToggle={(e) => setOpen(e.currentTarget.open)}>
        <summary>Lean over time, run by run</summary>
        {open &&
          sides.map(([role, o]) => {
            const strip = stripOf(o);
            return o && strip.passes.length > 0 ? (
              <RollTrace
                key={role}
                role={role}
                trace={strip.trace}
                passes={strip.passes}
                width={room.width}
                label={`Lean over time ${role}`}
              />
            ) : null;
          })}
      </details>
    </div>
  );
}

function Runs({
  runs,
  leftOut,
  onToggle,
  onBack,
}: {
  runs: readonly Run[];
  leftOut: LeftOut;
  onToggle: (run: Run) => void;
  onBack: (role: Role, s: Stretch) => void;
}) {
  if (runs.length + leftOut.before.length + leftOut.after.length === 0)
    return <p>No runs through a slalom were found: the whole drive was used.</p>;
  return (
    <>
      <h3 class="runs-title">Runs found. Tap one to leave it out.</h3>
      {(["before", "after"] as const).map((role) => (
        <div class="runs" key={role}>
          {runs
            .filter((r) => r.role === role)
            .map((r) => (
              <button
                key={r.n}
                type="button"
                aria-pressed={r.pass.is_used ? "true" : "false"}
                title={r.pass.left_out_because || undefined}
                onClick={() => onToggle(r)}
              >
                <MarkInText role={role} />
                {role} {r.n}
              </button>
            ))}
          {leftOut[role]
            .filter((s) => !runs.some((r) => r.role === role && isTakenOut(r.pass, [s])))
            .map((s) => (
              <button key={s.from_s} type="button" aria-pressed="false" onClick={() => onBack(role, s)}>
                <MarkInText role={role} />
                {role}, {s.from_s.toFixed(0)} to {s.to_s.toFixed(0)} s
              </button>
            ))}
        </div>
      ))}
      {runs.some((r) => !r.pass.is_used) && (
        <ul class="plain-list note">
          {runs
            .filter((r) => !r.pass.is_used)
            .map((r) => (
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
      )}
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
