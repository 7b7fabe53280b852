// One raw reading: a large number, as it stands on the scale or the tape. What cannot be read stays, with the reason.
import { units } from "@/base/settings";
import { toShown, type UnitKey } from "@/base/units";
import { NumberField } from "./NumberField";

export function Reading(p: {
  name: string;
  id: string;
  unit: UnitKey;
  value: number | null;
  onChange: (value: number | null) => void;
  n?: number;
  low?: number;
  high?: number;
  problem?: string | null;
}) {
  return (
    <NumberField
      class="reading"
      spec={{ key: p.id, name: p.name, unit: p.unit, low: p.low, high: p.high, decimals: asRead(p.value, p.unit) }}
      n={p.n}
      value={p.value === null ? null : { value: p.value, origin: "measured" }}
      typical={null}
      onChange={(e) => p.onChange(e?.value ?? null)}
      problem={p.problem}
    />
  );
}

// A reading keeps the decimals it was read with, up to two; in the other units one is enough.
function asRead(value: number | null, unit: UnitKey): number {
  const shown = value === null ? 0 : toShown(value, unit, units.value);
  return [0, 1, 2].find((d) => Math.abs(Number(shown.toFixed(d)) - shown) < 1e-6 * Math.max(1, Math.abs(shown))) ?? 1;
}
