// 'What did it do?' Drop the recordings before and after; the answer comes first, then what it rests on.
import { useState } from "preact/hooks";
import { takeFile } from "@/api/files";
import { garage, type LogFile } from "@/api/garage";
import { known } from "@/api/operations";
import { isChanged } from "@/api/setups";
import type { Outing } from "@/api/types";
import { useForecast } from "@/api/useForecast";
import { useRoom } from "@/base/room";
import { LeanPlot } from "@/charts/LeanPlot";
import { MarkInText, type Role } from "@/charts/marks";
import { RollTrace } from "@/charts/RollTrace";
import { FileDrop } from "@/widgets/FileDrop";
import { Footing, Problems } from "@/widgets/Problems";
import { Caution, Flags } from "@/widgets/small";
import { Columns } from "./Columns";
import { testWork } from "./choices";
import { Learn } from "./Learn";
import { flagList, marksOf, stripOf } from "./model";
import { Outings } from "./Outings";
import { PhonePlace } from "./PhonePlace";
import { Plan } from "./Plan";
import { ProofAnswer } from "./ProofAnswer";
import { Runs } from "./Runs";
import { Stopwatch } from "./Stopwatch";
import { Tune } from "./Tune";
import { type TestState, useTest } from "./useTest";
import "./test.css";

export function TestSheet() {
  const g = garage.value.value;
  const work = testWork(g);
  const forecast = useForecast(g);
  const forecastChange =
    isChanged(g) && forecast.isFull ? (forecast.result?.changes[0]?.roll_gradient_change_percent ?? null) : null;
  const state = useTest(
    g.logs,
    { ...work, forecast: forecastChange },
    !isChanged(g) || forecast.isFull || forecast.problems.length > 0,
  );
  const proof = state.proof?.result ?? null;
  const before = proof?.before ?? (state.alone?.role === "before" ? state.alone.outing : null);
  const after = proof?.after ?? (state.alone?.role === "after" ? state.alone.outing : null);
  const [ref, room] = useRoom<HTMLDivElement>(800);
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
      <Outings />
      <Stopwatch />
      <Problems list={state.problems} title="These recordings give no answer." />
      {(hasAny || proof) && (
        <div class="tested">
          <section class="answer-place">
            <ProofAnswer state={state} />
          </section>
          <section class="plot-place">
            {hasAny && <Plot before={before} after={after} />}
            <div ref={ref}>
              <Runs sides={{ before, after }} leftOut={work.leftOut} marked={work.marked} width={room.width} />
            </div>
            <Columns list={[...(before?.columns ?? []), ...(after?.columns ?? [])]} />
          </section>
          <section class="flags-place">
            <h2>What the files say</h2>
            <Flags list={flagList(proof?.flags ?? [], before, after)} />
          </section>
        </div>
      )}
      {proof && <Learn r={proof} />}
      {proof && <Tune />}
      <PhonePlace phone={work.phone} />
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
      work: {
        ...old.work,
        leftOut: { ...testWork(old).leftOut, [role]: [] },
        marked: { ...testWork(old).marked, [role]: [] },
      },
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
            accept=".csv,.txt,.tsv,.gpx,.log,.gz,text/*"
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
