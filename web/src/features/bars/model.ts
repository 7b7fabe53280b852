// What the bar sheet shows: the chosen setting among the program's answers, stress along the line at a travel.
import type { Side } from "@/api/barSheet";
import { type FullBar, holeLabel, holesOf, settingOf } from "@/api/barSheet";
import type { BarRateResult, BarSettingResult } from "@/api/types";
import { along } from "@/charts/barLine";

export interface Ends {
  left: string; // hole ids
  right: string;
}

export const resultOf = (
  bar: FullBar,
  answer: BarRateResult | null | undefined,
  ends: Ends,
): BarSettingResult | null => {
  const setting = settingOf(bar, ends.left, ends.right);
  return answer?.settings.find((s) => s.id === setting?.id) ?? null;
};

// Stress at arc length, from the stress per travel that the program gives along the line.
export function stressAt(result: BarSettingResult | null, travel: number): ((s: number) => number) | null {
  if (!result || result.along.length === 0) return null;
  const table = result.along.map((p) => [p.station_mm, p.von_mises_mpa_per_mm * travel] as const);
  return (s) => along(table, s);
}

// The rate a thumb on this hole would choose: this end changed, the other as it is (or changed with it).
export function ratesAtHoles(
  bar: FullBar,
  answer: BarRateResult | null | undefined,
  ends: Ends,
  side: Side,
  isSame: boolean,
) {
  const other: Side = side === "left" ? "right" : "left";
  return holesOf(bar, side).map((h) => {
    const label = holeLabel(h.id, side);
    const twin = holesOf(bar, other).find((o) => holeLabel(o.id, other) === label);
    const chosen: Ends =
      isSame && twin ? ({ [side]: h.id, [other]: twin.id } as unknown as Ends) : { ...ends, [side]: h.id };
    return { id: h.id, label, ends: chosen, result: resultOf(bar, answer, chosen) };
  });
}

// Holes in the order of the arm's drawing: nearest the straight first.
export function fromStraight<T extends { id: string }>(bar: FullBar, side: Side, list: readonly T[]): T[] {
  const back = new Map(holesOf(bar, side).map((h) => [h.id, h.back_from_arm_end_mm ?? h.point_mm?.[0] ?? 0]));
  return list.toSorted((a, b) => (back.get(b.id) ?? 0) - (back.get(a.id) ?? 0));
}
