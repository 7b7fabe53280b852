// A number as the hero: value large, ± and unit smaller in pencil. The unit system is the reader's.
import type { Estimate, Interval } from "@/base/estimate";
import { sentence, type WriteOptions, write } from "@/base/format";
import { units } from "@/base/settings";
import type { UnitKey } from "@/base/units";

export type NumSize = "hero" | "big" | "mid" | "small";

export function Num(
  p: {
    of: number | Interval | Estimate;
    unit: UnitKey;
    size?: NumSize;
    role?: "before" | "after";
    note?: string; // after the unit
  } & WriteOptions,
) {
  const value = typeof p.of === "number" ? p.of : p.of.value;
  const pm = typeof p.of === "number" ? undefined : p.of.pm;
  const w = write(value, pm, p.unit, units.value, p);
  return (
    <span class={`num ${p.size ?? "mid"} ${p.role ?? ""}`}>
      {w.value}
      {w.pm !== null && (
        <small>
          ±{"\u2009"}
          {w.pm}
        </small>
      )}
      {w.unit && <small class={w.unit === "°" ? "close" : ""}>{w.unit}</small>}
      {p.note && <small>{p.note}</small>}
    </span>
  );
}

// A number inside a sentence.
export function Said(p: { of: number | Interval | Estimate; unit: UnitKey } & WriteOptions) {
  const value = typeof p.of === "number" ? p.of : p.of.value;
  const pm = typeof p.of === "number" ? undefined : p.of.pm;
  return <span class="said">{sentence(value, pm, p.unit, units.value, p)}</span>;
}
