// Every part of the look on one sheet, on whichever paper is chosen: for those who build the page, and for the tests.
import { useState } from "preact/hooks";
import { type Estimate, ORIGIN_WORDS, ORIGINS } from "@/base/estimate";
import { useRoom } from "@/base/room";
import { paper, units } from "@/base/settings";
import { unitLabel } from "@/base/units";
import { ArmDetail } from "@/charts/ArmDetail";
import { Bar3D } from "@/charts/Bar3D";
import { BarFlat } from "@/charts/BarFlat";
import { RearCar, SideCar } from "@/charts/Car";
import type { BodyKind, CarShape } from "@/charts/carShape";
import { sideView } from "@/charts/carSide";
import { HoleMap } from "@/charts/HoleMap";
import { LeaningCars } from "@/charts/LeaningCars";
import { LeanPlot } from "@/charts/LeanPlot";
import { Mark, MarkInText } from "@/charts/marks";
import { Drawing, Ground } from "@/charts/pen";
import { RollTrace } from "@/charts/RollTrace";
import { StressKey } from "@/charts/StressKey";
import { TrendChart } from "@/charts/TrendChart";
import { TurnCurves } from "@/charts/TurnCurves";
import { ForecastAgainstMeasured, Whiskers } from "@/charts/Whiskers";
import { FileDrop } from "@/widgets/FileDrop";
import { Num } from "@/widgets/Num";
import { NumberField } from "@/widgets/NumberField";
import { OriginMark } from "@/widgets/OriginMark";
import { Reading } from "@/widgets/Reading";
import { ScaleSlider } from "@/widgets/ScaleSlider";
import { Caution, Flags, Ring, Tick, Twin, Unchanged } from "@/widgets/small";
import { halfTurnsText, Turns } from "@/widgets/Turns";
import { UseNumber } from "@/widgets/UseNumber";
import { KIT_BAR, kitHoles, kitLean, kitLoads, kitOutings, kitPoints, kitStress, kitTrace, kitTurn } from "./samples";
import "./kit.css";

const SHAPES: Record<BodyKind, CarShape> = {
  hatch: { kind: "hatch", track: 1460, width: 1720, height: 1430, wheelbase: 2490, clearance: 165 },
  van: { kind: "van", track: 1600, width: 1900, height: 2060, wheelbase: 3050, clearance: 190 },
};

const SLIDERS = [
  ["width", 1600, 2000, 10],
  ["height", 1300, 1700, 10],
  ["wheelbase", 2200, 3000, 20],
] as const;

export function KitSheet() {
  const [shape, setShape] = useState(SHAPES.hatch);
  const [lean, setLean] = useState(4);
  const [ref, room] = useRoom<HTMLDivElement>(1000);
  return (
    <main class="sheet">
      <div class="sheet-head">
        <h1>Every part on one sheet</h1>
        <p>Samples are invented. Nothing here is an answer about a car.</p>
      </div>
      <div ref={ref}>
        <Cars shape={shape} lean={lean} width={room.width} />
        <div class="kit-sliders">
          {SLIDERS.map(([key, min, max, step]) => (
            <ScaleSlider
              key={key}
              label={key.charAt(0).toUpperCase() + key.slice(1)}
              unit="mm"
              min={min}
              max={max}
              step={step}
              decimals={0}
              value={shape[key]}
              onInput={(v) => setShape((old) => ({ ...old, [key]: v }))}
            />
          ))}
          <ScaleSlider label="Lean" unit="°" min={-8} max={8} step={0.25} decimals={1} value={lean} onInput={setLean} />
        </div>
        <div class="halves">
          <Lines />
          <Numbers />
          <Acts />
          <Cautions />
        </div>
        <Plots width={room.width} />
        <Bars width={room.width} />
      </div>
    </main>
  );
}

function Cars({ shape, lean, width }: { shape: CarShape; lean: number; width: number }) {
  const side = sideView(shape);
  const W = side.length + shape.width + 1000;
  const u = W / width;
  return (
    <Drawing box={[-300, shape.height + 60, W, shape.height + 60 + 16 * u]} label="A car from the side and from behind">
      <Ground from={-300} to={W - 300} u={u} />
      <SideCar view={side} />
      <RearCar shape={shape} leanDeg={lean} x={side.length + 350 + shape.width / 2} />
    </Drawing>
  );
}

const PENS: readonly (readonly [string, string])[] = [
  ["bold", "bold: outline of the subject, the frame"],
  ["mid", "mid: edges inside the outline"],
  ["thin", "thin: dimensions, leaders"],
  ["fine", "fine: hatching, extension lines"],
  ["thin centre", "centre line"],
  ["thin origin-typical", "pencil, long dash: typical"],
  ["thin origin-guess", "pencil, dots: a guess"],
];
function Lines() {
  return (
    <section>
      <h2>Lines</h2>
      {PENS.map(([c, words]) => (
        <div class="kit-line" key={c}>
          <svg class="dwg" viewBox="0 0 150 12" aria-hidden="true">
            <path class={c} d="M2 6H148" />
          </svg>
          <span>{words}</span>
        </div>
      ))}
      <div class="kit-line before">
        <svg class="dwg" viewBox="0 0 150 24" aria-hidden="true">
          <path class="bold stroke-before dashed" d="M2 12H148" />
          <Mark role="before" x={75} y={12} size={7} />
        </svg>
        before: blue, dashed, open circle
      </div>
      <div class="kit-line after">
        <svg class="dwg" viewBox="0 0 150 24" aria-hidden="true">
          <path class="bold stroke-after" d="M2 12H148" />
          <Mark role="after" x={75} y={12} size={7} />
        </svg>
        after: red, solid, filled triangle
      </div>
      <h2>Where a number comes from</h2>
      {ORIGINS.map((o) => (
        <div class="kit-line" key={o}>
          <OriginMark origin={o} silent />
          <span>{ORIGIN_WORDS[o]}</span>
        </div>
      ))}
    </section>
  );
}

function Numbers() {
  const [value, setValue] = useState<Estimate | null>({ value: 1460, pm: 3, origin: "measured" });
  const [unknown, setUnknown] = useState<Estimate | null>(null);
  const [open, setOpen] = useState<string | null>("cg");
  const [reading, setReading] = useState<number | null>(780.5);
  const [used, setUsed] = useState(false);
  return (
    <section>
      <h2>Numbers</h2>
      <p>
        <Num of={{ value: 4.62, pm: 0.4 }} unit="deg_per_g" size="hero" />
      </p>
      <p class="row">
        <Num of={{ value: 22.4, pm: 1.3 }} unit="n_per_mm" size="big" />
        <Num of={{ value: 1460, pm: 3 }} unit="mm" />
        <Num of={{ value: 719, pm: 3 }} unit="kg" size="small" />
        <Num of={{ value: -19.3, pm: 3 }} unit="percent" signed role="after" />
      </p>
      <Reading id="scale" name="A raw reading" unit="kg" value={reading} onChange={setReading} />
      <UseNumber
        name="What a measurement found"
        of={{ value: 552, pm: 18, low: 534, high: 570 }}
        unit="mm"
        now={{ value: 540, pm: 60, origin: "typical" }}
        isUsed={used}
        sheet="the car sheet"
        onUse={() => setUsed(true)}
      />
      <NumberField
        n={1}
        spec={{ key: "track", name: "Track, rear", unit: "mm", low: 900, high: 2200, usualPm: 3 }}
        value={value}
        typical={{ value: 1480, pm: 60 }}
        isOpen={open === "track"}
        onOpen={setOpen}
        onChange={setValue}
      />
      <NumberField
        n={2}
        spec={{
          key: "cg",
          name: "Centre of gravity, height",
          unit: "mm",
          low: 200,
          high: 1200,
          usualPm: 20,
          howTo: "Lift one axle on the scales and read the other.",
        }}
        value={unknown}
        typical={{ value: 540, pm: 40 }}
        isOpen={open === "cg"}
        onOpen={setOpen}
        onChange={setUnknown}
      />
    </section>
  );
}

function Acts() {
  const [pick, setPick] = useState("2");
  const [done, setDone] = useState(3);
  return (
    <section>
      <h2>Press, choose, tick</h2>
      <div class="row">
        <button type="button" class="main">
          Go on from here
        </button>
        <button type="button">Not now</button>
        <button type="button" class="plain">
          How to measure
        </button>
      </div>
      <Ring
        legend="Hole"
        showLegend
        choices={["1", "2", "3"].map((value) => ({ value, label: `hole ${value}` }))}
        value={pick}
        onChange={setPick}
      />
      <div class="kit-turn">
        <Turns needed={5} done={done} />
        <div>
          <span class="num big">{halfTurnsText(5)}</span> turns longer
          <p class="note">{halfTurnsText(done)} done</p>
          <button type="button" onClick={() => setDone((d) => (d + 1) % 6)}>
            Half a turn done
          </button>
        </div>
      </div>
      <Tick onClick={() => setDone(0)}>It slides in free</Tick>
      <h2>Drop</h2>
      <FileDrop
        label="Drop the log here, or choose it"
        hint="A table of numbers from a phone: csv, txt"
        accept=".csv,.txt"
        onFiles={() => {}}
      />
    </section>
  );
}

function Cautions() {
  return (
    <section>
      <h2>Say</h2>
      <Caution title="Stands before hands.">
        Level ground, wheels chocked, both stands under the maker’s lifting points, a shove test, then measure.
      </Caution>
      <Flags
        list={[
          { kind: "out", key: "a", text: "Run 5 before is left out. It was 20 % slower than the rest." },
          { kind: "mind", key: "b", text: "The ground tips 0.4° to the left." },
          { kind: "good", key: "c", text: "The phone stayed put." },
        ]}
      />
      <Unchanged title="Grip">The tyres decide that.</Unchanged>
      <div class="kit-line">
        <Whiskers
          before={{ value: 5.6, pm: 0.5, low: 5.1, high: 6.1 }}
          after={{ value: 4.6, pm: 0.4, low: 4.2, high: 5 }}
        />
        <span>
          <MarkInText role="before" />
          before, <MarkInText role="after" />
          after
        </span>
      </div>
      <div class="kit-line">
        <ForecastAgainstMeasured
          forecast={{ value: -19, pm: 3, low: -22, high: -16 }}
          measured={{ value: -20, pm: 2, low: -22, high: -18 }}
        />
        <span>forecast open, measured solid</span>
      </div>
      <Twin
        caption="A sample"
        head={["hole", "rate"]}
        rows={[
          ["1", "18.1"],
          ["2", "22.4"],
        ]}
      />
    </section>
  );
}

function Plots({ width }: { width: number }) {
  const [chosen, setChosen] = useState("0/2");
  const [g, setG] = useState(0.7);
  const each = width >= 900 ? (width - 32) / 2 : width;
  return (
    <>
      <h2>Cars that lean</h2>
      <LeaningCars
        shape={SHAPES.hatch}
        times={2}
        width={width}
        system={units.value}
        showLoads
        showScale
        cars={[
          { role: "before", leanDeg: 5.6 * g, loads: kitLoads(g, 0.57) },
          { role: "after", leanDeg: 4.6 * g, loads: kitLoads(g, 0.5) },
        ]}
        label="Two cars from behind in a left turn"
      />
      <ScaleSlider
        label="How hard is the corner?"
        term="lateral g"
        unit="g"
        min={0}
        max={0.9}
        step={0.01}
        decimals={2}
        value={g}
        onInput={setG}
      />
      <div class="halves">
        <LeanPlot
          width={each}
          points={kitPoints()}
          lines={[
            { role: "before", degPerG: { value: 5.5, pm: 0.2, low: 5.3, high: 5.7 } },
            { role: "after", degPerG: { value: 4.4, pm: 0.2, low: 4.2, high: 4.6 } },
          ]}
          label="Lean against g, samples"
        />
        <HoleMap
          width={each}
          points={kitHoles()}
          now="0/0"
          chosen={chosen}
          proposed="1/2"
          badBelowShare={48.5}
          badWhy="inner rear lifts early"
          onChoose={setChosen}
          label="Lean against balance for twelve pairs of holes"
        />
      </div>
      <TurnCurves cars={kitTurn} width={width} loadUnit="kg" perKg={1} label="Two ways to the limit, samples" />
      <RollTrace
        role="after"
        width={width}
        trace={kitTrace()}
        passes={[
          { id: "1", from: 3, to: 12 },
          { id: "2", from: 18, to: 27, isLeftOut: true },
        ]}
        label="Roll over time"
      />
      <TrendChart points={kitOutings()} width={width} />
      <p class="note">{kitLean}</p>
    </>
  );
}

function Bars({ width }: { width: number }) {
  const [hole, setHole] = useState("2");
  const stress = kitStress(hole);
  const flat = {
    bar: KIT_BAR,
    chosen: { left: hole, right: hole },
    stressAt: stress,
    width,
    isSun: paper.value === "sun",
    label: "The bar flat, with hatching for stress",
    pointAtPeak: true,
  };
  return (
    <>
      <h2>The bar</h2>
      <Bar3D {...flat} label="The bar in space" travel={50} onChoose={(_, id) => setHole(id)} />
      <BarFlat {...flat} />
      <ArmDetail
        legend="Hole at both ends"
        unit={unitLabel("n_per_mm", units.value)}
        holes={["3", "2", "1"].map((id, i) => ({ id, rate: ["28.3", "22.4", "18.1"][i]!, label: `Hole ${id}` }))}
        chosen={hole}
        onChoose={setHole}
      />
      <StressKey />
    </>
  );
}
