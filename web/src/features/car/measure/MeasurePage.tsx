// The frame of every home measurement: the question, the drawing with its readings, the answer as it forms, the button
// that writes it into the car sheet, and the caution before the act.
import type { ComponentChildren } from "preact";
import { estimateAt } from "@/api/documents";
import { type CarDocument, setCarNumber } from "@/api/garage";
import { asMeasured } from "@/api/readings";
import type { Answer, Problem } from "@/api/types";
import type { Interval } from "@/base/estimate";
import { hrefOf } from "@/base/route";
import type { UnitKey } from "@/base/units";
import { Footing, Problems } from "@/widgets/Problems";
import { UseNumber } from "@/widgets/UseNumber";
import { Words } from "@/widgets/Words";

export interface PlaceProps {
  sheet: CarDocument;
  filled: unknown; // the same with typical values in its gaps
}
export interface Found {
  key: string; // of the car sheet
  name: string;
  term?: string;
  unit: UnitKey;
  of: Interval;
}

export function MeasurePage(p: {
  title: string;
  term: string;
  sheet: CarDocument;
  children: ComponentChildren;
  caution: ComponentChildren;
  found: readonly Found[];
  meaning: string | null;
  answer: Answer<unknown> | null;
  missing: readonly string[];
  problems: readonly Problem[];
  extra?: ComponentChildren;
}) {
  return (
    <main class="sheet measure-sheet">
      <div class="sheet-head">
        <h1>
          {p.title} <span class="term">({p.term})</span>
        </h1>
        <a class="press plain" href={hrefOf("car")}>
          ← back to the car
        </a>
      </div>
      {p.caution}
      <div class="columns">
        <section>{p.children}</section>
        <section class="answer" aria-live="polite" aria-label="What the readings say">
          {p.meaning ? (
            <p class="lettering said-first">
              <Words text={p.meaning} />
            </p>
          ) : (
            p.missing.length > 0 && <p class="still">Still to read: {p.missing.join(", ")}.</p>
          )}
          <Problems list={p.problems} title="These readings do not fit together." />
          {p.found.map((f, i) => {
            const fresh = asMeasured(f.of);
            const now = estimateAt(p.sheet, f.key);
            return (
              <UseNumber
                key={f.key}
                name={f.name}
                term={f.term}
                of={f.of}
                unit={f.unit}
                size={i === 0 ? "hero" : "mid"}
                now={now}
                isUsed={now?.value === fresh.value && now.pm === fresh.pm && now.origin === "measured"}
                sheet="the car sheet"
                onUse={() => setCarNumber(f.key, f.name, fresh)}
              />
            );
          })}
          {p.extra}
          <Footing answer={p.answer} />
        </section>
      </div>
    </main>
  );
}
