// The answer beside the detail: the rate with its name, what it does at the wheel, the stress, and the way on.
import { settingOf } from "@/api/barSheet";
import { estimateAt } from "@/api/documents";
import { type AxleName, type BarDocument, car, choose, holeInWords } from "@/api/garage";
import type { BarSettingResult } from "@/api/types";
import { hrefOf } from "@/base/route";
import { units } from "@/base/settings";
import { usualDecimals } from "@/base/units";
import { Num, Said } from "@/widgets/Num";
import type { Ends } from "./model";

export function BarAnswer(p: {
  bar: BarDocument;
  axle: AxleName;
  ends: Ends;
  result: BarSettingResult | null;
  mass: number | null;
  travel: number;
  isTried: boolean;
}) {
  const { result } = p;
  const setting = settingOf(p.bar, p.ends.left, p.ends.right);
  const ratio = estimateAt(car.value, `${p.axle}.bar_motion_ratio`);
  return (
    <section class="answer" aria-live="polite" aria-label="The bar’s rate">
      <p class="note no-gap">
        Hole {setting ? holeInWords(setting.id) : "?"}, one end held, the other pushed (relative rate)
      </p>
      {result ? (
        <Num
          of={result.rate_relative_n_per_mm}
          unit="n_per_mm"
          size="hero"
          decimals={usualDecimals("n_per_mm", units.value)}
        />
      ) : (
        <span class="num hero">…</span>
      )}
      {result && (
        <>
          <dl>
            <dt>
              In a corner, each side <span class="term">(per-side rate, twice the other)</span>
            </dt>
            <dd>
              <Num of={result.rate_per_side_n_per_mm} unit="n_per_mm" size="small" />
            </dd>
            {ratio && (
              <>
                <dt>
                  At the wheel, in a corner <span class="term">(link ratio {ratio.value})</span>
                </dt>
                <dd>
                  <Num of={atWheel(result.rate_per_side_n_per_mm, ratio)} unit="n_per_mm" size="small" />
                </dd>
              </>
            )}
            <dt>
              Highest stress at <Said of={p.travel} unit="mm" />
            </dt>
            <dd>
              <Num of={result.max_stress_mpa_per_mm * p.travel} unit="mpa" size="small" />
            </dd>
            {Math.abs(result.force_left_n_per_mm) !== Math.abs(result.force_right_n_per_mm) && (
              <>
                <dt>
                  Left link pushes, right link pulls, at <Said of={p.travel} unit="mm" />
                </dt>
                <dd class="lettering">
                  <Said of={Math.abs(result.force_left_n_per_mm) * p.travel} unit="n" />,{" "}
                  <Said of={Math.abs(result.force_right_n_per_mm) * p.travel} unit="n" />
                </dd>
              </>
            )}
            {p.mass !== null && (
              <>
                <dt>The bar weighs</dt>
                <dd>
                  <Num of={p.mass} unit="kg" size="small" decimals={1} />
                </dd>
              </>
            )}
          </dl>
          <p class="note">
            Of its give, {result.torsion_share_percent.toFixed(0)} % is twist, {result.bending_share_percent.toFixed(0)}{" "}
            % bending, {result.bushing_share_percent.toFixed(0)} % rubber.
          </p>
          <p class="no-gap">
            <a href={hrefOf(`bars/hang/${p.axle}/${encodeURIComponent(p.bar.name)}`)}>
              Have the bar? Hang weights on it and compare
            </a>
          </p>
          <Doubts result={result} />
        </>
      )}
      {p.isTried ? (
        <a class="press main" href={hrefOf("forecast")}>
          See what it does
        </a>
      ) : (
        <button
          type="button"
          class="main"
          disabled={!setting}
          onClick={() => setting && choose(p.axle, { bar: p.bar.name, setting: setting.id })}
        >
          Try this bar on paper
        </button>
      )}
      {p.isTried && (
        <button type="button" class="plain" onClick={() => choose(p.axle, { bar: null, setting: null })}>
          Leave the {p.axle} as built
        </button>
      )}
    </section>
  );
}

// What the ± comes from, and how long the bar may last: ranges, never one number.
function Doubts({ result }: { result: BarSettingResult }) {
  return (
    <details class="twin">
      <summary>Where the ± comes from, and how long it lasts</summary>
      <ul class="plain-list">
        {result.doubts.slice(0, 4).map((d) => (
          <li key={d.from}>
            {d.from}: <Said of={d.pm_percent} unit="percent" />
          </li>
        ))}
      </ul>
      {result.life.map((l) => (
        <p key={l.use}>
          <b class="lettering">{l.use}:</b> {l.years}. Stress <Said of={l.stress_low_mpa} unit="mpa" /> in gentle use,{" "}
          <Said of={l.stress_high_mpa} unit="mpa" /> in hard use{l.may_yield ? ", which may bend it for good" : ""}.
        </p>
      ))}
    </details>
  );
}

// Rate × ratio²; the ± adds in squares, the ratio's counting twice.
export function atWheel(rate: { value: number; pm: number }, ratio: { value: number; pm?: number }) {
  const value = rate.value * ratio.value ** 2;
  const relative = Math.hypot(rate.pm / rate.value, (2 * (ratio.pm ?? 0)) / ratio.value);
  return { value, pm: value * relative };
}
