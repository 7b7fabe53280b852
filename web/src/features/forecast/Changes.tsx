// What changes, what does not, and what cannot be told: with the same room for each.
import type { CompareResult } from "@/api/types";
import { sentence, unbroken } from "@/base/format";
import { units } from "@/base/settings";
import { MarkInText } from "@/charts/marks";
import { Whiskers } from "@/charts/Whiskers";
import { Num } from "@/widgets/Num";
import { type ChangeRow, changeRows } from "./model";

export function Changes({ result, isFull }: { result: CompareResult; isFull: boolean }) {
  const rows = changeRows(result);
  const changes = rows.filter((r) => r.verdict === "changes");
  const rest = rows.filter((r) => r.verdict !== "changes");
  return (
    <div class="halves lists">
      <section>
        <h2>What changes</h2>
        <p class="lettering said-first">{unbroken(result.meaning)}</p>
        {changes.map((r) => (
          <Row key={r.key} r={r} />
        ))}
        {changes.length === 0 && <p>Nothing that you could feel or measure.</p>}
        <p class="note legend">
          <span class="before">
            <MarkInText role="before" />
            before
          </span>
          , dashed.{" "}
          <span class="after">
            <MarkInText role="after" />
            after
          </span>
          , solid. {isFull ? "The line is where it lies nineteen times in twenty." : "Working out the intervals …"}
        </p>
      </section>
      <section>
        <h2>What does not</h2>
        {(result.changes[0]?.stays ?? []).map((s) => (
          <div class="unchanged" key={s}>
            {s}
          </div>
        ))}
        {rest.map((r) => (
          <div class={r.verdict === "same" ? "unchanged" : "unclear"} key={r.key}>
            <b class="lettering">{r.name}.</b> {r.verdict === "same" ? "As before: " : "Cannot tell: "}
            {sentence(r.change.value, r.change.pm, r.unit, units.value, { signed: true })}
            {r.verdict === "unclear" && ", which may be nothing."}
          </div>
        ))}
      </section>
    </div>
  );
}

function Row({ r }: { r: ChangeRow }) {
  const was = sentence(r.before.value, r.before.pm, r.beforeUnit, units.value);
  const is = sentence(r.after.value, r.after.pm, r.beforeUnit, units.value);
  return (
    <div class="change">
      <span class="what">
        {r.name}
        {r.term && <span class="term"> ({r.term})</span>}
        <span class="note from-to">
          {was} → {is}
        </span>
      </span>
      <Whiskers before={r.before} after={r.after} />
      <span class="by">
        <Num of={r.change} unit={r.unit} size="small" signed />
      </span>
    </div>
  );
}
