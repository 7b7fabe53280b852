// 'How stiff is it, by hanging weights on it?' Weights at one hole, a ruler beside it, up and down again.
import { barPicture, withAllSettings } from "@/api/barSheet";
import { estimateAt } from "@/api/documents";
import { car, holeInWords, setCarNumber } from "@/api/garage";
import { answered, asMeasured, isOnSheet, refusedAt, refusedElsewhere, useReadings } from "@/api/readings";
import { useAsk } from "@/api/useAsk";
import { plain } from "@/base/format";
import { useRoom } from "@/base/room";
import { circlePath, polyline, straight } from "@/charts/path";
import { Balloon, DimUp, Drawing, Ground, Text } from "@/charts/pen";
import { Axes, through } from "@/charts/plot";
import { scale, span } from "@/charts/scale";
import { MeasureFrame } from "@/widgets/MeasureFrame";
import { Num, Said } from "@/widgets/Num";
import { Reading } from "@/widgets/Reading";
import { Caution, Flags, Pick, Ring } from "@/widgets/small";
import type { BarPlaceProps } from "./BarPlace";
import { BLANK_HANG, type HangReadings, type HangRow, hangRequest, readHung } from "./model";
import { tidy } from "./tidy";

const G = 9.80665; // m/s²

export function HangPlace({ bar, axle }: BarPlaceProps) {
  const [r, put] = useReadings<HangReadings>(`hang-${tidy(bar.name)}`, BLANK_HANG);
  const [ref, room] = useRoom<HTMLDivElement>(800);
  const full = withAllSettings(bar);
  const names = (full.settings ?? []).map((s) => s.id);
  const setting = names.includes(r.setting) ? r.setting : (names[0] ?? "");
  const { request, missing } = hangRequest(r, full, setting);
  const asked = useAsk("bar/hang", request);
  const answer = request ? answered(asked) : null;
  const result = answer?.result ?? null;
  const read = readHung(r);
  const set = (i: number, change: Partial<HangRow>) =>
    put("a hung weight", { rows: r.rows.map((row, k) => (k === i ? { ...row, ...change } : row)) });
  const sentAs = (i: number) => r.rows.slice(0, i).filter((x) => x.mass !== null && x.position !== null).length;
  const key = `${axle}.bar_rate_per_side_n_per_mm`;
  const now = estimateAt(car.value, key);
  const c = result?.comparison ?? null;
  return (
    <MeasureFrame
      title="How stiff is it, by hanging weights on it?"
      term="rate by dead weights"
      back={{ to: "bars", name: "back to the bars" }}
      caution={
        <Caution title="Feet clear of hanging weights.">
          The bar in its own bushings, bolted to something that cannot tip. Weights low, a hand’s breadth above the
          floor. The bar is never the only thing that holds the car.
        </Caution>
      }
      meaning={result?.meaning ?? null}
      answer={answer}
      missing={missing}
      problems={refusedElsewhere(
        asked.problems,
        r.rows.map((_, i) => `readings[${i}]`),
      )}
      uses={
        result && car.value
          ? [
              {
                name: `If this is the bar on the car: its rate at the ${axle} link`,
                term: "per-side rate",
                unit: "n_per_mm",
                of: result.rate_per_side_n_per_mm,
                now,
                isUsed: isOnSheet(now, result.rate_per_side_n_per_mm),
                sheet: "the car sheet",
                onUse: () => setCarNumber(key, `fitted ${axle} bar`, asMeasured(result.rate_per_side_n_per_mm)),
              },
            ]
          : []
      }
      extra={
        result && (
          <>
            <dl>
              <dt>
                One end held <span class="term">(relative rate)</span>
              </dt>
              <dd>
                <Num of={result.rate_relative_n_per_mm} unit="n_per_mm" size="small" />
              </dd>
              {result.friction_n && (
                <>
                  <dt>Friction at the hole</dt>
                  <dd>
                    <Num of={result.friction_n} unit="n" size="small" />
                  </dd>
                </>
              )}
            </dl>
            {c && (
              <Flags
                list={[
                  {
                    key: "shape",
                    kind: c.agrees ? "good" : "mind",
                    text: (
                      <p class="no-gap">
                        The shape on the sheet gives <Said of={c.computed_per_side_n_per_mm} unit="n_per_mm" />.
                        Measured is {plain(c.measured_over_computed, 2)} times that.
                        {!c.agrees &&
                          c.suspects.length > 0 &&
                          ` First to look at: ${c.suspects
                            .map((s) => s.input)
                            .slice(0, 3)
                            .join(", ")}.`}
                      </p>
                    ),
                  },
                ]}
              />
            )}
          </>
        )
      }
    >
      <div class="row">
        <Ring<HangReadings["way"]>
          legend="The other end"
          showLegend
          choices={[
            { value: "one_end_held", label: "is held" },
            { value: "both_ends_apart", label: "is loaded the other way" },
          ]}
          value={r.way}
          onChange={(way) => put("the other end", { way })}
        />
        {names.length > 1 && (
          <Pick
            label="Hung at"
            choices={names.map((value) => ({ value, label: `hole ${holeInWords(value)}` }))}
            value={setting}
            onChange={(v) => put("hole that was hung", { setting: v })}
          />
        )}
      </div>
      <div ref={ref} class="two-drawings">
        <HangDrawing
          picture={barPicture(bar)}
          width={Math.min(room.width, 560)}
          kg={Math.max(0, ...read.map((q) => q.mass_kg))}
          isHeld={r.way === "one_end_held"}
        />
        {read.length > 1 && <HangPlot readings={read} width={Math.min(room.width, 560)} />}
      </div>
      <ol class="reading-rows">
        {r.rows.map((row, i) => (
          <li key={i}>
            <Reading
              id={`mass-${i}`}
              n={i === 0 ? 1 : undefined}
              name={`Weight, ${row.isDown ? "coming off" : "going on"}, ${i + 1}`}
              unit="kg"
              value={row.mass}
              low={0}
              high={1000}
              onChange={(mass) => set(i, { mass })}
            />
            <Reading
              id={`position-${i}`}
              n={i === 0 ? 2 : undefined}
              name={`The hole stands at, ${i + 1}`}
              unit="mm"
              value={row.position}
              onChange={(position) => set(i, { position })}
              problem={
                refusedAt(asked.problems, `readings[${sentAs(i)}].position_mm`) ??
                refusedAt(asked.problems, `readings[${sentAs(i)}]`)
              }
            />
          </li>
        ))}
      </ol>
      <p class="row">
        {[false, true].map((isDown) => (
          <button
            key={String(isDown)}
            type="button"
            class="plain"
            onClick={() => put("another weight", { rows: [...r.rows, { mass: null, position: null, isDown }] })}
          >
            Another weight, {isDown ? "coming off" : "going on"}
          </button>
        ))}
      </p>
      <p class="note">
        Any mark will do for the ruler, counted in the direction of the pull. Up and down again, so that friction shows
        and cancels.
      </p>
    </MeasureFrame>
  );
}

// The bar turned on its side, arms level: held at the left, hung at the right.
function HangDrawing(p: { picture: ReturnType<typeof barPicture>; width: number; kg: number; isHeld: boolean }) {
  const ends = p.picture.corners.map((c) => c.point);
  const half = Math.max(300, ...ends.map((q) => Math.abs(q[1])));
  const arm = Math.max(120, ...ends.map((q) => Math.abs(q[0])));
  const W = 2 * half + 700;
  const u = W / p.width;
  const high = 620;
  const lean = arm * 0.45; // an oblique view: arms run up and away
  const right = half;
  const bush = Math.min(half * 0.6, ...p.picture.bushings.map((b) => Math.abs(b.point[1])).filter((v) => v > 0));
  const size = 90 + Math.min(110, p.kg * 4);
  return (
    <Drawing
      box={[-W / 2, high + lean + 120, W, high + lean + 120 + 30 * u]}
      label="The bar in its bushings, one end held, weights hung on the other, a ruler beside the hole"
    >
      <Ground from={-W / 2} to={W / 2} u={u} />
      {[-1, 1].map((k) => (
        <path
          key={k}
          class="mid fill-well"
          d={polyline(
            [
              [k * bush - 46, 0],
              [k * bush - 46, high + 34],
              [k * bush + 46, high + 34],
              [k * bush + 46, 0],
            ],
            true,
          )}
        />
      ))}
      <path
        class="bold"
        d={polyline([
          [-half + 40, high + lean],
          [-half + 110, high],
          [half - 110, high],
          [half - 40, high + lean],
        ])}
      />
      <path class="thin" d={straight(right - 40, high + lean, right - 40, size + 60)} />
      <path
        class="mid fill-well"
        d={polyline(
          [
            [right - 40 - size * 0.7, 60],
            [right - 40 + size * 0.7, 60],
            [right - 40 + size * 0.5, 60 + size],
            [right - 40 - size * 0.5, 60 + size],
          ],
          true,
        )}
      />
      <Text x={right - 40} y={60 + size / 2 - 5 * u} u={u} px={15}>
        kg
      </Text>
      <Balloon x={right - 40 - size * 0.7 - 24 * u} y={60 + size / 2} u={u} n={1} />
      <path class="solid" d={circlePath(right - 40, high + lean, 16) + circlePath(-half + 40, high + lean, 16)} />
      {p.isHeld ? (
        <path
          class="mid fill-paper"
          d={polyline(
            [
              [-half - 40, 0],
              [-half - 40, high + lean + 50],
              [-half + 90, high + lean + 50],
              [-half + 90, high + lean - 20],
              [-half + 10, high + lean - 20],
              [-half + 10, 0],
            ],
            true,
          )}
        />
      ) : (
        <path class="thin" d={straight(-half + 40, high + lean, -half + 40, high + lean + 90)} />
      )}
      <Text x={-half + 30} y={high + lean + 66} u={u} px={15}>
        {p.isHeld ? "held" : "pulled up"}
      </Text>
      <DimUp y1={0} y2={high + lean} x={right + 150} from1={right} from2={right - 40} u={u} origin="measured" />
      <Balloon x={right + 150 + 24 * u} y={high * 0.6} u={u} n={2} />
    </Drawing>
  );
}

function HangPlot(p: {
  readings: readonly { mass_kg: number; position_mm: number; unloading?: boolean }[];
  width: number;
}) {
  const height = 260;
  const f = { left: 54, right: p.width - 14, top: 12, bottom: height - 50 };
  const force = (kg: number) => kg * G;
  const X = scale(
    ...span(
      p.readings.map((q) => q.position_mm),
      0.12,
    ),
    f.left,
    f.right,
  );
  const Y = scale(...span([0, ...p.readings.map((q) => force(q.mass_kg))], 0.08), f.bottom, f.top);
  return (
    <svg
      class="dwg"
      viewBox={`0 0 ${p.width} ${height}`}
      role="img"
      aria-label={`${p.readings.length} readings, weight against position`}
    >
      <Axes
        frame={f}
        x={X}
        y={Y}
        xName="where the hole stands, mm"
        yName="pull, N"
        xWanted={p.width > 500 ? 7 : 4}
        yWanted={4}
      >
        <path class="fine" d={through(p.readings.map((q) => [X(q.position_mm), Y(force(q.mass_kg))]))} />
        {p.readings.map((q, i) => {
          const [x, y] = [X(q.position_mm), Y(force(q.mass_kg))];
          return q.unloading ? (
            <path key={i} class="mid fill-paper" d={`M${x} ${y + 6}L${x + 6} ${y - 5}H${x - 6}Z`} />
          ) : (
            <path key={i} class="solid" d={`M${x} ${y - 6}L${x + 6} ${y + 5}H${x - 6}Z`} />
          );
        })}
      </Axes>
    </svg>
  );
}
