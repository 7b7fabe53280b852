// What the gap would cost if the link were bolted as it is: load on one corner, cross weight. From the program, for this
// car and this bar.
import type { BarSheetInput, CarSheetInput } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { Said } from "@/widgets/Num";

export function GapCost({
  gap,
  car,
  bar,
  setting,
}: {
  gap: number;
  car: CarSheetInput;
  bar: BarSheetInput;
  setting: string;
}) {
  // The program counts a link that is too long as positive; a gap is a link that is too short.
  const asked = useAsk("fit/links", Math.abs(gap) < 0.05 ? null : { car, bar, setting, measured_gap_mm: -gap });
  const per = asked.answer?.result.per_mm;
  if (!per || Math.abs(gap) < 0.05) return null;
  const most = Math.max(Math.abs(per.own_left_kg), Math.abs(per.own_right_kg)) * Math.abs(gap);
  return (
    <p>
      Left as it is, this gap would push <Said of={most} unit="kg" decimals={1} /> onto one corner and pull as much off
      the other, and move the cross weight by{" "}
      <Said of={Math.abs(per.cross_weight_percent * gap)} unit="percent" decimals={2} />.
    </p>
  );
}
