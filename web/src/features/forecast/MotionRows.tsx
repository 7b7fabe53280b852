// Figures before and after with their intervals, one line each.
import { sentence } from "@/base/format";
import { units } from "@/base/settings";
import { Whiskers } from "@/charts/Whiskers";
import { Num } from "@/widgets/Num";
import type { MotionRow } from "./motionModel";

const WORDS = { same: "=", unclear: "?", changes: "", alone: "" } as const;

export function MotionRows({ rows }: { rows: readonly MotionRow[] }) {
  return (
    <div class="motion-rows">
      {rows.map((r) => (
        <div class="change" key={r.key}>
          <span class="what">
            {r.name}
            {r.term && <span class="term"> ({r.term})</span>}
            <span class="note from-to">
              {sentence(r.before.value, r.before.pm, r.unit, units.value)}
              {r.after && ` → ${sentence(r.after.value, r.after.pm, r.unit, units.value)}`}
            </span>
          </span>
          <Whiskers before={r.before} after={r.after} />
          <span class="by">
            {r.change && <Num of={r.change} unit={r.changeUnit} size="small" signed />}
            {WORDS[r.verdict] && (
              <span class="note" title={r.verdict === "same" ? "as before" : "cannot tell"}>
                {" "}
                {WORDS[r.verdict]}
                <span class="unseen">{r.verdict === "same" ? " as before" : " cannot tell"}</span>
              </span>
            )}
          </span>
        </div>
      ))}
    </div>
  );
}
