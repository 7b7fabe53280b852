// 'What the seller says': a claim read for what it can mean on this car, and what to ask before paying.
import { useState } from "preact/hooks";
import { estimateAt, readAt } from "@/api/documents";
import { type AxleName, garage } from "@/api/garage";
import type { BarClaimReading, BarClaimRequestInput } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { sentence, unbroken } from "@/base/format";
import { units } from "@/base/settings";
import { Problems } from "@/widgets/Problems";

export function Claim({ axle, isOpen }: { axle: AxleName; isOpen: boolean }) {
  const [text, setText] = useState("");
  const g = garage.value.value;
  const ratio = estimateAt(g.car, `${axle}.bar_motion_ratio`);
  const request: BarClaimRequestInput | null =
    text.trim() === ""
      ? null
      : {
          text: text.trim(),
          axle,
          car_class: (readAt(g.car, "class") as BarClaimRequestInput["car_class"]) ?? "front_drive_hatch",
          motion_ratio: ratio ? { value: ratio.value, pm: ratio.pm, origin: ratio.origin } : null,
        };
  const asked = useAsk("bar/claim", request);
  const r = request ? asked.answer?.result : null;
  return (
    <details class="twin claim" open={isOpen}>
      <summary>What does the seller claim?</summary>
      <label class="pick">
        <span class="note">In his words, for example ‘38 % stiffer’ or ‘24 mm hollow, three-way’</span>
        <input class="write claim-text" value={text} maxLength={200} onChange={(e) => setText(e.currentTarget.value)} />
      </label>
      <Problems list={asked.problems} title="This cannot be read as a claim." />
      {r && (
        <div aria-live="polite">
          <p class="lettering said-first">{unbroken(r.meaning)}</p>
          {r.understood.length > 0 && <p class="note">Read as: {r.understood.join("; ")}.</p>}
          <ul class="readings">
            {r.readings.map((reading) => (
              <Reading key={reading.means} reading={reading} />
            ))}
          </ul>
          {r.questions.length > 0 && (
            <>
              <h3>Ask before you pay</h3>
              <ol class="notes">
                {r.questions.map((q) => (
                  <li key={q}>{q}</li>
                ))}
              </ol>
            </>
          )}
        </div>
      )}
    </details>
  );
}

function Reading({ reading: x }: { reading: BarClaimReading }) {
  const reach = (i: { low: number; high: number }, unit: "percent" | "n_per_mm") =>
    `${sentence(i.low, undefined, unit, units.value, { signed: unit === "percent" })} to ${sentence(i.high, undefined, unit, units.value, { signed: unit === "percent" })}`;
  return (
    <li>
      <b class="lettering">
        {x.means}
        {x.is_plausible ? "" : " (no road car has such a bar)"}
      </b>
      <br />
      Lean of the car: {reach(x.lean_change_percent, "percent")}. Each side in a corner:{" "}
      {reach(x.rate_per_side_n_per_mm, "n_per_mm")}. {x.note}
    </li>
  );
}
