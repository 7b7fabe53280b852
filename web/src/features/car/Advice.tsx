// What is worth a look on this sheet, and which measurement narrows the forecast most for its time.
import { garage } from "@/api/garage";
import { barsFor, carFor, isChanged, setupOf } from "@/api/setups";
import { useAsk } from "@/api/useAsk";
import { keyInWords, measuredAt } from "@/base/places";
import { hrefOf } from "@/base/route";
import { Said } from "@/widgets/Num";
import { Flags } from "@/widgets/small";
import { Words } from "@/widgets/Words";
import { rareFields } from "./fields";
import { MAIN_KEYS } from "./model";

export function Advice() {
  const g = garage.value.value;
  const car = carFor(g);
  const checked = useAsk("car/check", car && { car });
  const setups = isChanged(g) ? [setupOf(g.after)] : [];
  const next = useAsk("car/next", car && { car: { ...car, setups }, bars: barsFor(g, [g.after]) });
  const findings = checked.answer?.result.findings ?? [];
  const assumed = checked.answer?.result.filled_in ?? [];
  const advice = next.answer?.result;
  return (
    <>
      {advice && advice.measurements.length > 0 && (
        <section>
          <h2>Measure next</h2>
          <p>To know the {advice.aim} better, in the order of what an hour brings:</p>
          <ol class="notes">
            {advice.measurements.slice(0, 3).map((m) => (
              <li key={m.measurement}>
                <p class="no-gap">
                  <b class="lettering">{capital(m.measurement)}.</b> <Said of={m.time_min} unit="min" />.{" "}
                  <Words text={m.how} />{" "}
                  <span class="note">
                    Narrows it by <Said of={m.narrows_percent} unit="percent" decimals={0} />.
                  </span>
                </p>
                {waysTo(m.keys).map((to) => (
                  <a key={to.at} class="press plain" href={hrefOf(to.at)}>
                    {to.name}
                  </a>
                ))}
              </li>
            ))}
          </ol>
        </section>
      )}
      {findings.length > 0 && (
        <section>
          <h2>Worth a look</h2>
          <Flags
            list={findings.map((f) => ({
              kind: f.kind === "impossible" || f.kind === "contradiction" ? "out" : "mind",
              key: f.key + f.text,
              text: (
                <p class="no-gap">
                  {f.key && <b>{keyInWords(f.key)}: </b>}
                  <Words text={f.text} />{" "}
                  {ON_SHEET.has(f.key) && <a href={hrefOf(`car/number/${f.key}`)}>Look at it</a>}
                </p>
              ),
            }))}
          />
        </section>
      )}
      {assumed.length > 0 && (
        <details class="twin assumed">
          <summary>Assumed for now: {assumed.length} numbers</summary>
          <p>Typical for this kind of car, each with its ±. Whatever you write on the sheet takes its place.</p>
          <ul>
            {assumed.map((key) => (
              <li key={key}>
                <p class="no-gap">
                  {ON_SHEET.has(key) ? <a href={hrefOf(`car/number/${key}`)}>{keyInWords(key)}</a> : keyInWords(key)}
                </p>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

// Numbers that have a field on this sheet.
const ON_SHEET = new Set([
  ...MAIN_KEYS,
  ...(["front", "rear"] as const).flatMap((a) => rareFields(a).map((f) => f.key)),
]);

// The very place for it: the sheet that takes the readings, or the numbers on the drawing.
function waysTo(keys: readonly string[]) {
  const ways = new Map(keys.map((k) => [measuredAt(k).at, measuredAt(k)]));
  return [...ways.values()].map((w) =>
    w.at.startsWith("car/number/") ? { ...w, name: `Write it: ${keyInWords(w.at.slice("car/number/".length))}` } : w,
  );
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
