// 'Which hole?' The bar in space with holes to tap, or flat for print; the rate at once, with its name.
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { barPicture, firstSetting, type Side, settingById, settingOf, withAllSettings } from "@/api/barSheet";
import { type AxleName, addBar, type BarDocument, choose, freeName, garage } from "@/api/garage";
import { asSimple, fromSimple, USUAL } from "@/api/simpleBar";
import { useAsk } from "@/api/useAsk";
import { useRoom } from "@/base/room";
import { hrefOf, place } from "@/base/route";
import { paper, units } from "@/base/settings";
import { fromShown, toShown, unitLabel } from "@/base/units";
import { Bar3D } from "@/charts/Bar3D";
import { BarFlat } from "@/charts/BarFlat";
import { StressKey } from "@/charts/StressKey";
import { fullScale } from "@/charts/stressHatch";
import { Lazy } from "@/widgets/Lazy";
import { Said } from "@/widgets/Num";
import { Footing, Problems } from "@/widgets/Problems";
import { ScaleSlider } from "@/widgets/ScaleSlider";
import { Caution, Pick, Ring } from "@/widgets/small";
import { BarAnswer } from "./BarAnswer";
import { BarNumbers } from "./BarNumbers";
import { Claim } from "./Claim";
import { Curve } from "./Curve";
import { Details } from "./Details";
import { type Ends, resultOf, stressAt } from "./model";
import "./bars.css";

export function BarsSheet() {
  const g = garage.value.value;
  // "bars/weigh/rear/my bar" asks for one measurement of one bar; its parts may be left out.
  const [what, onAxle, called] = place.value;
  const [axle, setAxle] = useState<AxleName>(
    onAxle === "front" || onAxle === "rear" ? onAxle : g.bars.rear.length >= g.bars.front.length ? "rear" : "front",
  );
  const [named, setNamed] = useState<string | null>(called ?? null);
  const address = place.value.join("/");
  useEffect(() => {
    if (onAxle === "front" || onAxle === "rear") setAxle(onAxle);
    if (called) setNamed(called);
  }, [address]);
  const bars = g.bars[axle];
  const bar = bars.find((b) => b.name === named) ?? bars.find((b) => b.name === g.after[axle].bar) ?? bars[0] ?? null;
  const add = () => {
    const name = freeName(g, axle === "rear" ? "my rear bar" : "my front bar");
    const fresh = fromSimple(USUAL, name, axle) as BarDocument;
    addBar(axle, fresh);
    setNamed(name);
  };
  if (what === "tape" || (bar && (what === "weigh" || what === "hang")))
    return (
      <Lazy
        key={place.value.join()}
        load={async () => (await import("./measure/BarPlace")).BarPlace}
        with={{ bar, axle, what, named: called ?? null }}
      />
    );
  return (
    <main class="sheet">
      <div class="sheet-head">
        <h1>Which hole?</h1>
        <p>Hole 1, the farthest out, is the softest.</p>
      </div>
      <div class="row">
        <Ring<AxleName>
          legend="Axle"
          choices={[
            { value: "rear", label: "rear bar" },
            { value: "front", label: "front bar" },
          ]}
          value={axle}
          onChange={(a) => {
            setAxle(a);
            setNamed(null);
          }}
        />
        {bars.length > 1 && bar && (
          <Pick
            label="Bar"
            choices={bars.map((b) => ({ value: b.name, label: b.name }))}
            value={bar.name}
            onChange={setNamed}
          />
        )}
        <button type="button" class="plain" onClick={add}>
          Another bar
        </button>
        <a class="press plain" href={hrefOf(`bars/tape/${axle}`)}>
          A bar by tape
        </a>
      </div>
      {bar ? <OneBar key={axle + bar.name} bar={bar} axle={axle} /> : <NoBar axle={axle} onAdd={add} />}
      <Claim axle={axle} isOpen={what === "claim"} />
    </main>
  );
}

function NoBar({ axle, onAdd }: { axle: AxleName; onAdd: () => void }) {
  return (
    <section class="no-bar">
      <p>
        No bar is described for the {axle} yet. A tape and a caliper are enough: width, arms, diameter, holes. For a bar
        you have not bought, the seller’s drawing will do, with a wider ±.
      </p>
      <button type="button" class="main" onClick={onAdd}>
        Describe a bar
      </button>{" "}
      <a class="press" href={hrefOf(`bars/tape/${axle}`)}>
        Read it by tape
      </a>
    </section>
  );
}

function OneBar({ bar, axle }: { bar: BarDocument; axle: AxleName }) {
  const g = garage.value.value;
  const first = firstSetting(bar);
  const isTried = g.after[axle].bar === bar.name;
  const kept = isTried && g.after[axle].setting ? settingById(bar, g.after[axle].setting) : undefined;
  const [local, setLocal] = useState<Ends | null>(null);
  const start = kept ?? first;
  const ends: Ends = local ?? { left: start?.left_hole ?? "", right: start?.right_hole ?? "" };
  const [travel, setTravel] = useState(30);
  const [view, setView] = useState<"space" | "flat">("space");
  const [ref, room] = useRoom<HTMLDivElement>(1222);
  useEffect(() => setLocal(null), [g.after[axle].setting]);

  const asked = useAsk("bar/rate", { bar: withAllSettings(bar) });
  const setting = settingOf(bar, ends.left, ends.right);
  const lines = useAsk("bar/rate", setting ? { bar: { ...bar, settings: [setting] }, stress_along: true } : null);
  const result = resultOf(bar, asked.answer?.result, ends);
  const stressed = lines.answer?.result.settings.find((s) => s.id === setting?.id) ?? null;

  // The scale holds for every travel up to 40 mm of this setting, so that moving the slider shows as colour.
  const full = fullScale((result?.max_stress_mpa_per_mm ?? 7.5) * 40);

  const take = (next: Ends) => {
    setLocal(next);
    const s = settingOf(bar, next.left, next.right);
    if (isTried && s) choose(axle, { bar: bar.name, setting: s.id });
  };
  const flat = {
    bar: barPicture(bar),
    chosen: ends,
    stressAt: stressAt(stressed, travel),
    width: room.width,
    isSun: paper.value === "sun",
    label: `${bar.name}, drawn flat, hatched where the steel works harder`,
    fullMpa: full,
    pointAtPeak: true,
  };
  const tap = (side: Side, id: string) => take({ ...ends, [side]: id });
  return (
    <div ref={ref}>
      <div class="view-choice screen-only">
        <Ring
          legend="Drawing"
          choices={[
            { value: "space", label: "in space" },
            { value: "flat", label: "flat" },
          ]}
          value={view}
          onChange={setView}
        />
      </div>
      <figure>
        {view === "space" ? (
          <>
            <div class="screen-only">
              <Bar3D
                {...flat}
                label={`${bar.name} in space, twisted; drag to turn it`}
                travel={travel}
                onChoose={tap}
              />
            </div>
            <div class="print-only">
              <Later>
                <BarFlat {...flat} />
              </Later>
            </div>
          </>
        ) : (
          <BarFlat {...flat} />
        )}
        <figcaption>
          {view === "flat" ? "Closer hatching" : "Deeper colour"} where the steel works harder, here with each link
          moved <Said of={travel} unit="mm" />, one up and one down.{" "}
          {view === "space" && "Drag to turn. The twist is drawn evenly spread."}
        </figcaption>
      </figure>
      <div class="travel">
        <TravelScale travel={travel} onTravel={setTravel} />
      </div>
      <Problems list={asked.problems} />
      <div class="columns">
        <section>
          <Details bar={bar} answer={asked.answer?.result} ends={ends} onEnds={take} />
          {view === "flat" && <StressKey full={full} />}
        </section>
        <BarAnswer
          bar={bar}
          axle={axle}
          ends={ends}
          result={result}
          mass={asked.answer?.result.mass_kg ?? null}
          travel={travel}
          isTried={isTried}
        />
      </div>
      <Caution title="A bar twisted by hand still bites.">
        Undo both links before you move a bolt to another hole. Torque from the maker’s manual, and again after{" "}
        <Said of={50} unit="km" />.
      </Caution>
      <Footing answer={asked.answer} />
      <Curve bar={bar} setting={setting?.id ?? null} isOpen={place.value[0] === "curve"} />
      {asSimple(bar) ? (
        <BarNumbers key={bar.name} bar={bar} axle={axle} />
      ) : (
        <p class="note">
          {bar.notes === "By tape." ? (
            <a href={hrefOf(`bars/tape/${axle}/${encodeURIComponent(bar.name)}`)}>Read it by tape again</a>
          ) : (
            "This bar’s shape came as a bar sheet and is kept as it is."
          )}
        </p>
      )}
    </div>
  );
}

// Millimetres or inches, whichever the person reads; kept in millimetres.
function TravelScale({ travel, onTravel }: { travel: number; onTravel: (mm: number) => void }) {
  const isInches = units.value === "imperial";
  const [max, step, decimals] = isInches ? [2.4, 0.05, 2] : [60, 1, 0];
  return (
    <ScaleSlider
      label="How far does each link move?"
      unit={unitLabel("mm", units.value)}
      min={0}
      max={max}
      step={step}
      decimals={decimals}
      value={toShown(travel, "mm", units.value)}
      onInput={(v) => onTravel(fromShown(v, "mm", units.value))}
    />
  );
}

// What only the printer sees is drawn when the hand has come to rest, so that it never holds up the screen.
function Later({ children }: { children: ComponentChildren }) {
  const [shown, setShown] = useState<ComponentChildren>(null);
  useEffect(() => {
    const timer = setTimeout(() => setShown(children), 400);
    return () => clearTimeout(timer);
  }, [children]);
  return <>{shown}</>;
}
