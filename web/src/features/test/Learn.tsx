// 'What does that say about my car?' Which numbers of the car sheet the measurement moved, and by how much: take it or leave it.
import { useState } from "preact/hooks";
import { type CarDocument, garage } from "@/api/garage";
import { known } from "@/api/operations";
import { allBars, carFor, isChanged, setupOf } from "@/api/setups";
import type { Estimate, Interval, LearnedNumber, TestLearnRequestInput, TestProveResult } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { unbroken } from "@/base/format";
import { Num } from "@/widgets/Num";
import { Problems } from "@/widgets/Problems";
import { Twin } from "@/widgets/small";

const TAKEN = "what the test taught";
const measured = (i: Interval): Estimate => ({ value: i.value, pm: i.pm, origin: "measured" });

export function Learn({ r }: { r: TestProveResult }) {
  const g = garage.value.value;
  const car = carFor(g);
  const bars = allBars(g);
  const [left, setLeft] = useState<string | null>(null);
  const isAsked = known.value?.has("test/learn") && car !== null && r.before !== null;
  const setups = [setupOf(g.before), setupOf(g.after)];
  const request: TestLearnRequestInput | null = isAsked
    ? {
        car,
        bars,
        setups,
        measured: [
          { setup: setups[0]!.name, roll_gradient_deg_per_g: measured(r.before!.roll_gradient_deg_per_g) },
          ...(r.change_percent && isChanged(g)
            ? [{ setup: setups[1]!.name, roll_gradient_change_percent: measured(r.change_percent) }]
            : []),
        ],
      }
    : null;
  const wasTaken = garage.undoLabel.value === TAKEN;
  const asked = useAsk("test/learn", wasTaken ? null : request);
  const key = JSON.stringify(request);
  if (wasTaken)
    return (
      <section class="learn" aria-live="polite">
        <h2>What does that say about my car?</h2>
        <p>The car sheet now holds what the test taught; the next forecast is narrower.</p>
        <button type="button" onClick={() => garage.undo()}>
          take it back
        </button>
      </section>
    );
  if (!isAsked || left === key) return null;
  const l = asked.answer?.result;
  return (
    <section class="learn" aria-live="polite">
      <h2>What does that say about my car?</h2>
      <Problems list={asked.problems} title="The car sheet and the measurement do not fit together." />
      {l && (
        <>
          <p class="lettering said-first">{unbroken(l.meaning)}</p>
          <ul class="plain-list">
            {l.forecasts.map((f) => (
              <li key={f.setup}>
                Forecast of lean, {f.setup}: <Num of={f.before_deg_per_g} unit="deg_per_g" size="small" /> becomes{" "}
                <Num of={f.after_deg_per_g} unit="deg_per_g" size="small" />
              </li>
            ))}
          </ul>
          <Twin
            summary="Which numbers moved, and how far"
            caption="Numbers of the car sheet before and after the test, each ± 95 %; a shift beyond 2 is worth measuring"
            head={["number", "was", "is now", "moved by (its own sd)"]}
            rows={l.numbers.map((n) => [inWords(n.key), short(n, "before"), short(n, "after"), n.shift_sd.toFixed(1)])}
          />
          <div class="row">
            <button
              type="button"
              class="main"
              onClick={() => garage.change(TAKEN, (old) => ({ ...old, car: l.car as unknown as CarDocument }))}
            >
              take it into the car sheet
            </button>
            <button type="button" onClick={() => setLeft(key)}>
              leave the sheet as it is
            </button>
          </div>
        </>
      )}
    </section>
  );
}

const inWords = (key: string) => key.replaceAll("_", " ").replaceAll(".", ", ");

// As many decimals as the doubt deserves.
function short(n: LearnedNumber, which: "before" | "after"): string {
  const pm = which === "before" ? n.before_pm : n.after_pm;
  const decimals = pm > 0 ? Math.max(0, Math.min(4, 1 - Math.floor(Math.log10(pm)))) : 2;
  return `${n[which].toFixed(decimals)} ± ${pm.toFixed(decimals)}`;
}
