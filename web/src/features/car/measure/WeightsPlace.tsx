// 'What does each wheel carry?' Four scales, the floor's error taken out, and what the driver does.
import { useState } from "preact/hooks";
import { drawnCar } from "@/api/carDrawn";
import { garage } from "@/api/garage";
import { answered, refusedAt, refusedElsewhere, useReadings } from "@/api/readings";
import { carFor } from "@/api/setups";
import { useAsk } from "@/api/useAsk";
import { useRoom } from "@/base/room";
import type { UnitKey } from "@/base/units";
import { Num, Said } from "@/widgets/Num";
import { Reading } from "@/widgets/Reading";
import { Caution, Ring } from "@/widgets/small";
import { type Found, MeasurePage, type PlaceProps } from "./MeasurePage";
import { BLANK_WEIGHTS, CORNER_WORDS, CORNERS, type Four, type WeightsReadings, weightsRequest } from "./model";
import { WeightsDrawing } from "./WeightsDrawing";

type Set = "aboard" | "empty" | "pads";
const SETS = {
  aboard: { label: "driver aboard", unit: "kg" as UnitKey, where: "corners", suffix: "_kg" },
  empty: { label: "seat empty", unit: "kg" as UnitKey, where: "without_driver", suffix: "_kg" },
  pads: { label: "floor under the scales", unit: "mm" as UnitKey, where: "pads", suffix: "_mm" },
};

export function WeightsPlace({ sheet, filled }: PlaceProps) {
  const [r, put] = useReadings<WeightsReadings>("weights", BLANK_WEIGHTS);
  const [shown, setShown] = useState<Set>("aboard");
  const [ref, room] = useRoom<HTMLDivElement>(420);
  const { request, missing } = weightsRequest(r, carFor(garage.value.value));
  const asked = useAsk("car/weights", request);
  const answer = request ? answered(asked) : null;
  const result = answer?.result ?? null;
  const set = SETS[shown];
  const where = (s: Set) => CORNERS.map((c) => `${SETS[s].where}.${c}${SETS[s].suffix}`);
  const floor: Four | null =
    result && result.floor_front_left_kg !== null
      ? {
          front_left: result.floor_front_left_kg,
          front_right: result.floor_front_right_kg,
          rear_left: result.floor_rear_left_kg,
          rear_right: result.floor_rear_right_kg,
        }
      : null;
  const found: Found[] = result
    ? [
        { key: "mass_kg", name: "Weight, driver aboard", term: "mass", unit: "kg", of: result.total_kg },
        {
          key: "front_weight_share_percent",
          name: "Weight on the front",
          term: "front share",
          unit: "percent",
          of: result.front_share_percent,
        },
      ]
    : [];
  return (
    <MeasurePage
      title="What does each wheel carry?"
      term="corner weights"
      sheet={sheet}
      found={found}
      meaning={result?.meaning ?? null}
      answer={answer}
      missing={missing}
      problems={refusedElsewhere(asked.problems, [...where("aboard"), ...where("empty"), ...where("pads")])}
      caution={
        <Caution title="Roll onto the scales, do not lift onto them.">
          Ramps and level ground, handbrake off once the wheels are chocked, nobody under the car. Unhook the bars’
          links first, both wheels of the axle at the same height: a loaded link falsifies the cross weight.
        </Caution>
      }
      extra={
        result && (
          <dl>
            <dt>
              Cross weight <span class="term">(front right + rear left)</span>
            </dt>
            <dd>
              <Num of={result.cross_weight_percent} unit="percent" size="small" />
            </dd>
            <dt>On the left</dt>
            <dd>
              <Num of={result.left_share_percent} unit="percent" size="small" />
            </dd>
            {result.driver_kg && (
              <>
                <dt>The driver</dt>
                <dd>
                  <Num of={result.driver_kg} unit="kg" size="small" />
                </dd>
              </>
            )}
            {result.cross_per_mm_of_floor_percent !== null && (
              <>
                <dt>
                  A scale that stands <Said of={1} unit="mm" /> high moves the cross weight by
                </dt>
                <dd>
                  <Num of={Math.abs(result.cross_per_mm_of_floor_percent)} unit="percent" size="small" decimals={2} />
                </dd>
              </>
            )}
          </dl>
        )
      }
    >
      <Ring<Set>
        legend="Readings"
        choices={(["aboard", "empty", "pads"] as const).map((value) => ({ value, label: SETS[value].label }))}
        value={shown}
        onChange={setShown}
      />
      <div class="four">
        <div class="four-art" ref={ref}>
          <WeightsDrawing
            shape={drawnCar(filled ?? sheet)}
            width={Math.min(room.width, 420)}
            loads={shown === "empty" ? r.empty : r.aboard}
            cross={result?.cross_weight_percent ?? null}
            floor={floor}
          />
        </div>
        {CORNERS.map((c) => (
          <div key={shown + c} class={`four-${c}`}>
            <Reading
              id={`${shown}-${c}`}
              name={CORNER_WORDS[c]}
              unit={set.unit}
              value={r[shown][c]}
              onChange={(v) =>
                put(`${CORNER_WORDS[c].toLowerCase()}, ${set.label}`, { [shown]: { ...r[shown], [c]: v } })
              }
              problem={refusedAt(asked.problems, `${set.where}.${c}${set.suffix}`)}
            />
          </div>
        ))}
      </div>
      <p class="note">
        {shown === "pads"
          ? "Heights of the four scales’ tops over any level, by water hose or laser: 0 at one of them, higher is more."
          : shown === "empty"
            ? "The same with nobody in the seat, if you want to know what the driver does. May stay open."
            : "Bounce both ends, roll a metre and back, steering straight, tank as you drive it."}
      </p>
      <div class="reading-grid">
        <Reading
          id="scalePm"
          name="One scale is sure to ±"
          unit="kg"
          value={r.scalePm}
          low={0.1}
          high={50}
          onChange={(v) => put("scales’ ±", { scalePm: v ?? 1 })}
        />
        <Reading
          id="padPm"
          name="The floor under a scale is known to ±"
          unit="mm"
          value={r.padPm}
          low={0}
          high={50}
          onChange={(v) => put("floor’s ±", { padPm: v ?? 2 })}
        />
      </div>
    </MeasurePage>
  );
}
