// 'How far does it move when the wheel moves?' Jack and tape, for the spring, the damper or the bar's link.
import { estimateAt } from "@/api/documents";
import { answered, isNumber, refusedAt, refusedElsewhere, useReadings } from "@/api/readings";
import { useAsk } from "@/api/useAsk";
import { useRoom } from "@/base/room";
import { goTo } from "@/base/route";
import { Said } from "@/widgets/Num";
import { Reading } from "@/widgets/Reading";
import { Caution, Ring } from "@/widgets/small";
import type { AxlePath } from "../fields";
import { MeasurePage, type PlaceProps } from "./MeasurePage";
import { BLANK_RATIO, type RatioOf, type RatioReadings, ratioRequest, readRows, rowInRequest } from "./model";
import { RatioDrawing, RatioPlot } from "./RatioDrawing";

const KEY: Record<RatioOf, string> = {
  spring: "spring_motion_ratio",
  damper: "damper.motion_ratio",
  link: "bar_motion_ratio",
};
const DEVICE: Record<RatioOf, string> = {
  spring: "Spring, seat to seat",
  damper: "Damper, eye to eye",
  link: "Link’s lower joint, from the floor",
};

export function RatioPlace({ sheet, filled, axle, of }: PlaceProps & { axle: AxlePath; of: RatioOf }) {
  const [r, put] = useReadings<RatioReadings>(`ratio-${axle}-${of}`, BLANK_RATIO);
  const [ref, room] = useRoom<HTMLDivElement>(800);
  const { request, missing } = ratioRequest(of, r);
  const asked = useAsk("car/ratio", request);
  const answer = request ? answered(asked) : null;
  const result = answer?.result ?? null;
  const readings = readRows(r);
  const key = `${axle}.${KEY[of]}`;
  const typical = (estimateAt(sheet, key) ?? estimateAt(filled, key))?.value ?? 0.7;
  const set = (i: number, change: Partial<RatioReadings["rows"][number]>) =>
    put("a reading", { rows: r.rows.map((row, k) => (k === i ? { ...row, ...change } : row)) });
  const fault = (i: number, column: "wheel_mm" | "device_mm") => {
    const row = r.rows[i]!;
    if (!isNumber(row.wheel) || !isNumber(row.device)) return null;
    const k = rowInRequest(r, i);
    const own = refusedAt(asked.problems, `readings[${k}].${column}`);
    return own ?? (column === "wheel_mm" ? refusedAt(asked.problems, `readings[${k}]`) : null);
  };
  const isInverted = asked.problems.some((p) => p.code === "ratio_inverted");
  return (
    <MeasurePage
      title={`How far does the ${axle} ${of === "link" ? "bar’s link" : of} move with the wheel?`}
      term="motion ratio"
      sheet={sheet}
      found={
        result
          ? [
              {
                key,
                name: `${of === "link" ? "Bar link" : of === "damper" ? "Damper" : "Spring"} ratio, ${axle}`,
                term: "motion ratio",
                unit: "",
                of: result.motion_ratio,
              },
            ]
          : []
      }
      meaning={result?.meaning ?? null}
      answer={answer}
      missing={missing}
      problems={refusedElsewhere(asked.problems, ["ride_height", ...r.rows.map((_, i) => `readings[${i}]`)])}
      caution={
        <Caution title="On stands, never under a car on a jack.">
          Level ground, the other wheels chocked, stands under the maker’s points, a shove test. The jack only moves the
          wheel. A spring under load can fly: leave it in, or take it out as the maker’s manual says.
        </Caution>
      }
      extra={
        <>
          {result?.changes_along_travel && (
            <p>
              The readings show a curve: the ratio changes by <Said of={result.change_per_10_mm} unit="" decimals={3} />{" "}
              for each <Said of={10} unit="mm" /> of bump.
            </p>
          )}
          {isInverted && (
            <button
              type="button"
              class="main"
              onClick={() =>
                put("columns exchanged", {
                  rows: r.rows.map((x) => ({ wheel: x.device, device: x.wheel })),
                  rideHeight: null,
                })
              }
            >
              Exchange the two columns
            </button>
          )}
          {(isInverted || r.isUnusual) && (
            <label class="check">
              <input
                type="checkbox"
                checked={r.isUnusual}
                onChange={(e) => put("unusual ratio kept", { isUnusual: e.currentTarget.checked })}
              />
              I have looked again: the device does move more than the wheel
            </label>
          )}
        </>
      }
    >
      <div class="row">
        <Ring<AxlePath>
          legend="Axle"
          choices={[
            { value: "rear", label: "rear" },
            { value: "front", label: "front" },
          ]}
          value={axle}
          onChange={(a) => goTo(`car/ratio/${a}/${of}`)}
        />
        <Ring<RatioOf>
          legend="What moves"
          choices={[
            { value: "spring", label: "spring" },
            { value: "damper", label: "damper" },
            { value: "link", label: "bar’s link" },
          ]}
          value={of}
          onChange={(o) => goTo(`car/ratio/${axle}/${o}`)}
        />
      </div>
      <div ref={ref} class="two-drawings">
        <RatioDrawing
          of={of}
          ratio={result?.motion_ratio.value ?? typical}
          isFound={result !== null}
          width={Math.min(room.width, 560)}
          label={`The wheel on the jack, tape from hub to arch, and tape at the ${of}`}
        />
        {readings.length > 1 && (
          <RatioPlot
            readings={readings}
            residuals={result?.residuals_mm ?? []}
            ratio={result?.motion_ratio.value ?? null}
            rideHeight={r.rideHeight}
            width={Math.min(room.width, 560)}
            label={`${readings.length} readings of the ${of} against the wheel`}
          />
        )}
      </div>
      {result && (
        <p class="note">
          Rings are readings; the line is the ratio. The farthest reading lies{" "}
          <Said of={Math.max(...result.residuals_mm.map(Math.abs))} unit="mm" decimals={2} /> off it.
        </p>
      )}
      <p>
        Raise the wheel in steps of <Said of={10} unit="mm" /> to <Said of={20} unit="mm" />, from hanging to nearly
        full. Any start will do for both tapes. Count the wheel so that up is more.
      </p>
      <div class="reading-grid">
        <Reading
          id="rideHeight"
          name="The wheel’s reading when the car stands on its wheels"
          unit="mm"
          value={r.rideHeight}
          onChange={(rideHeight) => put("ride height", { rideHeight })}
          problem={refusedAt(asked.problems, "ride_height")}
        />
        <Reading
          id="tapePm"
          name="One tape reading is sure to ±"
          unit="mm"
          value={r.tapePm}
          low={0.05}
          high={30}
          onChange={(v) => put("tape’s ±", { tapePm: v ?? 1 })}
        />
      </div>
      <ol class="reading-rows">
        {r.rows.map((row, i) => (
          <li key={i}>
            <Reading
              id={`wheel-${i}`}
              n={i === 0 ? 1 : undefined}
              name={`Wheel, step ${i + 1}`}
              unit="mm"
              value={row.wheel}
              onChange={(v) => set(i, { wheel: v })}
              problem={fault(i, "wheel_mm")}
            />
            <Reading
              id={`device-${i}`}
              n={i === 0 ? 2 : undefined}
              name={`${DEVICE[of]}, step ${i + 1}`}
              unit="mm"
              value={row.device}
              onChange={(v) => set(i, { device: v })}
              problem={fault(i, "device_mm")}
            />
          </li>
        ))}
      </ol>
      <button
        type="button"
        class="plain"
        onClick={() => put("another step", { rows: [...r.rows, { wheel: null, device: null }] })}
      >
        Another step
      </button>
    </MeasurePage>
  );
}
