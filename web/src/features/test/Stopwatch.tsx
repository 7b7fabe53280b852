// Times by stopwatch: one line a run, in the order driven. Half-typed lines stay as they are and are only not asked about.
import { useState } from "preact/hooks";
import { garage } from "@/api/garage";
import { MarkInText } from "@/charts/marks";
import { putWork, testWork } from "./choices";
import { secondsOf } from "./model";

export function Stopwatch() {
  const runs = testWork(garage.value.value).times;
  const [draft, setDraft] = useState("");
  const [side, setSide] = useState<"before" | "after">("before");
  const seconds = secondsOf(draft);
  const add = () => {
    if (seconds === null) return;
    putWork(`time ${draft.trim()}`, (w) => ({ times: [...w.times, { side, time_s: seconds }] }));
    setDraft("");
  };
  const change = (i: number, label: string, part: Partial<(typeof runs)[number]>) =>
    putWork(label, (w) => ({ times: w.times.map((r, k) => (k === i ? { ...r, ...part } : r)) }));
  return (
    <details class="twin stopwatch" open={runs.length > 0 || undefined}>
      <summary>Times by stopwatch</summary>
      <p class="note">
        One line a run, in the order driven, also those with a fallen cone: practice is worked out of the order. A B B A
        tells it best.
      </p>
      <form
        class="row time-entry"
        onSubmit={(e) => {
          e.preventDefault();
          add();
        }}
      >
        <label>
          <span class="note">Setup of this run</span>
          <select value={side} onChange={(e) => setSide(e.currentTarget.value as "before" | "after")}>
            <option value="before">before (A)</option>
            <option value="after">after (B)</option>
          </select>
        </label>
        <label>
          <span class="note">Time, s or m:ss</span>
          <input
            class="typed"
            inputMode="decimal"
            autoComplete="off"
            value={draft}
            aria-invalid={draft !== "" && seconds === null}
            onInput={(e) => setDraft(e.currentTarget.value)}
          />
        </label>
        <button type="submit" disabled={seconds === null}>
          add the run
        </button>
      </form>
      {runs.length > 0 && (
        <ol class="times">
          {runs.map((r, i) => (
            // Runs have no name but their place in the order.
            <li key={i} class={r.is_void || (r.cones_hit ?? 0) > 0 ? "left-out" : ""}>
              <span>
                <MarkInText role={r.side} /> {r.side} <b class="lettering">{(r.time_s ?? 0).toFixed(2)} s</b>
              </span>
              <span class="row">
                <button
                  type="button"
                  class="plain"
                  aria-pressed={(r.cones_hit ?? 0) > 0}
                  onClick={() => change(i, `run ${i + 1} cone`, { cones_hit: (r.cones_hit ?? 0) > 0 ? 0 : 1 })}
                >
                  a cone fell<span class="unseen"> in run {i + 1}</span>
                </button>
                <button
                  type="button"
                  class="plain"
                  aria-pressed={r.is_void === true}
                  onClick={() => change(i, `run ${i + 1} void`, { is_void: !r.is_void })}
                >
                  void<span class="unseen">: run {i + 1}</span>
                </button>
                <button
                  type="button"
                  class="plain"
                  onClick={() => putWork(`run ${i + 1} away`, (w) => ({ times: w.times.filter((_, k) => k !== i) }))}
                >
                  take away<span class="unseen"> run {i + 1}</span>
                </button>
              </span>
            </li>
          ))}
        </ol>
      )}
    </details>
  );
}
