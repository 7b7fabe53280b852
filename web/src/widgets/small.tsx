// The small parts of every sheet: caution, flags, ring, tick, twin table, the words for problems.
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";

export function Caution({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <aside class="caution" aria-label={`Caution: ${title}`}>
      <div>
        <b>{title}</b>
        <p>{children}</p>
      </div>
    </aside>
  );
}

export type FlagKind = "good" | "mind" | "out";
const FLAG: Record<FlagKind, { words: string; d: string; pen: string }> = {
  good: { words: "good", d: "M4 13L10 19L21 5", pen: "bold" },
  mind: { words: "mind", d: "M12 2.5L22 21.5H2ZM12 9v6M12 18v.5", pen: "mid" },
  out: { words: "left out", d: "M5 5L19 19M19 5L5 19", pen: "bold" },
};
export function Flags({ list }: { list: readonly { kind: FlagKind; key: string; text: ComponentChildren }[] }) {
  return (
    <ul class="flags">
      {list.map((f) => (
        <li key={f.key}>
          <svg viewBox="0 0 24 24" role="img" aria-label={FLAG[f.kind].words}>
            <path class={FLAG[f.kind].pen} d={FLAG[f.kind].d} />
          </svg>
          <span>{f.text}</span>
        </li>
      ))}
    </ul>
  );
}

export interface Choice<T extends string> {
  value: T;
  label: ComponentChildren;
  name?: string; // for screen readers, where the label is drawn
}
export function Ring<T extends string>(p: {
  legend: string;
  showLegend?: boolean;
  choices: readonly Choice<T>[];
  value: T;
  onChange: (value: T) => void;
}) {
  const name = useId();
  return (
    <fieldset class="ring">
      <legend class={p.showLegend ? "" : "unseen"}>{p.legend}</legend>
      {p.choices.map((c) => (
        <label key={c.value}>
          <input
            type="radio"
            name={name}
            value={c.value}
            checked={c.value === p.value}
            aria-label={c.name}
            onChange={() => p.onChange(c.value)}
          />
          {c.label}
        </label>
      ))}
    </fieldset>
  );
}

export function Tick({
  children,
  onClick,
  disabled,
}: {
  children: ComponentChildren;
  onClick: () => void;
  disabled?: boolean;
}) {
  return (
    <button type="button" class="main tick-plate" onClick={onClick} disabled={disabled}>
      <svg viewBox="0 0 56 46" aria-hidden="true">
        <path d="M5 25L20 40L51 5" />
      </svg>
      {children}
    </button>
  );
}

// The same numbers as a table, beside each drawing that shows data.
export function Twin(p: {
  caption: string;
  head: readonly string[];
  rows: readonly (readonly ComponentChildren[])[];
  summary?: string;
}) {
  return (
    <details class="twin">
      <summary>{p.summary ?? "The same as a table"}</summary>
      <div class="table-scroll" role="region" aria-label={p.caption} tabIndex={0}>
        <table>
          <caption>{p.caption}</caption>
          <thead>
            <tr>
              {p.head.map((h, i) => (
                <th key={h} scope="col" class={i === 0 ? "" : "n"}>
                  {h}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {p.rows.map((r, k) => (
              <tr key={k}>
                {r.map((cell, i) => (
                  <td key={i} class={i === 0 ? "lettering" : "n"}>
                    {cell}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}

export function Unchanged({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <div class="unchanged">
      <b class="lettering">{title}.</b> {children}
    </div>
  );
}

// One of many, where a ring would be too long: the browser's own list.
export function Pick<T extends string>(p: {
  label: string;
  choices: readonly { value: T; label: string }[];
  value: T;
  onChange: (value: T) => void;
}) {
  const id = useId();
  return (
    <span class="pick">
      <label for={id} class="note">
        {p.label}
      </label>
      <select id={id} value={p.value} onChange={(e) => p.onChange(e.currentTarget.value as T)}>
        {p.choices.map((c) => (
          <option key={c.value} value={c.value}>
            {c.label}
          </option>
        ))}
      </select>
    </span>
  );
}
