// 'How stiff in roll is it as it stands?' People or sandbags on one sill and then the other, four arches by tape,
// links on and off.
import { useState } from "preact/hooks";
import { drawnCar } from "@/api/carDrawn";
import { garage } from "@/api/garage";
import { answered, refusedAt, refusedElsewhere, useReadings } from "@/api/readings";
import { carFor } from "@/api/setups";
import { useAsk } from "@/api/useAsk";
import { useRoom } from "@/base/room";
import { Num } from "@/widgets/Num";
import { Reading } from "@/widgets/Reading";
import { Caution, Pick, Ring } from "@/widgets/small";
import { Words } from "@/widgets/Words";
import { type Found, MeasurePage, type PlaceProps } from "./MeasurePage";
import {
  BLANK_SILL,
  CORNER_WORDS,
  CORNERS,
  knownOr,
  type LinkState,
  leansOf,
  readSill,
  type SillReadings,
  type SillRow,
  sillRequest,
  sillRows,
} from "./model";
import { SillDrawing, SillPlot } from "./SillDrawing";

const LINKS = [
  { value: "both_on", label: "both bars’ links on" },
  { value: "front_off", label: "front links off" },
  { value: "rear_off", label: "rear links off" },
  { value: "both_off", label: "all links off" },
] as const satisfies readonly { value: LinkState; label: string }[];
const G = 9.80665; // m/s²

export function SillPlace({ sheet, filled }: PlaceProps) {
  const [r, put] = useReadings<SillReadings>("sill", BLANK_SILL);
  const [state, setState] = useState<LinkState>("both_on");
  const [ref, room] = useRoom<HTMLDivElement>(800);
  const { request, missing } = sillRequest(r, carFor(garage.value.value));
  const asked = useAsk("car/sill", request);
  const answer = request ? answered(asked) : null;
  const result = answer?.result ?? null;
  const usual = r.series.both_on ?? [];
  const rows = r.series[state] ?? sillRows(usual[1]?.load ?? null, usual[2]?.load ?? null);
  const set = (i: number, change: Partial<SillRow>) =>
    put("a sill reading", {
      series: { ...r.series, [state]: rows.map((row, k) => (k === i ? { ...row, ...change } : row)) },
    });
  const track = {
    front: knownOr(sheet, filled, "front.track_mm")?.value ?? 1480,
    rear: knownOr(sheet, filled, "rear.track_mm")?.value ?? 1480,
  };
  const read = readSill(rows);
  const leans = leansOf(rows, track);
  const points = read.map((s, i) => ({
    moment: (s.side === "left" ? 1 : -1) * s.load! * G * (r.place / 1000),
    lean: leans[i]!,
    isDown: s.isDown,
  }));
  const most = points.reduce((worst, q, i) => (Math.abs(q.lean) > Math.abs(points[worst]?.lean ?? 0) ? i : worst), 0);
  const own = result?.series.find((s) => s.bars === state);
  const sent = (Object.keys(r.series) as LinkState[]).filter((s) => readSill(r.series[s]!).length > 0).indexOf(state);
  const places = rows.flatMap((_, i) => CORNERS.map((c) => `series[${sent}].readings[${i}].${c}_mm`));
  const found: Found[] = (result?.bars ?? []).map((b) => ({
    key: `${b.axle}.bar_rate_per_side_n_per_mm`,
    name: `Fitted bar at its link, ${b.axle}`,
    term: "per-side rate, as installed",
    unit: "n_per_mm",
    of: b.rate_per_side_n_per_mm,
  }));
  return (
    <MeasurePage
      title="How stiff against leaning is it as it stands?"
      term="installed roll stiffness"
      sheet={sheet}
      found={found}
      meaning={result?.meaning ?? null}
      answer={answer}
      missing={missing}
      problems={refusedElsewhere(asked.problems, places)}
      caution={
        <Caution title="Nobody under the car, nobody on a sill that will not bear it.">
          Level floor, wheels chocked, handbrake off so that they can creep. Sit where the sill is meant to be jacked.
          Links come off only with both wheels of the axle at the same height; torque them again afterwards, and check
          after the first drive.
        </Caution>
      }
      extra={
        result && (
          <>
            <dl>
              {result.series.map((s) => (
                <>
                  <dt key={`t${s.bars}`}>{LINKS.find((l) => l.value === s.bars)!.label}</dt>
                  <dd key={`d${s.bars}`}>
                    <Num of={s.stiffness_nm_per_deg} unit="nm_per_deg" size="small" />
                  </dd>
                </>
              ))}
              <dt>The car sheet says</dt>
              <dd>
                <Num of={result.forecast_nm_per_deg.value} unit="nm_per_deg" size="small" />
              </dd>
              {own && own.friction_nm > 0 && (
                <>
                  <dt>Friction holds</dt>
                  <dd>
                    <Num of={own.friction_nm} unit="nm" size="small" />
                  </dd>
                </>
              )}
            </dl>
            {result.bars.map((b) => (
              <p key={b.axle}>
                <Words text={b.text} />
              </p>
            ))}
            {result.bars.length === 0 && (
              <p class="note">Read it again with the links of one bar off: the difference is that bar as installed.</p>
            )}
          </>
        )
      }
    >
      <div class="row">
        <Pick label="Links" choices={LINKS} value={state} onChange={setState} />
        <Ring
          legend="Read from the arch to"
          showLegend
          choices={[
            { value: "wheel", label: "the hub" },
            { value: "road", label: "the floor" },
          ]}
          value={r.against}
          onChange={(against) => put("what the tape is held to", { against })}
        />
      </div>
      <div ref={ref} class="two-drawings">
        <SillDrawing
          shape={drawnCar(filled ?? sheet)}
          width={Math.min(room.width, 560)}
          leanDeg={points[most] ? -points[most].lean : -0.6}
          times={4}
          load={read[most]?.load ?? null}
          side={read[most]?.side ?? "left"}
          place={r.place}
        />
        {points.length > 1 && (
          <SillPlot
            points={points}
            width={Math.min(room.width, 560)}
            label={`Lean against moment for ${points.length} readings`}
          />
        )}
      </div>
      <p class="note">
        Lean drawn four times. Filled marks: load going on; open marks: load coming off. The gap between them is
        friction, and is taken out.
      </p>
      <div class="reading-grid">
        <Reading
          id="place"
          n={1}
          name="From the car’s middle to the load’s middle"
          unit="mm"
          value={r.place}
          low={100}
          high={1200}
          onChange={(v) => put("the load’s place", { place: v ?? 650 })}
        />
        <Reading
          id="tapePm"
          name="One tape reading is sure to ±"
          unit="mm"
          value={r.tapePm}
          low={0.1}
          high={20}
          onChange={(v) => put("tape’s ±", { tapePm: v ?? 1 })}
        />
      </div>
      <ol class="sill-rows">
        {rows.map((s, i) => (
          <li key={i}>
            <fieldset>
              <legend>{rowInWords(s, i)}</legend>
              {s.load !== 0 || s.isDown ? (
                <Reading
                  id={`load-${i}`}
                  name="Load on the sill"
                  unit="kg"
                  value={s.load}
                  low={0}
                  high={600}
                  onChange={(v) => set(i, { load: v })}
                />
              ) : null}
              {CORNERS.map((c) => (
                <Reading
                  key={c}
                  id={`${c}-${i}`}
                  name={CORNER_WORDS[c]}
                  unit="mm"
                  value={s[c]}
                  low={50}
                  high={1500}
                  onChange={(v) => set(i, { [c]: v })}
                  problem={refusedAt(asked.problems, `series[${sent}].readings[${i}].${c}_mm`)}
                />
              ))}
            </fieldset>
          </li>
        ))}
      </ol>
      <p class="row">
        {(["left", "right"] as const).map((side) => (
          <button
            key={side}
            type="button"
            class="plain"
            onClick={() =>
              put("another reading", {
                series: { ...r.series, [state]: [...rows, { ...sillRows(null, null)[side === "left" ? 1 : 5]! }] },
              })
            }
          >
            Another reading, {side} sill
          </button>
        ))}
      </p>
    </MeasurePage>
  );
}

function rowInWords(s: SillRow, i: number): string {
  if (s.load === 0 && !s.isDown) return `${i + 1}. Nothing on`;
  return `${i + 1}. On the ${s.side} sill, ${s.isDown ? "after taking some off" : "going on"}`;
}
