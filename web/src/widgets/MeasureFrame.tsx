// The frame of every home measurement: the question, the caution before the act, the drawing with its readings, the
// answer as it forms, and the buttons that write it where it belongs.
import type { ComponentChildren } from "preact";
import type { Answer, Problem } from "@/api/types";
import { hrefOf } from "@/base/route";
import { Footing, Problems } from "./Problems";
import { UseNumber, type UseProps } from "./UseNumber";
import { Words } from "./Words";
import "./measure.css";

export interface FrameProps {
  title: string;
  term: string;
  children: ComponentChildren;
  caution: ComponentChildren;
  meaning: string | null;
  answer: Answer<unknown> | null;
  missing: readonly string[];
  problems: readonly Problem[];
  extra?: ComponentChildren;
}

export function MeasureFrame(p: FrameProps & { back: { to: string; name: string }; uses: readonly UseProps[] }) {
  return (
    <main class="sheet measure-sheet">
      <div class="sheet-head">
        <h1>
          {p.title} <span class="term">({p.term})</span>
        </h1>
        <a class="press plain" href={hrefOf(p.back.to)}>
          ← {p.back.name}
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
          {p.uses.map((u, i) => (
            <UseNumber key={u.name} size={i === 0 ? "hero" : "mid"} {...u} />
          ))}
          {p.extra}
          <Footing answer={p.answer} />
        </section>
      </div>
    </main>
  );
}
