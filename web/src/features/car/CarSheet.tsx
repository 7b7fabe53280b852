// 'What is this car?' The drawing is the form: numbers stand where a draughtsman would write them; on a phone the
// drawing stays at the top and the same fields follow as a numbered list.
import { useEffect, useState } from "preact/hooks";
import { drawnCar } from "@/api/carDrawn";
import { estimateAt, readAt } from "@/api/documents";
import { car, garage, setCarNumber, setCarWord } from "@/api/garage";
import type { Origin } from "@/base/estimate";
import { useRoom } from "@/base/room";
import { goTo, place } from "@/base/route";
import { Lazy } from "@/widgets/Lazy";
import { NumberField } from "@/widgets/NumberField";
import { OriginKey } from "@/widgets/OriginMark";
import { Problems } from "@/widgets/Problems";
import { Caution, Pick, Ring } from "@/widgets/small";
import { Advice } from "./Advice";
import { CarDrawing, layoutOf, placesOf } from "./CarDrawing";
import {
  type AxlePath,
  axleFields,
  CLASSES,
  DIFFERENTIALS,
  DRIVES,
  rareFields,
  SUSPENSIONS,
  TYRES,
  WHOLE_CAR,
} from "./fields";
import { HowTo } from "./HowTo";
import { blankCar, firmness, problemAt, shownAt } from "./model";
import { useFilled } from "./useFilled";
import "./car.css";

const HAS_SKETCH = /damper\.motion_ratio|wheel_rate|bump_stop_gap|droop_travel/;
const ON_DRAWING = 1120; // px: below this, names and numbers would crowd, in inches first

const MEASURING = ["cg", "ratio", "weights", "sill"];

export function CarSheet() {
  const sheet = car.value;
  const at = place.value;
  if (sheet && MEASURING.includes(at[0] ?? "")) return <Measuring key={at[0]} at={at} />;
  return (
    <main class="sheet car-sheet">
      <div class="sheet-head">
        <h1>What is this car?</h1>
        <p>Pencil until measured, then ink. Tap any number.</p>
      </div>
      {sheet ? <Described /> : <NoCar />}
    </main>
  );
}

function Measuring({ at }: { at: readonly string[] }) {
  const sheet = car.value!;
  const filled = useFilled(sheet).answer?.result.car ?? null;
  useEffect(() => scrollTo(0, 0), []);
  return <Lazy load={async () => (await import("./measure/MeasurePlace")).MeasurePlace} with={{ sheet, filled, at }} />;
}

function NoCar() {
  return (
    <>
      <p>No car yet. Start with its kind: every number you do not know stands in pencil until you do.</p>
      <button
        type="button"
        class="main"
        onClick={() => garage.change("a new car", (g) => ({ ...g, isDemo: false, car: blankCar("My car") }))}
      >
        Describe my car
      </button>{" "}
      <button type="button" onClick={() => goTo("start")}>
        Look at the demo first
      </button>
    </>
  );
}

function Described() {
  const sheet = car.value!;
  const asked = useFilled(sheet);
  const filled = asked.answer?.result.car ?? null;
  const [axle, setAxle] = useState<AxlePath>("rear");
  const [open, setOpen] = useState<string | null>(null);
  // A link to one number ("measure next") opens it on the drawing.
  const wanted = place.value[0] === "number" ? (place.value[1] ?? null) : null;
  useEffect(() => {
    if (wanted === null) return;
    setAxle((old) => (wanted.startsWith("front.") ? "front" : wanted.startsWith("rear.") ? "rear" : old));
    setOpen(wanted);
  }, [wanted]);
  useEffect(() => {
    if (wanted === null || open !== wanted) return;
    // After the sheet's title has had its focus.
    const frame = requestAnimationFrame(() => {
      const field = document.querySelector<HTMLElement>(`.field[data-key="${CSS.escape(wanted)}"]`);
      field?.scrollIntoView({ block: "center" });
      field?.querySelector("input")?.focus({ preventScroll: true });
    });
    return () => cancelAnimationFrame(frame);
  }, [wanted, open, axle]);
  const [ref, room] = useRoom<HTMLDivElement>(1222);
  const isOnDrawing = room.width >= ON_DRAWING;
  const fields = [...WHOLE_CAR, ...axleFields(axle)];
  // Where a number is neither given nor filled in, the picture stands at a middling one.
  const drawnAt = (key: string, otherwise: number) =>
    (estimateAt(sheet, key) ?? estimateAt(filled, key))?.value ?? otherwise;
  const cg = {
    height: drawnAt("cg_height_mm", 540),
    frontShare: drawnAt("front_weight_share_percent", 58),
    rollCentre: drawnAt(`${axle}.roll_centre_height_mm`, 90),
  };
  const shape = drawnCar(filled ?? sheet, axle);
  const drawing = { shape, axle, width: room.width, isOnDrawing, cg };
  const places = isOnDrawing ? placesOf(layoutOf(drawing)) : null;
  const originOf = (key: string): Origin => {
    const e = estimateAt(sheet, key);
    return e ? (e.origin ?? "measured") : "typical";
  };
  return (
    <>
      <Identity />
      <Firm />
      <Ring<AxlePath>
        legend="The end view shows"
        showLegend
        choices={[
          { value: "rear", label: "rear axle" },
          { value: "front", label: "front axle" },
        ]}
        value={axle}
        onChange={(a) => {
          setOpen(null);
          setAxle(a);
        }}
      />
      <div class={`car-board ${isOnDrawing ? "on-drawing" : "as-list"}`} ref={ref}>
        <div class="art">
          <CarDrawing
            {...drawing}
            originOf={originOf}
            numberOf={(key) => fields.findIndex((f) => f.key === key) + 1}
            open={open}
          />
        </div>
        <div class="fields">
          {fields.map((spec, i) => {
            const at = places?.get(spec.key);
            return (
              <NumberField
                key={spec.key}
                spec={spec}
                n={i + 1}
                {...shownAt(sheet, filled, spec.key)}
                isOpen={open === spec.key}
                onOpen={setOpen}
                onChange={(v) => setCarNumber(spec.key, spec.name, v)}
                problem={problemAt(asked.problems, spec.key)}
                help={<HowTo fieldKey={spec.key} shape={shape} />}
                class={at?.isRight ? "to-right" : ""}
                style={at ? { left: `${(at.x * 100).toFixed(2)}%`, top: `${(at.y * 100).toFixed(2)}%` } : undefined}
              />
            );
          })}
        </div>
      </div>
      <OriginKey />
      <Problems list={asked.problems.filter((p) => !fields.some((f) => p.where.endsWith(f.key)))} />
      <Rest axle={axle} filled={filled} open={open} onOpen={setOpen} />
    </>
  );
}

function Identity() {
  const sheet = car.value!;
  const word = (path: string, otherwise: string) => String(readAt(sheet, path) ?? otherwise);
  return (
    <div class="identity row">
      <span class="pick">
        <label class="note" for="car-name">
          Called
        </label>
        <input
          id="car-name"
          class="write"
          value={sheet.name}
          maxLength={60}
          onChange={(e) => setCarWord("name", "the car’s name", e.currentTarget.value.trim() || "My car")}
        />
      </span>
      <Pick
        label="Kind"
        choices={CLASSES}
        value={word("class", "front_drive_hatch") as (typeof CLASSES)[number]["value"]}
        onChange={(v) => setCarWord("class", "kind of car", v)}
      />
      <Pick
        label="Driven wheels"
        choices={DRIVES}
        value={word("drive", "front") as "front"}
        onChange={(v) => setCarWord("drive", "driven wheels", v)}
      />
      <Pick
        label="Differential"
        choices={DIFFERENTIALS}
        value={word("differential", "open") as "open"}
        onChange={(v) => setCarWord("differential", "differential", v)}
      />
      {garage.value.value.isDemo && <span class="note">Invented.</span>}
    </div>
  );
}

function Firm() {
  const f = firmness(car.value);
  const pen = (o: Origin) => (o === "measured" ? "bold" : o === "maker" ? "mid" : `thin origin-${o}`);
  return (
    <div class="firm">
      <svg class="dwg" viewBox={`0 0 ${f.total * 14} 12`} aria-hidden="true">
        {f.origins.map((o, i) => (
          <path key={i} class={pen(o)} d={`M${i * 14 + 1} 6h10`} />
        ))}
      </svg>
      <span>
        <b class="lettering">
          {f.ink} of {f.total} in ink.
        </b>{" "}
        <span class="note">The rest is typical for this kind of car, with an honest ±.</span>
      </span>
    </div>
  );
}

function Rest(p: { axle: AxlePath; filled: unknown; open: string | null; onOpen: (key: string | null) => void }) {
  const { axle, filled, open, onOpen } = p;
  const sheet = car.value!;
  const shape = drawnCar(filled ?? sheet, axle);
  const word = (path: string, otherwise: string) => String(readAt(sheet, path) ?? otherwise);
  return (
    <div class="halves under">
      <section class="right-half">
        <Advice />
        <Caution title="Stands before hands.">
          Level ground, wheels chocked, both stands under the maker’s lifting points, a shove test, then measure. Never
          under a car on a jack alone. The maker’s manual comes first.
        </Caution>
      </section>
      <section>
        <h2>Also at the {axle}, if you know it</h2>
        <p class="row">
          <Pick
            label="Wheels carried by"
            choices={SUSPENSIONS}
            value={word(`${axle}.suspension`, "independent") as "independent"}
            onChange={(v) => setCarWord(`${axle}.suspension`, "suspension", v)}
          />
          <Pick
            label="Tyres"
            choices={TYRES}
            value={word(`${axle}.tyre.kind`, "summer") as "summer"}
            onChange={(v) => setCarWord(`${axle}.tyre.kind`, "tyres", v)}
          />
          <span class="pick">
            <label class="note" for="tyre-size">
              Size, as on the side wall
            </label>
            <input
              id="tyre-size"
              class="write tyre-size"
              value={word(`${axle}.tyre.size`, "")}
              placeholder="195/55 R15"
              maxLength={30}
              onChange={(e) => setCarWord(`${axle}.tyre.size`, "tyre size", e.currentTarget.value.trim())}
            />
          </span>
        </p>
        <div class="rest-list">
          {rareFields(axle).map((spec) => (
            <NumberField
              key={spec.key}
              spec={spec}
              {...shownAt(sheet, filled, spec.key)}
              isOpen={open === spec.key}
              onOpen={onOpen}
              onChange={(v) => setCarNumber(spec.key, spec.name, v)}
              help={HAS_SKETCH.test(spec.key) ? <HowTo fieldKey={spec.key} shape={shape} /> : undefined}
            />
          ))}
        </div>
      </section>
    </div>
  );
}
