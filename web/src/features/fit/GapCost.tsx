// What the gap would cost if the link were bolted as it is: load on one corner, cross weight. From the program, for this
// car and this bar.
import type { FitLinksRequestInput } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { Said } from "@/widgets/Num";
import { type FitState, linkOf } from "./model";
import type { Subject } from "./subject";

export function GapCost({
  gap,
  side,
  state,
  subject,
}: {
  gap: number;
  side: "left" | "right";
  state: FitState;
  subject: Subject;
}) {
  const isGap = Math.abs(gap) >= 0.05;
  const link = linkOf(state);
  // The program counts a link that is too long as positive; a gap is a link that is too short.
  const request: FitLinksRequestInput = {
    car: subject.car,
    bar: subject.bar,
    setting: subject.setting,
    measured_gap_mm: -gap,
    kept: side === "left" ? "right" : "left",
    ...(side === "left" ? { left_link: link } : { right_link: link }),
  };
  const asked = useAsk("fit/links", isGap ? request : null);
  const per = asked.answer?.result.per_mm;
  if (!per || !isGap) return null;
  const most = Math.max(Math.abs(per.own_left_kg), Math.abs(per.own_right_kg)) * Math.abs(gap);
  return (
    <p>
      Left as it is, this gap would push <Said of={most} unit="kg" decimals={1} /> onto one corner of this axle and take
      as much off the other. It would move the cross weight by{" "}
      <Said of={Math.abs(per.cross_weight_percent * gap)} unit="percent" decimals={2} />.
    </p>
  );
}
