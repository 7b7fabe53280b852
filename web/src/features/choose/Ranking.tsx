// The ranking, with what speaks for and against a bar on this car, said plainly either way.
import type { ChooseRankResult } from "@/api/types";
import { plain, unbroken } from "@/base/format";
import { Said } from "@/widgets/Num";
import { Flags, Twin } from "@/widgets/small";
import { Cards } from "./Cards";
import { EffectCost } from "./EffectCost";

const SHOWN = 8;

export function Ranking({ r, budget }: { r: ChooseRankResult; budget: number }) {
  return (
    <>
      <p>{unbroken(r.why_first)}</p>
      <EffectCost r={r} budget={budget} />
      <h2>The best {Math.min(SHOWN, r.choices.length)}, and why</h2>
      <ol class="notes ranking">
        {r.choices.slice(0, SHOWN).map((c) => (
          <li key={c.name}>
            <b class="lettering">{c.name}</b>
            <span class="chance">
              <span class="num">{plain(c.probability_percent.value, 0)}</span> in 100 that it does what you want, for{" "}
              {r.currency} {plain(c.price_money.value, 0)} and <Said of={c.work_h.value} unit="h" decimals={0} />
            </span>
            {unbroken(c.why)} {c.weakest_goal && `What it misses most: ${unbroken(c.weakest_goal)}.`}{" "}
            {!c.can_be_undone && <span class="note">It cannot be put back.</span>}
          </li>
        ))}
      </ol>
      <Cards r={r} budget={budget} />
      {r.quick_turns.length > 0 && (
        <>
          <h2>How quickly it answers</h2>
          <ul class="quick">
            {r.quick_turns.map((q) => (
              <li key={q.name}>
                <b class="lettering">{q.name}</b>: side force after <Said of={q.lateral_rise_ms} unit="ms" />, lean
                after <Said of={q.lean_rise_ms} unit="ms" />
                {q.name === "nothing"
                  ? "."
                  : `; ${plain(q.chance_quicker_percent, 0)} in 100 that it answers quicker than now.`}
              </li>
            ))}
          </ul>
        </>
      )}
      <div class="halves">
        <section>
          <h2>{r.bar_is_wrong_purchase ? "Here a bar is the wrong purchase" : "Is a bar right for this car?"}</h2>
          <Flags
            list={r.bar_checks.map((c) => ({
              key: c.reason,
              kind: c.applies ? "mind" : "good",
              text: c.applies ? `${c.reason}: ${c.evidence}` : `Not so here: ${lower(c.reason)}. ${c.evidence}`,
            }))}
          />
        </section>
        <section>
          <h2>What is said, held against this car</h2>
          <Flags
            list={r.trade_facts.map((t) => ({
              key: t.claim,
              kind: t.holds ? "good" : "out",
              text: `${t.claim}: ${t.evidence}`,
            }))}
          />
        </section>
      </div>
      {r.without_price.length > 0 && (
        <p>
          Without a price:{" "}
          {r.without_price
            .map((w) => `${w.name} would draw level with the best at ${r.currency} ${plain(w.worth_paying_money, 0)}`)
            .join("; ")}
          .
        </p>
      )}
      {r.left_out.length > 0 && (
        <details>
          <summary>What was left out, and why ({r.left_out.length})</summary>
          <ul>
            {r.left_out.map((l) => (
              <li key={l}>{l}</li>
            ))}
          </ul>
        </details>
      )}
      {r.measurements.length > 0 && (
        <Twin
          summary="What to measure before you buy"
          caption="Measurements and what knowing them is worth"
          head={["measure", "time", `worth, ${r.currency}`, "may change the choice"]}
          rows={r.measurements.map((m) => [
            m.measurement,
            `${plain(m.time_min, 0)} min`,
            plain(m.worth_money, 0),
            `${plain(m.chance_to_change_percent, 0)} %`,
          ])}
        />
      )}
    </>
  );
}

const lower = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);
