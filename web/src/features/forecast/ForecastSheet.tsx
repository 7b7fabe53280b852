// 'What will it do?' Two cars lean side by side, the load under each tyre, what changes and what does not, and the map
// of all holes.
import { useState } from "preact/hooks";
import { drawnCar } from "@/api/carDrawn";
import { garage, setupInWords } from "@/api/garage";
import { known } from "@/api/operations";
import { isChanged } from "@/api/setups";
import type { CompareResult } from "@/api/types";
import { useForecast } from "@/api/useForecast";
import { plain } from "@/base/format";
import { useRoom } from "@/base/room";
import { hrefOf } from "@/base/route";
import { units } from "@/base/settings";
import { unitLabel } from "@/base/units";
import { type LeaningCar, LeaningCars } from "@/charts/LeaningCars";
import { MarkInText } from "@/charts/marks";
import { Num } from "@/widgets/Num";
import { Footing, Problems } from "@/widgets/Problems";
import { ScaleSlider } from "@/widgets/ScaleSlider";
import { Ring } from "@/widgets/small";
import { Changes } from "./Changes";
import { ClaimsSection } from "./ClaimsSection";
import { HolesSection } from "./HolesSection";
import { KnownHow } from "./KnownHow";
import { LoadsSection } from "./LoadsSection";
import { MotionSection } from "./MotionSection";
import { stanceAt } from "./model";
import { SlalomSection } from "./SlalomSection";
import { TurnSection } from "./TurnSection";
import "./forecast.css";

export function ForecastSheet() {
  const g = garage.value.value;
  const { answer, result, problems, isFull } = useForecast(g);
  const changed = isChanged(g);
  return (
    <main class="sheet">
      <div class="sheet-head">
        <h1>What will it do?</h1>
        <p>
          {g.car
            ? changed
              ? `${setupInWords(g.after)}. On paper: nothing is bought by looking.`
              : "Nothing is changed yet."
            : "No car yet."}
        </p>
      </div>
      {!g.car && (
        <p>
          The forecast needs a car. <a href={hrefOf("start")}>Look at the demo</a>, or{" "}
          <a href={hrefOf("car")}>describe yours</a>: six numbers are enough to begin.
        </p>
      )}
      {g.car && !changed && (
        <p>
          {g.bars.front.length + g.bars.rear.length > 0 ? (
            <>Choose a point on the map below, or a hole on the </>
          ) : (
            <>To see a change, describe a bar on the </>
          )}
          <a href={hrefOf("bars")}>bars sheet</a>.
        </p>
      )}
      <Problems list={problems} />
      {result && <Cars result={result} changed={changed} />}
      {result && changed && <Changes result={result} isFull={isFull} />}
      {result && changed && isFull && <KnownHow result={result} />}
      {g.car && <HolesSection />}
      {g.car && <TurnSection />}
      {g.car && <LoadsSection />}
      {g.car && <MotionSection />}
      {g.car && known.value?.has("forecast/slalom") && <SlalomSection />}
      {g.car && <ClaimsSection />}
      <Footing answer={answer} />
    </main>
  );
}

function Cars({ result, changed }: { result: CompareResult; changed: boolean }) {
  const [g, setG] = useState(0.7);
  const [times, setTimes] = useState<"1" | "2">("2");
  const [ref, room] = useRoom<HTMLElement>(1222);
  const setups = changed ? result.setups.slice(0, 2) : result.setups.slice(0, 1);
  const cars = setups.map((s, i): LeaningCar & { leanPm: number; isBeyond: boolean } => {
    const at = stanceAt(s, g, result.lateral_g);
    return {
      role: i === 0 ? "before" : "after",
      leanDeg: at.leanDeg,
      leanPm: at.leanPm,
      loads: at.loads,
      isBeyond: at.isBeyondLimit,
    };
  });
  const limit = Math.min(...setups.map((s) => s.curve.at(-1)?.lateral_g ?? 0.9));
  return (
    <section aria-label="The cars in a left turn" ref={ref}>
      <div class={`pair-head of-${cars.length}`}>
        {cars.map((c) => (
          <div key={c.role}>
            <h2 class={c.role}>
              <MarkInText role={c.role} />
              {c.role === "before" ? "before" : "after"}
            </h2>
            <Num of={{ value: c.leanDeg, pm: c.leanPm }} unit="deg" size="hero" role={c.role} decimals={1} />
          </div>
        ))}
      </div>
      <figure>
        <LeaningCars
          shape={drawnCar(garage.value.value.car)}
          cars={cars}
          times={Number(times)}
          width={room.width}
          system={units.value}
          showLoads
          showScale
          label={`Seen from behind in a left turn at ${plain(g, 2)} g. ${cars.map((c) => `${c.role}: leans ${plain(c.leanDeg, 1)} degrees`).join(". ")}.`}
        />
        <figcaption class="load-key">
          <LoadKey />
        </figcaption>
      </figure>
      <div class="corner">
        <ScaleSlider
          label="How hard is the corner?"
          term="lateral g"
          unit="g"
          min={0}
          max={1}
          step={0.01}
          decimals={2}
          value={g}
          onInput={setG}
        />
      </div>
      <div class="corner-note row">
        <Ring
          legend="Lean drawn"
          showLegend
          choices={[
            { value: "1", label: "true" },
            { value: "2", label: "2 times" },
          ]}
          value={times}
          onChange={setTimes}
        />
        <span class="note">
          {cars.some((c) => c.isBeyond)
            ? `The tyres let go near ${plain(limit, 2)} g: beyond that the picture stands still.`
            : "A brisk roundabout is about 0.4 g. Do not try these on a public road."}
        </span>
      </div>
      <LoadTable cars={cars} />
    </section>
  );
}

function LoadKey() {
  const unit = unitLabel("kg", units.value);
  return (
    <>
      <span>
        <svg viewBox="0 0 30 18" class="dwg key-block" aria-hidden="true">
          <path class="fine" d="M1 13l4-4M1 17l12-12M9 17l12-12M17 17l12-12M25 17l4-4" />
          <rect class="thin" x="1" y="1" width="28" height="16" />
        </svg>
        front tyre
      </span>
      <span>
        <svg viewBox="0 0 30 18" class="dwg key-block" aria-hidden="true">
          <path class="fine" d="M1 17l14-14M9 17l14-14M17 17l12-12M1 3l14 14M9 3l14 14M17 3l12 12" />
          <rect class="thin" x="1" y="1" width="28" height="16" />
        </svg>
        rear tyre
      </span>
      <span>area is load, in {unit}</span>
    </>
  );
}

function LoadTable({ cars }: { cars: readonly (LeaningCar & { leanPm: number })[] }) {
  const rows = [
    ["front left (inner)", "frontLeft"],
    ["front right (outer)", "frontRight"],
    ["rear left (inner)", "rearLeft"],
    ["rear right (outer)", "rearRight"],
  ] as const;
  return (
    <details class="twin">
      <summary>The loads as a table</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">tyre</th>
            {cars.map((c) => (
              <th key={c.role} scope="col" class="n">
                {c.role}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, key]) => (
            <tr key={key}>
              <td>{name}</td>
              {cars.map((c) => (
                <td key={c.role} class="n">
                  <Num of={c.loads?.[key] ?? 0} unit="kg" size="small" />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
