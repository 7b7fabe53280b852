// Numbers as text. A number with a ± is rounded to the first figure of the ± that says something, and both get the
// same decimals, so that the page never shows digits nobody knows.
import { type System, toShown, type UnitKey, unitLabel, usualDecimals } from "./units";

const MINUS = "−";

export function plain(value: number, decimals: number): string {
  const text = value.toFixed(Math.min(8, Math.max(0, decimals)));
  return /^-0\.?0*$/.test(text) ? text.slice(1) : text.replace("-", MINUS);
}

// Decimals that a ± deserves: one figure, or two where rounding to one would change it by more than a tenth
// [JCGM 100:2008 §7.2.6 leaves one or two].
export function decimalsForPm(pm: number): number | null {
  if (!(pm > 0) || !Number.isFinite(pm)) return null;
  const exponent = Math.floor(Math.log10(pm) + 1e-12);
  const one = Math.round(pm / 10 ** exponent) * 10 ** exponent;
  return Math.max(0, -exponent + (Math.abs(one - pm) > 0.1 * pm ? 1 : 0));
}

// For a number that is being edited: one decimal more where rounding would move it by more than a tenth of its ±.
export function decimalsForEditing(value: number, pm: number): number | null {
  const decimals = decimalsForPm(pm);
  if (decimals === null) return null;
  return Math.abs(Number(value.toFixed(decimals)) - value) > pm / 10 ? decimals + 1 : decimals;
}

// Sentences of the program with their numbers kept together at the end of a line.
export function unbroken(text: string): string {
  return text.replaceAll(" ± ", "\u00a0±\u00a0").replace(/(\d) (%|deg|N\/|g\b|mm|km|points|lb|in\b)/g, "$1\u00a0$2");
}

export interface Written {
  value: string;
  pm: string | null;
  unit: string;
}

export interface WriteOptions {
  decimals?: number;
  signed?: boolean; // a plus before positive numbers, for changes
}

export function write(
  value: number,
  pm: number | undefined,
  unit: UnitKey,
  system: System,
  options: WriteOptions = {},
): Written {
  const shown = toShown(value, unit, system);
  const shownPm = pm === undefined ? undefined : toShown(pm, unit, system);
  const usual = usualDecimals(unit, system);
  const decimals = options.decimals ?? (shownPm ? (decimalsForPm(shownPm) ?? usual) : usual);
  const text = plain(shown, decimals);
  return {
    value: options.signed && shown > 0 && Number(text.replace(MINUS, "-")) !== 0 ? `+${text}` : text,
    pm: shownPm === undefined || shownPm === 0 ? null : plain(shownPm, decimals),
    unit: unitLabel(unit, system),
  };
}

// One line of text: "22.4 ± 1.3 N/mm"; a degree sign sits close to its number.
export function sentence(
  value: number,
  pm: number | undefined,
  unit: UnitKey,
  system: System,
  o?: WriteOptions,
): string {
  const w = write(value, pm, unit, system, o);
  const gap = w.unit === "" || w.unit === "°" ? "" : " ";
  return `${w.value}${w.pm === null ? "" : ` ±${w.pm}`}${gap}${w.unit}`;
}

// What someone typed: decimal point or comma, spaces, a typographic minus. Null where it is not one number.
export function readNumber(text: string): number | null {
  const tidy = text
    .trim()
    .replaceAll("\u2212", "-")
    .replaceAll(/[\s\u00a0\u2009]/g, "")
    .replace(",", ".");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(tidy)) return null;
  return Number(tidy);
}
