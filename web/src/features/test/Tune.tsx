// 'What now?' The next hole to try from here, with what it would do and the chance that anybody notices.
import { garage } from "@/api/garage";
import { known } from "@/api/operations";
import { allBars, carFor, setupOf } from "@/api/setups";
import type { TestTuneRequestInput } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { sentence, unbroken } from "@/base/format";
import { units } from "@/base/settings";
import { Said } from "@/widgets/Num";

export function Tune() {
  const g = garage.value.value;
  const car = carFor(g);
  const bars = allBars(g);
  const isAsked = known.value?.has("test/tune") && car !== null && bars.length > 0;
  const request: TestTuneRequestInput | null = isAsked
    ? {
        car,
        bars,
        now: setupOf(g.after),
        wish: (g.wish.holes as TestTuneRequestInput["wish"]) ?? "less_lean_same_balance",
      }
    : null;
  const asked = useAsk("test/tune", request);
  const r = asked.answer?.result;
  if (!r) return null;
  return (
    <section class="tune">
      <h2>What now?</h2>
      <p class="lettering said-first">{unbroken(r.meaning)}</p>
      <ol class="notes">
        {r.steps.slice(0, 3).map((s) => (
          <li key={s.name}>
            <b class="lettering">{s.name}.</b> {unbroken(s.why)}{" "}
            <span class="note">
              Lean{" "}
              {sentence(
                s.roll_gradient_change_percent.value,
                s.roll_gradient_change_percent.pm,
                "percent",
                units.value,
                { signed: true },
              )}
              . Chance that it serves the wish <Said of={s.chance_to_serve_percent} unit="percent" decimals={0} />, that
              your test can show it <Said of={s.chance_to_prove_percent} unit="percent" decimals={0} />.
            </span>
          </li>
        ))}
      </ol>
    </section>
  );
}
