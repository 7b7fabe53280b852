// Is the car still as it was? The outings on a control chart, and a place to write one down.
import { useState } from "preact/hooks";
import { ask } from "@/api/client";
import { garage, setupInWords } from "@/api/garage";
import { arrivals, keepNow } from "@/api/keeper";
import type { Problem } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { useRoom } from "@/base/room";
import { alarmInWords, TrendChart } from "@/charts/TrendChart";
import { Footing, Problems } from "@/widgets/Problems";
import { Caution, Twin } from "@/widgets/small";
import { readOuting } from "./model";

export function Trend({ outings }: { outings: number }) {
  const [ref, room] = useRoom<HTMLDivElement>(800);
  const asked = useAsk("notebook/trend", outings > 0 ? {} : null, arrivals.value);
  const r = asked.answer?.result;
  if (outings === 0)
    return (
      <p>
        No outing is written down yet. From the second on, a chart shows whether the car still leans as it did: a failed
        link, a torn bracket or a worn bushing shows here first.
      </p>
    );
  return (
    <div ref={ref}>
      <Problems list={asked.problems} />
      {r && (
        <>
          <p class="lead" aria-live="polite">
            {r.meaning}
          </p>
          {r.is_alarmed && <Caution title="Look before the next drive">{r.hints.join(" ")}</Caution>}
          <figure>
            <TrendChart points={r.points} width={room.width} />
            <figcaption>
              Each mark is an outing with its 95 % interval. The hatched band is where it should lie if nothing changed,
              from the outings before it with the same setup. A filled triangle is an alarm; at least one such alarm
              though nothing changed has a chance of {Math.round(r.chance_of_false_alarm_percent)} % here, at most.
            </figcaption>
          </figure>
          <Twin
            caption="Outings, lean in degrees for each g"
            head={["day", "outing", "setup", "lean", "from", "to", "expected from", "to", "what sticks out"]}
            rows={r.points.map((p) => {
              const [lean, band] = [p.roll_gradient_deg_per_g, p.expected_deg_per_g];
              const two = (n: number | undefined) => (n === undefined ? "–" : n.toFixed(2));
              return [
                p.date,
                p.name,
                p.setup,
                two(lean.value),
                two(lean.low),
                two(lean.high),
                two(band?.low),
                two(band?.high),
                alarmInWords(p.alarm),
              ];
            })}
          />
          <Footing answer={asked.answer} />
        </>
      )}
    </div>
  );
}

const today = () => new Date().toISOString().slice(0, 10);

export function WriteOuting({ onKept }: { onKept: () => void }) {
  const g = garage.value.value;
  const [form, setForm] = useState({ date: today(), lean: "", pm: "", notes: "" });
  const [slip, setSlip] = useState("");
  const [said, setSaid] = useState("");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const set = (key: keyof typeof form) => (e: { currentTarget: { value: string } }) =>
    setForm({ ...form, [key]: e.currentTarget.value });
  const keep = async (e: Event) => {
    e.preventDefault();
    const read = readOuting(form);
    setSaid("");
    if (typeof read === "string") return setSlip(read);
    setSlip("");
    const outing = {
      kind: "outing/1",
      name: `${g.car?.name ?? "Outing"} ${form.date}`,
      date: form.date,
      car: g.car?.name ?? "",
      setup: g.car ? setupInWords(g.after) : "",
      roll_gradient_deg_per_g: { value: read.lean, pm: read.pm, origin: "measured" },
      notes: form.notes,
    };
    const files = [{ name: `${outing.name}.json`, text: `${JSON.stringify(outing, null, 1)}\n` }];
    const r = await ask("notebook/add", { files, as_new: true });
    setProblems(r.problems ?? []);
    if (!r.answer) return;
    setSaid(`The outing of ${form.date} is kept.`);
    setForm({ ...form, lean: "", pm: "", notes: "" });
    await keepNow();
    onKept();
  };
  return (
    <form class="outing-form" onSubmit={keep}>
      <label>
        Day
        <input type="date" value={form.date} onInput={set("date")} />
      </label>
      <label>
        Lean for each g (roll gradient), degrees
        <input inputMode="decimal" value={form.lean} onInput={set("lean")} aria-describedby="outing-slip" />
      </label>
      <label>
        ± degrees
        <input inputMode="decimal" value={form.pm} onInput={set("pm")} aria-describedby="outing-slip" />
      </label>
      <label class="wide">
        Tyres, load, weather, what you noticed
        <input value={form.notes} onInput={set("notes")} />
      </label>
      <p class="note wide">For {g.car ? `${g.car.name}, ${setupInWords(g.after)}` : "the car on the bench"}.</p>
      <p id="outing-slip" role={slip ? "alert" : undefined}>
        {slip}
      </p>
      <button type="submit">Write it down</button>
      <p class="note" aria-live="polite">
        {said}
      </p>
      <Problems list={problems} />
    </form>
  );
}
