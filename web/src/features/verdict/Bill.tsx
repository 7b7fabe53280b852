// What it cost, what was wanted, how it felt: the part of the verdict only the person knows.

import { estimateAt } from "@/api/documents";
import { garage } from "@/api/garage";
import type { AlternativeInput, CostSheetInput, FeelRatingInput, SetupInput } from "@/api/types";
import { readNumber } from "@/base/format";
import { Ring } from "@/widgets/small";
import { verdictWords } from "./useVerdict";

const put = (label: string, key: string, value: unknown) =>
  garage.change(label, (g) => ({ ...g, work: { ...g.work, [key]: value } }));

export function Bill() {
  const { cost, feel, wanted, alternatives } = verdictWords(garage.value.value);
  const setCost = (label: string, change: Partial<CostSheetInput>) => put(label, "cost", { ...cost, ...change });
  const parts = cost.parts ?? [];
  return (
    <section class="bill screen-only">
      <h2>The bill and the wish</h2>
      <Ring
        legend="Worth it from this much less lean"
        showLegend
        choices={["5", "10", "15", "20"].map((v) => ({ value: v, label: `${v} %` }))}
        value={String(Math.abs(wanted))}
        onChange={(v) => put("the wish", "wanted", -Number(v))}
      />
      <div class="bill-lines">
        {parts.map((line, i) => (
          <div class="row" key={i}>
            <Words
              label={`Part ${i + 1}`}
              value={line.what}
              onChange={(what) => setCost("a part", { parts: parts.map((p, k) => (k === i ? { ...p, what } : p)) })}
            />
            <Amount
              label={`price, ${cost.currency}`}
              value={line.price_money}
              onChange={(price_money) =>
                setCost("a price", { parts: parts.map((p, k) => (k === i ? { ...p, price_money } : p)) })
              }
            />
            <button
              type="button"
              class="plain"
              onClick={() => setCost("a part less", { parts: parts.filter((_, k) => k !== i) })}
              aria-label={`take off ${line.what || `part ${i + 1}`}`}
            >
              take off
            </button>
          </div>
        ))}
        <div class="row">
          <button
            type="button"
            onClick={() => setCost("a part more", { parts: [...parts, { what: "", price_money: 0 }] })}
          >
            Another part
          </button>
          <Amount label="hours of work" value={cost.work_h ?? 0} onChange={(work_h) => setCost("hours", { work_h })} />
          <Words
            label="Currency"
            value={cost.currency ?? ""}
            onChange={(currency) => setCost("currency", { currency })}
            isShort
          />
        </div>
      </div>
      <Instead alternatives={alternatives} currency={cost.currency ?? ""} />
      <Feel feel={feel} />
    </section>
  );
}

// What else the money could buy, as setups of this car; the forecast says what each would do.
function Instead({ alternatives, currency }: { alternatives: readonly AlternativeInput[]; currency: string }) {
  const set = (list: AlternativeInput[]) => put("what else to buy", "alternatives", list);
  const springs = (axle: "front" | "rear") => {
    const rate = estimateAt(garage.value.value.car, `${axle}.spring_rate_n_per_mm`);
    return rate
      ? { spring_rate_n_per_mm: { value: rate.value * 1.3, pm: rate.value * 0.04, origin: "maker" as const } }
      : undefined;
  };
  const add = (setup: SetupInput) => set([...alternatives, { setup, price_money: 0 }]);
  const has = (name: string) => alternatives.some((a) => a.setup.name === name);
  const [tyres, firmer] = ["sport tyres instead", "springs 30 % stiffer instead"];
  return (
    <div class="bill-lines">
      {alternatives.map((a, i) => (
        <div class="row" key={a.setup.name}>
          <span>{a.setup.name}</span>
          <Amount
            label={`price, ${currency}`}
            value={a.price_money ?? 0}
            onChange={(price_money) => set(alternatives.map((b, k) => (k === i ? { ...b, price_money } : b)))}
          />
          <button
            type="button"
            class="plain"
            onClick={() => set(alternatives.filter((_, k) => k !== i))}
            aria-label={`take off ${a.setup.name}`}
          >
            take off
          </button>
        </div>
      ))}
      <div class="row">
        {(!has(tyres) || !has(firmer)) && <span class="note">Hold against it:</span>}
        {!has(tyres) && (
          <button
            type="button"
            onClick={() =>
              add({ name: tyres, front: { tyre_kind: "street_track" }, rear: { tyre_kind: "street_track" } })
            }
          >
            Sport tyres
          </button>
        )}
        {!has(firmer) && springs("front") && springs("rear") && (
          <button type="button" onClick={() => add({ name: firmer, front: springs("front"), rear: springs("rear") })}>
            Springs 30 % stiffer
          </button>
        )}
      </div>
    </div>
  );
}

const FELT: readonly { value: FeelRatingInput["what"]; label: string }[] = [
  { value: "lean", label: "lean" },
  { value: "turn_in", label: "turning in" },
  { value: "balance", label: "balance" },
  { value: "grip", label: "grip" },
  { value: "comfort", label: "comfort" },
  { value: "confidence", label: "confidence" },
];

// Blind: a rating before goes under seal the moment it is given and is shown to nobody, the person included, until the same
// question is rated after the change. Whoever sees the first number writes the second to match it.
function Feel({ feel }: { feel: FeelRatingInput[] }) {
  const set = (list: FeelRatingInput[]) => put("how it felt", "feel", list);
  const others = (what: string) => feel.filter((f) => f.what !== what);
  return (
    <fieldset class="feel">
      <legend>How it feels, nought (bad) to ten (good)</legend>
      <p class="note">
        Rate before the change. The number goes under seal at once and comes out only when you have rated the same thing
        after it.
      </p>
      {FELT.map((q) => {
        const f = feel.find((r) => r.what === q.value);
        const isDone = f?.after != null;
        return (
          <div class="row" key={q.value}>
            <b class="feel-name">{q.label}</b>
            {!f && (
              <Rate
                label={`${q.label}, before`}
                onRate={(before) => set([...others(q.value), { what: q.value, before, sealed: true }])}
              />
            )}
            {f && !isDone && (
              <>
                <span>before: under seal</span>
                <Rate label={`${q.label}, after`} onRate={(after) => set([...others(q.value), { ...f, after }])} />
              </>
            )}
            {f && isDone && (
              <span>
                {f.before} → {f.after}
                {f.sealed ? ", rated blind" : ""}
              </span>
            )}
            {f && (
              <button
                type="button"
                class="plain"
                aria-label={`rate ${q.label} anew`}
                onClick={() => set(others(q.value))}
              >
                anew
              </button>
            )}
          </div>
        );
      })}
    </fieldset>
  );
}

// Choosing from a list gives nothing away while one thinks; only the choice is kept.
function Rate(p: { label: string; onRate: (n: number) => void }) {
  return (
    <label class="pick">
      <span class="note">{p.label}</span>
      <select
        value=""
        onChange={(e) => {
          if (e.currentTarget.value !== "") p.onRate(Number(e.currentTarget.value));
        }}
      >
        <option value="">–</option>
        {Array.from({ length: 11 }, (_, n) => (
          <option key={n} value={String(n)}>
            {n}
          </option>
        ))}
      </select>
    </label>
  );
}

function Words(p: { label: string; value: string; onChange: (v: string) => void; isShort?: boolean }) {
  return (
    <label class="pick">
      <span class="note">{p.label}</span>
      <input
        class={`write ${p.isShort ? "short" : ""}`}
        value={p.value}
        maxLength={80}
        onChange={(e) => p.onChange(e.currentTarget.value.trim())}
      />
    </label>
  );
}

function Amount(p: { label: string; value: number; onChange: (v: number) => void; max?: number }) {
  return (
    <label class="pick">
      <span class="note">{p.label}</span>
      <input
        class="write short"
        inputMode="decimal"
        value={String(p.value)}
        onChange={(e) => {
          const n = readNumber(e.currentTarget.value);
          if (n !== null && n >= 0 && n <= (p.max ?? 1e7)) p.onChange(n);
          else e.currentTarget.value = String(p.value);
        }}
      />
    </label>
  );
}
