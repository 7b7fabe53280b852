// What a measurement found, beside what the sheet says now, and the button that writes it there in ink.
import type { Estimate, Interval } from "@/base/estimate";
import { isInk, ORIGIN_WORDS } from "@/base/estimate";
import type { UnitKey } from "@/base/units";
import { Num, type NumSize, Said } from "./Num";

export interface UseProps {
  name: string;
  term?: string;
  of: Interval;
  unit: UnitKey;
  now: Estimate | null;
  isUsed: boolean;
  sheet: string; // "the car sheet"
  onUse: () => void;
  size?: NumSize;
}

export function UseNumber(p: UseProps) {
  const origin = p.now ? (p.now.origin ?? "measured") : "typical";
  return (
    <div class="use-number" data-used={p.isUsed}>
      <p class="note no-gap">
        {p.name} {p.term && <span class="term">({p.term})</span>}
      </p>
      <Num of={p.of} unit={p.unit} size={p.size ?? "mid"} />
      <p class="note no-gap">
        {p.isUsed ? (
          <>In ink on {p.sheet}.</>
        ) : p.now ? (
          <>
            {capital(p.sheet)} says <Said of={p.now} unit={p.unit} />, {ORIGIN_WORDS[origin]}
            {isInk(origin) && p.now.pm !== undefined && p.now.pm < p.of.pm ? ": closer than these readings can." : "."}
          </>
        ) : (
          <>{capital(p.sheet)} says nothing yet.</>
        )}
      </p>
      <button
        type="button"
        class={p.isUsed ? "" : "main"}
        disabled={p.isUsed}
        onClick={p.onUse}
        aria-label={`${p.isUsed ? "Used" : "Use this number"}: ${p.name}`}
      >
        {p.isUsed ? "Used" : "Use this number"}
      </button>
    </div>
  );
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
