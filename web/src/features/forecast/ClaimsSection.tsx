// 'Is it true what people say?' The half-truths of the trade, tested on this car with its own numbers.
import { useState } from "preact/hooks";
import { garage } from "@/api/garage";
import { allBars, carFor } from "@/api/setups";
import type { TestedClaim } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { useSettled } from "@/base/seen";
import { Footing, Problems } from "@/widgets/Problems";
import { Reading } from "@/widgets/Reading";
import { Words } from "@/widgets/Words";

const TRUTH: Record<TestedClaim["truth"], { words: string; d: string }> = {
  true_here: { words: "true on this car", d: "M4 13L10 19L21 5" },
  half_true: { words: "half true on this car", d: "M3 12h18M12 3v9" },
  false_here: { words: "false on this car", d: "M5 5L19 19M19 5L5 19" },
};

export function ClaimsSection() {
  const g = garage.value.value;
  const [isOpen, setOpen] = useState(false);
  const [stiffer, setStiffer] = useState(38);
  const car = carFor(g);
  const request = useSettled(isOpen && car ? { car, bars: allBars(g), stiffer_percent: stiffer } : null);
  const asked = useAsk("forecast/claims", request);
  const result = request && asked.problems.length === 0 ? (asked.answer?.result ?? null) : null;
  return (
    <details class="twin claims" id="claims" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>Is it true what people say?</summary>
      <Reading
        id="stiffer"
        name="The front bar is said to be stiffer by"
        unit="percent"
        value={stiffer}
        low={1}
        high={400}
        onChange={(v) => setStiffer(v ?? 38)}
      />
      <Problems list={asked.problems} />
      {isOpen && !result && asked.problems.length === 0 && <p>Trying each on this car …</p>}
      {result && (
        <div aria-live="polite">
          <p class="lettering said-first">
            <Words text={result.meaning} />
          </p>
          <ul class="flags claim-list">
            {result.claims.map((c) => (
              <li key={c.claim} data-truth={c.truth}>
                <svg viewBox="0 0 24 24" aria-hidden="true">
                  <path class="bold" d={TRUTH[c.truth].d} />
                </svg>
                <div>
                  <q class="lettering">{c.claim}</q> <span class="term">{TRUTH[c.truth].words}</span>
                  <p class="no-gap">
                    <Words text={c.numbers} />
                  </p>
                  <p class="note no-gap">
                    <Words text={c.why} />
                  </p>
                </div>
              </li>
            ))}
          </ul>
          <Footing answer={asked.answer} />
        </div>
      )}
    </details>
  );
}
