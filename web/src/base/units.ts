// Units. Documents and answers carry the unit in the key (`wheelbase_mm`); people read either metric or imperial.
// A number in a document's unit and a number as shown are different types, so that they cannot be mixed by accident.
// Conversion happens here and nowhere else, and loses nothing: rounding is only done when a number is written out.

export type System = "metric" | "imperial";
export type DocNumber = number & { readonly __brand: "rollwright-document-unit" };
export type ShownNumber = number & { readonly __brand: "rollwright-shown-unit" };

interface Face {
  label: string;
  factor: number; // shown = document × factor
  decimals: number; // what people usually read when no ± says more
}
export interface Unit {
  metric: Face;
  imperial: Face;
}

// Exact by definition: inch 25.4 mm, pound 0.45359237 kg, mile 1609.344 m; g 9.80665 m/s² [NIST SP 811 App. B].
const INCH = 25.4;
const POUND = 0.45359237;
const G = 9.80665;
const LBF = POUND * G;

const same = (label: string, decimals: number): Unit => ({
  metric: { label, factor: 1, decimals },
  imperial: { label, factor: 1, decimals },
});
const pair = (label: string, decimals: number, other: string, factor: number, otherDecimals: number): Unit => ({
  metric: { label, factor: 1, decimals },
  imperial: { label: other, factor, decimals: otherDecimals },
});

// Keyed by the suffix of document keys, as src/base/units.h writes them.
export const UNITS = {
  "": same("", 2),
  percent: same("%", 1),
  points: same("points", 1),
  mm: pair("mm", 0, "in", 1 / INCH, 2),
  m: pair("m", 1, "ft", 1000 / INCH / 12, 1),
  kg: pair("kg", 0, "lb", 1 / POUND, 0),
  s: same("s", 2),
  ms: same("ms", 0),
  min: same("min", 0),
  h: same("h", 1),
  deg: same("°", 1),
  deg_per_s: same("deg/s", 1),
  g: same("g", 2),
  hz: same("Hz", 2),
  km: pair("km", 0, "miles", 1 / 1.609344, 0),
  km_per_h: pair("km/h", 0, "mph", 1 / 1.609344, 0),
  m_per_s: same("m/s", 1),
  m_per_s2: same("m/s²", 1),
  n: pair("N", 0, "lbf", 1 / LBF, 0),
  nm: pair("N·m", 0, "lbf·ft", 1000 / INCH / 12 / LBF, 0),
  n_per_mm: pair("N/mm", 1, "lb/in", INCH / LBF, 0),
  nm_per_deg: pair("N·m/deg", 0, "lbf·ft/deg", 1000 / INCH / 12 / LBF, 0),
  mpa: pair("MPa", 0, "ksi", (INCH * INCH) / LBF / 1000, 1),
  mpa_per_mm: pair("MPa/mm", 2, "ksi/in", ((INCH * INCH) / LBF / 1000) * INCH, 1),
  bar: pair("bar", 1, "psi", (0.1 * INCH * INCH) / LBF, 0),
  deg_per_g: same("deg/g", 1),
  deg_per_kn: same("deg/kN", 2),
  kg_m2: same("kg·m²", 0),
  money: same("", 0),
} as const satisfies Record<string, Unit>;

export type UnitKey = keyof typeof UNITS;

const BY_LENGTH = (Object.keys(UNITS) as UnitKey[]).filter((k) => k).sort((a, b) => b.length - a.length);

// The unit that ends a key: "rate_relative_n_per_mm" → "n_per_mm". A plain ratio has none.
export function unitOfKey(key: string): UnitKey {
  return BY_LENGTH.find((suffix) => key.endsWith(`_${suffix}`)) ?? "";
}

export function unitLabel(unit: UnitKey, system: System): string {
  return UNITS[unit][system].label;
}
export function usualDecimals(unit: UnitKey, system: System): number {
  return UNITS[unit][system].decimals;
}
export function toShown(value: number, unit: UnitKey, system: System): ShownNumber {
  return (value * UNITS[unit][system].factor) as ShownNumber;
}
export function fromShown(value: number, unit: UnitKey, system: System): DocNumber {
  return (value / UNITS[unit][system].factor) as DocNumber;
}
