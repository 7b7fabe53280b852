// 'How high is the centre of gravity?' One axle lifted, scales under the other.
import { drawnCar } from "@/api/carDrawn";
import { answered, isNumber, refusedAt, refusedElsewhere, useReadings } from "@/api/readings";
import { useAsk } from "@/api/useAsk";
import { useRoom } from "@/base/room";
import { hrefOf } from "@/base/route";
import { Said } from "@/widgets/Num";
import { Reading } from "@/widgets/Reading";
import { Caution, Ring } from "@/widgets/small";
import { CgDrawing } from "./CgDrawing";
import { type Found, MeasurePage, type PlaceProps } from "./MeasurePage";
import { BLANK_CG, type CgReadings, cgRequest, knownOr } from "./model";

export function CgPlace({ sheet, filled }: PlaceProps) {
  const [r, put] = useReadings<CgReadings>("cg", BLANK_CG);
  const [ref, room] = useRoom<HTMLDivElement>(1000);
  const wheelbase = knownOr(sheet, filled, "wheelbase_mm");
  const { request, missing } = cgRequest(r, wheelbase);
  const asked = useAsk("car/cg", request);
  const answer = request ? answered(asked) : null;
  const result = answer?.result ?? null;
  const at = (key: string, otherwise: number) => knownOr(sheet, filled, key)?.value ?? otherwise;
  const best = r.lifts.reduce((a, l) => ((l.lift ?? 0) > (a.lift ?? 0) ? l : a), r.lifts[0]!);
  const lift = (i: number, change: Partial<CgReadings["lifts"][number]>) =>
    put("a lift", { lifts: r.lifts.map((l, k) => (k === i ? { ...l, ...change } : l)) });
  const stays = r.lifted === "rear" ? "front" : "rear";
  let sent = 0; // lifts that are complete, in the request's order
  const places = [
    "front_level_kg",
    "rear_level_kg",
    "front_hub_height_mm",
    "rear_hub_height_mm",
    ...r.lifts.map((_, i) => `lifts[${i}]`),
  ];
  const found: Found[] = result
    ? [
        { key: "cg_height_mm", name: "Centre of gravity, height", unit: "mm", of: result.cg_height_mm },
        { key: "mass_kg", name: "Weight, driver aboard", term: "mass", unit: "kg", of: result.mass_kg },
        {
          key: "front_weight_share_percent",
          name: "Weight on the front",
          term: "front share",
          unit: "percent",
          of: result.front_weight_share_percent,
        },
      ]
    : [];
  return (
    <MeasurePage
      title="How high is the centre of gravity?"
      term="axle-lift weighing"
      sheet={sheet}
      found={found}
      meaning={result?.meaning ?? null}
      answer={answer}
      missing={missing}
      problems={refusedElsewhere(asked.problems, places)}
      caution={
        <>
          <Caution title="Lock the suspension, then lift.">
            Solid bars in place of the dampers, bolted as the dampers were: on its springs the body drops and the height
            comes out wrong. Undo them before the car rolls anywhere.
          </Caution>
          <Caution title="Stands, not the jack.">
            Lift at the maker’s points, stands under before any reading, wheels on the scales chocked, a shove test.
            Nobody inside, under or in front of the car while it is up.
          </Caution>
        </>
      }
      extra={
        result && (
          <>
            <p>
              A kilogram misread in a lift moves the height by <Said of={result.per_kg_mm} unit="mm" />.
            </p>
            <h3>Where the ± comes from</h3>
            <ul class="plain-list">
              {result.doubts.slice(0, 4).map((d) => (
                <li key={d.from}>
                  {d.from}: ±<Said of={d.pm_mm} unit="mm" decimals={0} />
                </li>
              ))}
            </ul>
          </>
        )
      }
    >
      <div class="row">
        <Ring
          legend="Lifted axle"
          showLegend
          choices={[
            { value: "rear", label: "rear" },
            { value: "front", label: "front" },
          ]}
          value={r.lifted}
          onChange={(lifted) => put("lifted axle", { lifted })}
        />
        <Ring
          legend="Dampers"
          showLegend
          choices={[
            { value: "locked", label: "locked solid" },
            { value: "free", label: "as they are" },
          ]}
          value={r.isLocked ? "locked" : "free"}
          onChange={(v) => put("dampers locked", { isLocked: v === "locked" })}
        />
      </div>
      <div ref={ref}>
        <CgDrawing
          shape={drawnCar(filled ?? sheet)}
          width={room.width}
          lifted={r.lifted}
          lift={best.lift ?? 400}
          isRead={isNumber(best.lift)}
          cg={{
            height: result?.cg_height_mm.value ?? at("cg_height_mm", 540),
            frontShare: result?.front_weight_share_percent.value ?? at("front_weight_share_percent", 58),
          }}
          loads={{ front: r.front, rear: r.rear, down: best.reading }}
        />
      </div>
      <div class="reading-grid">
        <Reading
          id="front"
          n={1}
          name="Front axle, level"
          unit="kg"
          value={r.front}
          onChange={(front) => put("front axle, level", { front })}
          problem={refusedAt(asked.problems, "front_level_kg")}
        />
        <Reading
          id="rear"
          n={2}
          name="Rear axle, level"
          unit="kg"
          value={r.rear}
          onChange={(rear) => put("rear axle, level", { rear })}
          problem={refusedAt(asked.problems, "rear_level_kg")}
        />
        <Reading
          id="frontHub"
          n={3}
          name="Front hub above the ground, level"
          unit="mm"
          value={r.frontHub}
          onChange={(frontHub) => put("front hub", { frontHub })}
          problem={refusedAt(asked.problems, "front_hub_height_mm")}
        />
        <Reading
          id="rearHub"
          n={4}
          name="Rear hub above the ground, level"
          unit="mm"
          value={r.rearHub}
          onChange={(rearHub) => put("rear hub", { rearHub })}
          problem={refusedAt(asked.problems, "rear_hub_height_mm")}
        />
        {r.lifts.map((l, i) => {
          const k = isNumber(l.lift) && isNumber(l.reading) ? sent++ : -1;
          return (
            <fieldset class="lift" key={i}>
              <legend>Lift {i + 1}</legend>
              <Reading
                id={`lift-${i}`}
                n={i === 0 ? 5 : undefined}
                name={`The ${r.lifted} hubs rose by`}
                unit="mm"
                value={l.lift}
                onChange={(v) => lift(i, { lift: v })}
                problem={refusedAt(asked.problems, `lifts[${k}].lift_mm`)}
              />
              <Reading
                id={`reading-${i}`}
                n={i === 0 ? 6 : undefined}
                name={`The ${stays} scales together read`}
                unit="kg"
                value={l.reading}
                onChange={(v) => lift(i, { reading: v })}
                problem={refusedAt(asked.problems, `lifts[${k}].axle_reading_kg`)}
              />
            </fieldset>
          );
        })}
        <Reading
          id="scalePm"
          name="An axle’s scales are sure to ±"
          unit="kg"
          value={r.scalePm}
          low={0.1}
          high={50}
          onChange={(v) => put("scales’ ±", { scalePm: v ?? 2 })}
        />
      </div>
      <p>
        <button
          type="button"
          class="plain"
          onClick={() => put("another lift", { lifts: [...r.lifts, { lift: null, reading: null }] })}
        >
          Another lift
        </button>
        <span class="note">
          400 to 700 mm is good, if it is safe. The wheelbase comes from{" "}
          <a href={hrefOf("car/number/wheelbase_mm")}>the car sheet</a>
          {wheelbase && (
            <>
              {": "}
              <Said of={wheelbase} unit="mm" />
            </>
          )}
          .
        </span>
      </p>
    </MeasurePage>
  );
}
