// 'Detail A' and, where left and right differ, 'detail B'. Rates stand at the holes.
import { useState } from "preact/hooks";
import { type FullBar, holeLabel, holesOf, type Side } from "@/api/barSheet";
import type { BarRateResult } from "@/api/types";
import { write } from "@/base/format";
import { units } from "@/base/settings";
import { unitLabel } from "@/base/units";
import { ArmDetail } from "@/charts/ArmDetail";
import { Ring } from "@/widgets/small";
import { type Ends, fromStraight, ratesAtHoles } from "./model";

export function Details(p: {
  bar: FullBar;
  answer: BarRateResult | null | undefined;
  ends: Ends;
  onEnds: (e: Ends) => void;
}) {
  const { bar, ends } = p;
  const isEqual = holeLabel(ends.left, "left") === holeLabel(ends.right, "right");
  const [mixed, setMixed] = useState(!isEqual);
  const canMix = holesOf(bar, "left").length > 1;
  const same = (v: "same" | "mixed") => {
    setMixed(v === "mixed");
    if (v === "same" && !isEqual) {
      const twin = holesOf(bar, "right").find((h) => holeLabel(h.id, "right") === holeLabel(ends.left, "left"));
      if (twin) p.onEnds({ left: ends.left, right: twin.id });
    }
  };
  return (
    <>
      <div class="row detail-head">
        <h2>{mixed ? "Details A and B, the arms’ ends" : "Detail A, the arm’s end"}</h2>
        {canMix && (
          <Ring
            legend="Ends"
            choices={[
              { value: "same", label: "both ends the same" },
              { value: "mixed", label: "left and right differ" },
            ]}
            value={mixed ? "mixed" : "same"}
            onChange={same}
          />
        )}
      </div>
      {(mixed ? (["left", "right"] as const) : (["left"] as const)).map((side) => (
        <OneEnd key={side} side={side} isSame={!mixed} {...p} />
      ))}
      {mixed && (
        <p class="note">
          Different holes left and right give a rate between the two. The two links then push unlike, so one corner
          takes a little more: the answer says how much.
        </p>
      )}
    </>
  );
}

function OneEnd(p: {
  bar: FullBar;
  answer: BarRateResult | null | undefined;
  ends: Ends;
  onEnds: (e: Ends) => void;
  side: Side;
  isSame: boolean;
}) {
  const system = units.value;
  const list = ratesAtHoles(p.bar, p.answer, p.ends, p.side, p.isSame);
  const unit = unitLabel("n_per_mm", system);
  const where = p.isSame ? "both ends" : `${p.side} end`;
  return (
    <ArmDetail
      legend={`Hole at ${p.isSame ? "both ends" : `the ${p.side} end`}`}
      unit={p.isSame ? unit : `${p.side}, ${unit}`}
      chosen={p.ends[p.side]}
      holes={fromStraight(p.bar, p.side, list).map((h) => {
        const rate = h.result ? write(h.result.rate_relative_n_per_mm.value, undefined, "n_per_mm", system).value : "…";
        return { id: h.id, name: h.label, rate, label: `Hole ${h.label}, ${where}: ${rate} ${unit}` };
      })}
      onChoose={(id) => {
        const chosen = list.find((h) => h.id === id);
        if (chosen) p.onEnds(chosen.ends);
      }}
    />
  );
}
