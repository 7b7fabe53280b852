// 'Was it worth it?' One page to show a friend: measured, forecast, cost, what the same money would have bought. 'Not
// worth it' and 'cannot tell' stand in the same calm size.
import { drawnCar } from "@/api/carDrawn";
import { garage, setupInWords } from "@/api/garage";
import { isChanged } from "@/api/setups";
import type { VerdictResult } from "@/api/types";
import { sentence, unbroken } from "@/base/format";
import { useRoom } from "@/base/room";
import { hrefOf } from "@/base/route";
import { units } from "@/base/settings";
import { LeaningCars } from "@/charts/LeaningCars";
import { MarkInText } from "@/charts/marks";
import { ForecastAgainstMeasured } from "@/charts/Whiskers";
import { Num } from "@/widgets/Num";
import { Footing, Problems } from "@/widgets/Problems";
import { Caution } from "@/widgets/small";
import { Bill } from "./Bill";
import { effectRows, heldInWords, leansAt, moneyInWords } from "./model";
import { Share } from "./Share";
import { useVerdict } from "./useVerdict";
import "./verdict.css";

export function VerdictSheet() {
  const g = garage.value.value;
  const isReady = g.car !== null && isChanged(g);
  const state = useVerdict(g, isReady);
  const result = state.answer?.result ?? null;
  return (
    <main class="sheet narrow-sheet verdict">
      {!result && (
        <div class="sheet-head">
          <h1>Was it worth it?</h1>
        </div>
      )}
      {!isReady && (
        <p>
          A verdict needs a car and a change to it.{" "}
          <a href={hrefOf(g.car ? "bars" : "start")}>{g.car ? "Choose a bar and a hole" : "Begin at the start"}</a>; the
          recordings before and after go to the <a href={hrefOf("test")}>test sheet</a>.
        </p>
      )}
      {state.busy && !result && (
        <p class="lettering" aria-live="polite">
          {state.busy} …
        </p>
      )}
      <Problems list={state.problems} title="No verdict yet." />
      {result && <Page r={result} />}
      {result && <Share r={result} />}
      {isReady && <Bill />}
      <Footing answer={state.answer} />
    </main>
  );
}

function Page({ r }: { r: VerdictResult }) {
  const lean = leansAt(r, 0.7);
  return (
    <article>
      <div class="top">
        <div>
          <p class="note no-gap">Was it worth it?</p>
          <h1 class="statement">{unbroken(r.meaning)}</h1>
          <p>{unbroken(r.why)}</p>
        </div>
        {lean && <Pair {...lean} />}
      </div>
      <Effects r={r} />
      <Money r={r} />
      {r.felt && r.cost_per_percent_money !== null && <p>{unbroken(r.felt)}</p>}
      <Alternatives r={r} />
      <Caution title="Before the next drive">
        {r.next} Tell your insurer. {liftInWords(r)}
      </Caution>
      <Plate r={r} />
      <p class="screen-only row print-row">
        <button type="button" class="main" onClick={() => print()}>
          Print this page
        </button>
      </p>
    </article>
  );
}

function Pair(p: NonNullable<ReturnType<typeof leansAt>>) {
  const [ref, room] = useRoom<HTMLElement>(360);
  return (
    <figure ref={ref}>
      <div class="pair-head">
        {(["before", "after"] as const).map((role) => (
          <div key={role}>
            <span class={role}>
              <MarkInText role={role} />
              {role}
            </span>
            <br />
            <Num of={p[role]} unit="deg" role={role} decimals={1} />
          </div>
        ))}
      </div>
      <LeaningCars
        shape={drawnCar(garage.value.value.car)}
        cars={[
          { role: "before", leanDeg: p.before.value },
          { role: "after", leanDeg: p.after.value },
        ]}
        times={2}
        width={room.width}
        system={units.value}
        label={`Before ${p.before.value.toFixed(1)} degrees, after ${p.after.value.toFixed(1)} degrees at 0.7 g`}
      />
      <figcaption>At 0.7 g, {p.isMeasured ? "as measured" : "as forecast, not measured"}. Lean drawn twice.</figcaption>
    </figure>
  );
}

function Effects({ r }: { r: VerdictResult }) {
  const say = (i: { value: number; pm: number } | null, unit: Parameters<typeof sentence>[2], words: string) =>
    i ? sentence(i.value, i.pm, unit, units.value, { signed: true }) : words;
  return (
    <>
      <h2>Forecast, then measured</h2>
      <table class="effects">
        <thead>
          <tr>
            <th scope="col">effect</th>
            <th scope="col" class="n">
              forecast
            </th>
            <th scope="col">
              <span class="unseen">drawing</span>
            </th>
            <th scope="col" class="n">
              measured
            </th>
          </tr>
        </thead>
        <tbody>
          {effectRows(r).map((e) => (
            <tr key={e.key}>
              <td>{e.name}</td>
              <td class="n">{say(e.forecast, e.unit, "–")}</td>
              <td class="drawn">
                <ForecastAgainstMeasured forecast={e.forecast} measured={e.measured} />
              </td>
              <td class="n">{say(e.measured, e.unit, e.measuredWords)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="note">
        Open bar: forecast before buying. Solid bar: measured. The upright line is no change. Each bar covers nineteen
        times in twenty. {heldInWords(r)}
      </p>
    </>
  );
}

function Money({ r }: { r: VerdictResult }) {
  return (
    <div class="money">
      <div>
        Parts
        <br />
        <span class="num">{moneyInWords(r.parts_cost_money, r.currency)}</span>
      </div>
      <div>
        Work
        <br />
        <Num of={r.work_h} unit="h" />
      </div>
      <div>
        {r.cost_per_percent_money !== null ? "For each per cent of lean taken away" : "How it felt"}
        <br />
        {r.cost_per_percent_money !== null ? (
          <span class="num">{moneyInWords(r.cost_per_percent_money, r.currency)}</span>
        ) : (
          <span class="lettering">{r.felt || "not noted"}</span>
        )}
      </div>
    </div>
  );
}

function Alternatives({ r }: { r: VerdictResult }) {
  if (r.alternatives.length === 0) return null;
  const own = r.forecast.changes[0];
  return (
    <>
      <h2>What the same money would have bought</h2>
      <table class="alternatives">
        <thead>
          <tr>
            <th scope="col">instead, as forecast</th>
            <th scope="col" class="n">
              price
            </th>
            <th scope="col" class="n">
              lean
            </th>
            <th scope="col" class="n">
              grip
            </th>
          </tr>
        </thead>
        <tbody>
          {own && (
            <tr>
              <td>
                <b>This change</b>
              </td>
              <td class="n">{moneyInWords(r.parts_cost_money, r.currency)}</td>
              <td class="n">
                {sentence(
                  own.roll_gradient_change_percent.value,
                  own.roll_gradient_change_percent.pm,
                  "percent",
                  units.value,
                  { signed: true },
                )}
              </td>
              <td class="n">
                {sentence(own.limit_g.value, own.limit_g.pm, "g", units.value, { signed: true, decimals: 3 })}
              </td>
            </tr>
          )}
          {r.alternatives.map((a) => (
            <tr key={a.name}>
              <td>{a.name}</td>
              <td class="n">{moneyInWords(a.price_money, r.currency)}</td>
              <td class="n">
                {sentence(
                  a.roll_gradient_change_percent.value,
                  a.roll_gradient_change_percent.pm,
                  "percent",
                  units.value,
                  { signed: true },
                )}
              </td>
              <td class="n">
                {sentence(a.limit_change_g.value, a.limit_change_g.pm, "g", units.value, { signed: true, decimals: 3 })}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function liftInWords(r: VerdictResult): string {
  const [b, a] = r.forecast.setups;
  if (!b || !a) return "";
  const was = b.rear.wheel_lift_g.value;
  const is = a.rear.wheel_lift_g.value;
  return is < was - 0.02
    ? `The inner rear wheel lifts nearer now: at ${is.toFixed(2)} g, was ${was.toFixed(2)} g.`
    : "";
}

// The drawing's own title block, for the printed page.
function Plate({ r }: { r: VerdictResult }) {
  const g = garage.value.value;
  const runs =
    r.proof?.before && r.proof.after
      ? `${r.proof.before.passes.filter((p) => p.is_used).length} runs before, ${r.proof.after.passes.filter((p) => p.is_used).length} after`
      : "not measured";
  const cells: [string, string][] = [
    [r.invented ? "car (invented)" : "car", r.car],
    ["part", setupInWords(g.after)],
    ["tested", runs],
    ["sheet", "7 of 7"],
    ["title", "Verdict on an anti-roll bar"],
    ["drawn with", "Rollwright"],
    ["units", units.value === "metric" ? "millimetres, newtons" : "inches, pounds"],
    ["personal data", "none on this sheet"],
  ];
  return (
    <dl class="plate">
      {cells.map(([k, v]) => (
        <div key={k}>
          <dt>{k}</dt>
          <dd>{v}</dd>
        </div>
      ))}
    </dl>
  );
}
