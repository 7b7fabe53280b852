// 'How do I fit it neutral and safe?' One step a screen, a big tick, turns of the link live as the gap is typed.
import { garage } from "@/api/garage";
import { Caution, Tick } from "@/widgets/small";
import { JobSheets } from "./JobSheet";
import { LinkStep } from "./LinkStep";
import { type FitState, FRESH, tick } from "./model";
import { Recheck } from "./Recheck";
import { STEPS, type Step } from "./steps";
import { type Subject, subjectsOf } from "./subject";
import { TorqueStep } from "./TorqueStep";
import "./fit.css";

export function FitSheet() {
  const state = { ...FRESH, ...(garage.value.value.work.fit as Partial<FitState> | undefined) };
  const put = (label: string, next: FitState) =>
    garage.change(label, (g) => ({ ...g, work: { ...g.work, fit: next } }));
  const subjects = subjectsOf(garage.value.value);
  const step = STEPS[Math.min(state.at, STEPS.length - 1)]!;
  return (
    <main class="sheet">
      <div class="job">
        <nav class="steps screen-only" aria-label="Steps of this job">
          <h2>The order of work</h2>
          <ol>
            {STEPS.map((s, i) => (
              <li key={s.key}>
                <button
                  type="button"
                  class="plain"
                  aria-current={s === step ? "step" : undefined}
                  onClick={() => put(`to step ${i + 1}`, { ...state, at: i })}
                >
                  <StepMark n={i + 1} isDone={state.done.includes(s.key)} isNow={s === step} />
                  {s.short}
                  {state.done.includes(s.key) && <span class="unseen"> done</span>}
                </button>
              </li>
            ))}
          </ol>
        </nav>
        <OneStep step={step} n={STEPS.indexOf(step) + 1} state={state} put={put} subject={subjects[0] ?? null} />
      </div>
      <JobSheets subjects={subjects} state={state} />
    </main>
  );
}

function OneStep({
  step,
  n,
  state,
  put,
  subject,
}: {
  step: Step;
  n: number;
  state: FitState;
  put: (label: string, next: FitState) => void;
  subject: Subject | null;
}) {
  return (
    <section class="screen-only">
      <div class="progress" role="img" aria-label={`Step ${n} of ${STEPS.length}`}>
        {STEPS.map((s) => (
          <span key={s.key} class={state.done.includes(s.key) ? "is-done" : s === step ? "is-now" : ""} />
        ))}
      </div>
      <p class="note no-gap">
        {n} of {STEPS.length}
      </p>
      <h1>{step.title}</h1>
      <Caution title={step.caution.title}>{step.caution.text}</Caution>
      {step.shows === "torques" && <TorqueStep state={state} put={put} />}
      {step.shows === "recheck" && <Recheck state={state} put={put} />}
      {step.link && <LinkStep key={step.link} state={state} side={step.link} put={put} subject={subject} />}
      <ol class="notes">
        {step.notes.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ol>
      <div class="acts">
        <Tick onClick={() => put(step.short, finished(tick(state, step.key, STEPS.length), step))}>{step.done}</Tick>
      </div>
      <div class="back-row">
        {n > 1 && (
          <button type="button" class="plain" onClick={() => put(`back to step ${n - 1}`, { ...state, at: n - 2 })}>
            ← step {n - 1}
          </button>
        )}
        <button type="button" class="plain" onClick={() => print()}>
          Print the whole job
        </button>
      </div>
    </section>
  );
}

// The last tick starts the countdown of the re-checks.
const finished = (s: FitState, step: Step): FitState =>
  step.shows === "recheck" && s.fitted === null ? { ...s, fitted: new Date().toLocaleDateString("sv-SE") } : s;

function StepMark({ n, isDone, isNow }: { n: number; isDone: boolean; isNow: boolean }) {
  return (
    <svg class="dwg step-mark" viewBox="0 0 30 30" aria-hidden="true">
      {isDone ? (
        <path class="bold" d="M6 16L12 23L25 6" />
      ) : (
        <>
          <circle cx="15" cy="15" r="12.5" class={isNow ? "bold" : "fine"} />
          <text x="15" y="20.5" font-size="15" text-anchor="middle">
            {n}
          </text>
        </>
      )}
    </svg>
  );
}
