// A number with its doubt and its origin. Three taps at most: the number itself, its mark (where it comes from, how
// sure), or 'I don't know'. The typed text is only read when the field is left or Enter is pressed, and what cannot be
// read stays where it was typed, with the reason beside it.
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef, useState } from "preact/hooks";
import { type Estimate, isInk, ORIGIN_WORDS, type Origin } from "@/base/estimate";
import { decimalsForEditing, readNumber, write } from "@/base/format";
import { units } from "@/base/settings";
import { fromShown, type System, toShown, type UnitKey, unitLabel } from "@/base/units";
import { OriginMark } from "./OriginMark";
import { Ring } from "./small";

export interface FieldSpec {
  key: string;
  name: string;
  term?: string; // the trade word, in brackets
  unit: UnitKey;
  decimals?: number;
  low?: number; // allowed, in the document's unit
  high?: number;
  usualPm?: number; // taken for a number typed without ±
  howTo?: string; // how to measure it
}

export interface NumberFieldProps {
  spec: FieldSpec;
  value: Estimate | null; // null: not known, the typical value is used
  typical: Estimate | null; // what stands in pencil meanwhile
  n?: number; // its balloon on the drawing
  isOpen?: boolean;
  onOpen?: (key: string | null) => void;
  onChange: (value: Estimate | null) => void;
  problem?: string | null; // from the program, explained in place
  help?: ComponentChildren; // how to measure it, drawn, and the way to where the readings go
  class?: string;
  style?: Record<string, string>;
}

const GIVEN: readonly Origin[] = ["measured", "maker", "typical", "guess"];

export function NumberField(p: NumberFieldProps) {
  const { spec } = p;
  const system = units.value;
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const shown = p.value ?? p.typical;
  const origin: Origin = p.value ? (p.value.origin ?? "measured") : "typical";
  const w = shown
    ? write(shown.value, shown.pm, spec.unit, system, { decimals: decimalsOf(shown, spec, system) })
    : null;
  const [draft, setDraft] = useState<string | null>(null);
  const [slip, setSlip] = useState<string | null>(null);
  // What the hand found stays while it is there, even when the typical value arrives meanwhile.
  const [held, setHeld] = useState<string | null>(null);
  useEffect(() => {
    setDraft(null);
    setSlip(null);
    setHeld(null);
  }, [p.value?.value, p.value?.pm, p.value?.origin, system]);

  const take = () => {
    if (draft === null) return;
    if (draft.trim() === "") {
      setDraft(null);
      setHeld(null);
      p.onChange(null);
      return;
    }
    const number = readNumber(draft);
    if (number === null) return setSlip(`‘${draft}’ is not one number.`);
    const value = fromShown(number, spec.unit, system);
    const bad = outside(value, spec, system);
    if (bad) return setSlip(bad);
    setDraft(null);
    setSlip(null);
    setHeld(null);
    const kept = p.value ?? { origin: "measured" as Origin, pm: spec.usualPm };
    const wasPencil = !isInk(kept.origin);
    p.onChange({ value, pm: wasPencil ? spec.usualPm : kept.pm, origin: wasPencil ? "measured" : kept.origin });
  };

  const complaint = slip ?? p.problem ?? null;
  return (
    <div
      class={`field ${p.isOpen ? "open" : ""} ${isInk(origin) ? "ink" : "pencil"} ${p.class ?? ""}`}
      data-key={spec.key}
      style={p.style}
    >
      {p.n !== undefined && (
        <span class="bn" aria-hidden="true">
          {p.n}
        </span>
      )}
      <label class="nm" for={id}>
        <span>
          {spec.name}
          {spec.term && <span class="term"> ({spec.term})</span>}
        </span>
      </label>
      <span class={`v ${w || draft !== null ? "" : "unknown"}`}>
        <input
          ref={input}
          id={id}
          inputMode="decimal"
          autocomplete="off"
          value={draft ?? held ?? w?.value ?? ""}
          aria-describedby={`${id}-u ${complaint ? `${id}-e` : ""}`}
          aria-invalid={complaint ? "true" : undefined}
          onFocus={(e) => {
            setHeld(w?.value ?? "");
            e.currentTarget.select();
          }}
          onInput={(e) => setDraft(e.currentTarget.value)}
          onBlur={() => {
            setHeld(null);
            take();
          }}
          onKeyDown={(e) => {
            if (e.key === "Enter") take();
            if (e.key === "Escape") {
              setDraft(null);
              setSlip(null);
            }
          }}
        />
        <span class="u" id={`${id}-u`}>
          {w?.pm ? `±${w.pm} ` : ""}
          {unitLabel(spec.unit, system)}
        </span>
        {p.onOpen && (
          <button
            type="button"
            class="o"
            aria-expanded={p.isOpen ? "true" : "false"}
            aria-label={`${spec.name}: ${p.value ? ORIGIN_WORDS[origin] : "not known, a typical value"}. Change where it comes from and how sure it is`}
            onClick={() => p.onOpen?.(p.isOpen ? null : spec.key)}
          >
            <OriginMark origin={origin} silent />
          </button>
        )}
      </span>
      {complaint && (
        <p class="complaint" id={`${id}-e`} role="alert">
          {complaint}
        </p>
      )}
      {p.isOpen && <More {...p} origin={origin} shown={shown} />}
    </div>
  );
}

// As many decimals as the ± deserves, but never so few that a number looks like another one while it is edited.
function decimalsOf(e: Estimate, spec: FieldSpec, system: System): number | undefined {
  if (!e.pm) return spec.decimals;
  return decimalsForEditing(toShown(e.value, spec.unit, system), toShown(e.pm, spec.unit, system)) ?? spec.decimals;
}

function More(p: NumberFieldProps & { origin: Origin; shown: Estimate | null }) {
  const { spec, shown } = p;
  const system = units.value;
  const id = useId();
  const w = shown ? write(shown.value, shown.pm, spec.unit, system) : null;
  const setPm = (text: string) => {
    const number = readNumber(text);
    if (number === null || number < 0 || !shown) return;
    p.onChange({ value: shown.value, origin: p.value?.origin ?? "guess", pm: fromShown(number, spec.unit, system) });
  };
  return (
    <div class="more">
      <Ring
        legend="Where does it come from?"
        choices={GIVEN.map((o) => ({
          value: o,
          name: ORIGIN_WORDS[o],
          label: (
            <>
              <OriginMark origin={o} silent /> {o}
            </>
          ),
        }))}
        value={p.origin}
        onChange={(origin) => shown && p.onChange({ ...shown, origin })}
      />
      <p class="sure">
        <label for={id}>How sure? ±</label>
        <input
          id={id}
          class="pm"
          inputMode="decimal"
          value={w?.pm ?? ""}
          onChange={(e) => setPm(e.currentTarget.value)}
        />
        <span>{unitLabel(spec.unit, system)}, nineteen times in twenty</span>
      </p>
      <button type="button" onClick={() => p.onChange(null)} disabled={p.value === null}>
        I don’t know, use a typical one
      </button>
      {(spec.howTo || p.help) && (
        <details class="how">
          <summary>How to measure</summary>
          {spec.howTo && <p>{spec.howTo}</p>}
          {p.help}
        </details>
      )}
    </div>
  );
}

function outside(value: number, spec: FieldSpec, system: "metric" | "imperial"): string | null {
  const { low, high } = spec;
  const isLow = low !== undefined && value < low;
  const isHigh = high !== undefined && value > high;
  if (!isLow && !isHigh) return null;
  const say = (v: number | undefined) => (v === undefined ? "" : write(v, undefined, spec.unit, system).value);
  const range =
    low !== undefined && high !== undefined
      ? `${say(low)} to ${say(high)}`
      : isLow
        ? `${say(low)} or more`
        : `${say(high)} or less`;
  return `Expected ${range} ${unitLabel(spec.unit, system)}. Is the unit right?`;
}
