// What the program refused, in its words, with what would have been right and what to try.
import type { Problem } from "@/api/types";
import { keyInWords } from "@/base/places";
import { hrefOf } from "@/base/route";
import { Words } from "./Words";

export function Problems({ list, title }: { list: readonly Problem[]; title?: string }) {
  if (list.length === 0) return null;
  return (
    <div class="problems" role="alert">
      <b class="lettering">
        {title ?? (list[0]!.kind === "no_answer" ? "No answer to this." : "Something here does not fit.")}
      </b>
      <ul>
        {list.map((p, i) => (
          <li key={i}>
            <p>
              <Where of={p.where} /> <Words text={p.message} /> {p.allowed && <>Allowed: {p.allowed}. </>}
              {p.hint && (
                <span class="note">
                  <Words text={p.hint} />
                </span>
              )}
            </p>
          </li>
        ))}
      </ul>
    </div>
  );
}

// A number of the car sheet leads to itself; anything else is named as the program names it.
function Where({ of }: { of: string }) {
  if (!of) return null;
  const key = /^car\.([a-z_.]+)$/.exec(of)?.[1];
  return key ? <a href={hrefOf(`car/number/${key}`)}>{keyInWords(key)}:</a> : <code>{keyInWords(of)}</code>;
}

// What an answer rests on: shown small, never hidden.
export function Footing({
  answer,
}: {
  answer: { warnings: { code: string; text: string }[]; assumptions: string[]; sources: string[] } | null;
}) {
  if (!answer) return null;
  const { warnings, assumptions, sources } = answer;
  if (warnings.length + assumptions.length + sources.length === 0) return null;
  return (
    <section class="footing" aria-label="What this rests on">
      {warnings.map((w) => (
        <p key={w.code + w.text} class="warning">
          <b class="lettering">Mind.</b> <Words text={w.text} />
        </p>
      ))}
      {assumptions.length + sources.length > 0 && (
        <details class="twin">
          <summary>What this rests on</summary>
          <ul>
            {assumptions.map((a) => (
              <li key={a}>
                <p>
                  <Words text={a} />
                </p>
              </li>
            ))}
          </ul>
          {sources.length > 0 && <p class="note">Sources: {sources.join("; ")}</p>}
        </details>
      )}
    </section>
  );
}
