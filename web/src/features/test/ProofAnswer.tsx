// The answer: the change first, since the phone's own scale errors cancel in it; then both values and the forecast.

import { garage } from "@/api/garage";
import { isChanged } from "@/api/setups";
import type { MeasuredChange, Outing } from "@/api/types";
import { isSureOfSign } from "@/base/estimate";
import { unbroken } from "@/base/format";
import { hrefOf } from "@/base/route";
import { MarkInText } from "@/charts/marks";
import { Num, Said } from "@/widgets/Num";
import { Flags, Ring } from "@/widgets/small";
import { putWork, testWork } from "./choices";
import { equivalence, headline } from "./model";
import type { TestState } from "./useTest";

export function ProofAnswer({ state }: { state: TestState }) {
  if (state.alone) return <Alone {...state.alone} />;
  const r = state.proof?.result;
  if (!r) return null;
  const practical = testWork(garage.value.value).practicalPercent;
  const still = r.before ? equivalence(r, practical) : null;
  return (
    <div class="answer" aria-live="polite">
      <p class="lettering said-first">{headline(r)}</p>
      {r.change_percent ? (
        <Num of={r.change_percent} unit="percent" size="hero" signed />
      ) : r.difference_deg_per_g ? (
        <Num of={r.difference_deg_per_g} unit="deg_per_g" size="hero" signed />
      ) : null}
      <p>{unbroken(r.meaning)}</p>
      {still && <p>{still}</p>}
      <Noticed percent={practical} />
      {r.forecast && (
        <p>
          <b>{r.forecast.agrees ? "The forecast held." : "The forecast did not hold."}</b> {r.forecast.text}
        </p>
      )}
      {!r.forecast && !isChanged(garage.value.value) && (
        <p class="note">No forecast to hold it against: no change is chosen on sheet 2.</p>
      )}
      {r.before && (
        <>
          <div class="both">
            {(["before", "after"] as const).map((role) => (
              <div key={role}>
                <span class={role}>
                  <MarkInText role={role} />
                  {role}
                </span>
                <br />
                {r[role] && <Num of={r[role].roll_gradient_deg_per_g} unit="deg_per_g" role={role} decimals={2} />}
              </div>
            ))}
          </div>
          <p class="note">
            Lean per g <span class="term">(roll gradient)</span>, steady, worked out of the slalom. Runs count, not
            cones: {used(r.before)} against {used(r.after)}.
            {r.delay_change_ms &&
              (isSureOfSign(r.delay_change_ms) ? (
                <>
                  {" "}
                  The lean follows the turning <Said of={r.delay_change_ms} unit="ms" signed /> later.
                </>
              ) : (
                " Timing (roll delay): no change that can be told."
              ))}
          </p>
        </>
      )}
      {r.bridge && <p>{unbroken(r.bridge.text)}</p>}
      {r.order && <p class="note">{unbroken(r.order.text)}</p>}
      {r.measures.map((m) => (
        <Measured key={m.kind} m={m} />
      ))}
      {r.further.length > 0 && (
        <ul class="plain-list note">
          {r.further.map((f) => (
            <li key={f.name}>
              {f.name}, {f.side}
              {f.bars_unhooked ? ", bars unhooked" : ""}:{" "}
              <Said of={f.outing.roll_gradient_deg_per_g} unit="deg_per_g" />
            </li>
          ))}
        </ul>
      )}
      <a class="press main" href={hrefOf("verdict")}>
        Was it worth it?
      </a>
    </div>
  );
}

const SIZES = ["5", "10", "15", "20"] as const;

function Noticed({ percent }: { percent: number }) {
  return (
    <Ring
      legend="A change you would notice"
      showLegend
      choices={SIZES.map((value) => ({ value, label: `${value} %` }))}
      value={String(percent) as (typeof SIZES)[number]}
      onChange={(v) => putWork("size worth noticing", () => ({ practicalPercent: Number(v) }))}
    />
  );
}

function Measured({ m }: { m: MeasuredChange }) {
  return (
    <section class="measured">
      <h3>{m.kind === "stopwatch" ? "By stopwatch" : m.what}</h3>
      {m.change_percent && <Num of={m.change_percent} unit="percent" size="mid" signed decimals={1} />}
      <p>{unbroken(m.text)}</p>
      <p class="note">
        Before {m.value_before} from {m.runs_before} runs, after {m.value_after} from {m.runs_after}. {m.order?.text}
      </p>
      <Flags
        list={m.flags.map((f) => ({
          key: f.code,
          kind: f.is_serious ? ("out" as const) : ("mind" as const),
          text: f.text,
        }))}
      />
    </section>
  );
}

const used = (o: Outing | null) => o?.passes.filter((p) => p.is_used).length ?? 0;

function Alone({ role, meaning, outing }: NonNullable<TestState["alone"]>) {
  return (
    <div class="answer" aria-live="polite">
      <p class="lettering said-first">The car {role === "before" ? "as it was" : "as it is now"}:</p>
      <Num of={outing.roll_gradient_deg_per_g} unit="deg_per_g" size="hero" role={role} />
      <p>{meaning}</p>
      <p class="note">
        For a proof, add the recordings {role === "before" ? "after" : "before"} the change: same place, same tyres,
        same load aboard.
      </p>
    </div>
  );
}
