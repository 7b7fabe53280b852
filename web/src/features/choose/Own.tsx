// Something of one's own to hold against the typical ones: an offer seen, a friend's springs.
import { useState } from "preact/hooks";
import type { CandidateInput } from "@/api/types";
import { readNumber } from "@/base/format";
import { Pick } from "@/widgets/small";
import { OWN_KINDS, type OwnKind, ownCandidate } from "./model";

export function Own(p: {
  own: readonly CandidateInput[];
  currency: string;
  onChange: (own: CandidateInput[]) => void;
}) {
  const [kind, setKind] = useState<OwnKind>("front bar");
  const [words, setWords] = useState({ name: "", factor: "1.5", price: "", hours: "3" });
  const [said, setSaid] = useState("");
  const write = (key: keyof typeof words) => (e: { currentTarget: HTMLInputElement }) =>
    setWords({ ...words, [key]: e.currentTarget.value });
  const add = () => {
    const name = words.name.trim();
    const factor = readNumber(words.factor);
    const hours = readNumber(words.hours) ?? 0;
    const price = words.price.trim() === "" ? null : readNumber(words.price);
    if (!name || p.own.some((c) => c.name === name)) return setSaid("Give it a name of its own.");
    if (factor === null || factor <= 0 || factor > 10) return setSaid("The factor is a number like 1.5.");
    if (words.price.trim() !== "" && (price === null || price < 0)) return setSaid("The price is a number, or empty.");
    setSaid("");
    p.onChange([...p.own, ownCandidate(kind, name, factor, price, Math.max(hours, 0))]);
    setWords({ ...words, name: "", price: "" });
  };
  return (
    <details class="own">
      <summary>
        Your own candidates <span class="note">{p.own.length > 0 ? p.own.length : "none"}</span>
      </summary>
      <ul>
        {p.own.map((c) => (
          <li key={c.name} class="row">
            <span class="lettering">{c.name}</span>
            <span>
              {c.price_money == null ? "no price yet" : `${p.currency} ${c.price_money}`}, {c.work_h ?? 0} h
            </span>
            <button
              type="button"
              class="plain"
              aria-label={`take off ${c.name}`}
              onClick={() => p.onChange(p.own.filter((o) => o.name !== c.name))}
            >
              take off
            </button>
          </li>
        ))}
      </ul>
      <div class="row">
        <Word label="What it is" value={words.name} onInput={write("name")} />
        <Pick
          label="Kind"
          choices={OWN_KINDS.map((k) => ({ value: k.value, label: k.label }))}
          value={kind}
          onChange={setKind}
        />
        <Word label="Factor" value={words.factor} onInput={write("factor")} isShort />
        <Word label={`Price, ${p.currency}`} value={words.price} onInput={write("price")} isShort />
        <Word label="Hours" value={words.hours} onInput={write("hours")} isShort />
        <button type="button" onClick={add}>
          Add it
        </button>
      </div>
      <p aria-live="polite">{said}</p>
    </details>
  );
}

function Word(p: {
  label: string;
  value: string;
  onInput: (e: { currentTarget: HTMLInputElement }) => void;
  isShort?: boolean;
}) {
  return (
    <label class="pick">
      <span class="note">{p.label}</span>
      <input class={`write ${p.isShort ? "amount" : ""}`} value={p.value} maxLength={60} onInput={p.onInput} />
    </label>
  );
}
