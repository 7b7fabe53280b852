// A bump under both wheels, under one, and an ordinary road: what bars cost in comfort, and whether the dampers still suit.
import { useState } from "preact/hooks";
import type { BumpResult } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { unbroken } from "@/base/format";
import { Num } from "@/widgets/Num";
import { Problems } from "@/widgets/Problems";
import { Pick, Twin } from "@/widgets/small";
import { MotionRows } from "./MotionRows";
import { motionRequest } from "./motionAsk";
import { bumpRows } from "./motionModel";

type Road = "a" | "b" | "c" | "d";
const ROADS: readonly { value: Road; label: string }[] = [
  { value: "a", label: "new motorway" },
  { value: "b", label: "good main road" },
  { value: "c", label: "ordinary lane" },
  { value: "d", label: "broken lane" },
];

export function MotionBump() {
  const [road, setRoad] = useState<Road>("b");
  const request = motionRequest();
  const quick = useAsk("forecast/bump", request && { ...request, road, draws: 0 });
  const full = useAsk("forecast/bump", request && { ...request, road, draws: 40 });
  const isFull = full.answer !== null && !full.isAsking;
  const result = (isFull ? full.answer : (quick.answer ?? full.answer))?.result;
  return (
    <>
      <Problems list={quick.problems} />
      {!result && quick.problems.length === 0 && <p class="note">Driving over it …</p>}
      {result && (
        <>
          <p>
            A bump 30 mm high and half a metre long at 40 km/h, then a road at 80 km/h. A bar does nothing when both
            wheels rise; it is one wheel that pays.
          </p>
          <Pick label="The road" choices={ROADS} value={road} onChange={setRoad} />
          <p class="lettering said-first">{unbroken(result.meaning)}</p>
          <MotionRows rows={bumpRows(result)} />
          <p class="note">
            {isFull ? "The line is where it lies nineteen times in twenty." : "Working out the intervals …"}
          </p>
          {result.changes[0]?.damper_advice && (
            <p>
              <b class="lettering">Dampers.</b> {result.changes[0].damper_advice}
            </p>
          )}
          <BumpTwin r={result} />
        </>
      )}
    </>
  );
}

function BumpTwin({ r }: { r: BumpResult }) {
  const rows = r.setups.slice(0, 2).flatMap((s, i) => {
    const name = i === 0 ? "before" : "after";
    return (["front", "rear"] as const).map((axle) => [
      `${name}, ${axle}`,
      <Num key="two" of={s[axle].two_wheel_rate_n_per_mm} unit="n_per_mm" size="small" />,
      <Num key="one" of={s[axle].one_wheel_rate_n_per_mm} unit="n_per_mm" size="small" />,
      <Num key="far" of={s[axle].far_wheel_n_per_mm} unit="n_per_mm" size="small" />,
      <Num key="hz" of={s[axle].ride_frequency_hz} unit="hz" size="small" />,
      <Num key="zeta" of={s[axle].ride_damping} unit="" size="small" />,
    ]);
  });
  return (
    <Twin
      caption="The axles in numbers"
      summary="The axles in numbers"
      head={["axle", "both wheels", "one wheel", "force at the other wheel", "bounces at", "damping ratio"]}
      rows={rows}
    />
  );
}
