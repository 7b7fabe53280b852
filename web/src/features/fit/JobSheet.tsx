// The whole job on paper, for this car and this bar: what to inspect, the order of work with its cautions, torques,
// re-checks, signatures.
import type { FitSheetResult, SheetStatement } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { sentence } from "@/base/format";
import { boltsOf, type FitState } from "./model";
import { STEPS } from "./steps";
import type { Subject } from "./subject";

export function JobSheets({ subjects, state }: { subjects: readonly Subject[]; state: FitState }) {
  if (subjects.length === 0) return <PlainSheet state={state} />;
  return (
    <>
      {subjects.map((s) => (
        <OfOneBar key={s.axle} subject={s} state={state} />
      ))}
    </>
  );
}

function OfOneBar({ subject: s, state }: { subject: Subject; state: FitState }) {
  const asked = useAsk("fit/sheet", {
    car_name: s.car.name,
    axle: s.axle,
    new_bar: s.bar.name ?? "",
    old_bar: s.oldBar,
    setting: s.setting,
    car: s.car,
    bar: s.bar,
    bolts: boltsOf(state),
    settings: [{ use: "As fitted", [`${s.axle}_bar`]: s.setting, note: "" }],
  });
  return asked.answer ? <FullSheet r={asked.answer.result} /> : <PlainSheet state={state} />;
}

function FullSheet({ r }: { r: FitSheetResult }) {
  return (
    <article class="print-only job-sheet">
      <h1>{r.title}</h1>
      <p>
        {r.car}. {r.job} {r.meaning}
      </p>
      {r.stop_first.length > 0 && (
        <>
          <h2>Settle first</h2>
          <ul>
            {r.stop_first.map((t) => (
              <li key={t}>{t}</li>
            ))}
          </ul>
        </>
      )}
      <p>
        <b>Tools:</b> {r.tools.join("; ")}.
      </p>
      <h2>Look over the parts</h2>
      <table>
        <tbody>
          {r.inspection.map((i) => (
            <tr key={i.part + i.check}>
              <td>☐ {i.part}</td>
              <td>{i.check}</td>
              <td>{i.wanted}</td>
              <td class="blank">measured: ________</td>
            </tr>
          ))}
        </tbody>
      </table>
      <h2>Order of work</h2>
      <ol>
        {r.steps.map((s) => (
          <li key={s.number}>
            <b>☐ {s.title}</b> {s.text}{" "}
            {s.caution && (
              <i>
                {s.caution_title}: {s.caution}
              </i>
            )}
          </li>
        ))}
      </ol>
      {r.links.length > 0 && (
        <>
          <h2>Links</h2>
          <ul>
            {r.links.map((l) => (
              <li key={l.side}>
                ☐ {l.side}: {l.advice}
              </li>
            ))}
          </ul>
        </>
      )}
      {r.through_travel.length > 0 && (
        <>
          <h2>Through the whole travel</h2>
          <ul>
            {r.through_travel.map((t) => (
              <li key={t}>☐ {t}</li>
            ))}
          </ul>
        </>
      )}
      {r.torques.length > 0 && (
        <>
          <h2>Torques</h2>
          <table>
            <thead>
              <tr>
                <th scope="col">fastener</th>
                <th scope="col">thread</th>
                <th scope="col">tighten to</th>
                <th scope="col">done, and again</th>
              </tr>
            </thead>
            <tbody>
              {r.torques.map((t) => (
                <tr key={t.name}>
                  <td>{t.name}</td>
                  <td>{t.thread}</td>
                  <td>
                    {sentence(t.torque_nm, undefined, "nm", "metric")} (
                    {sentence(t.torque_nm, undefined, "nm", "imperial")}){t.is_makers ? ", the maker’s" : ", computed"}
                  </td>
                  <td class="blank">☐ ______ ☐ ______</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
      <h2>Look again</h2>
      <ul>
        {r.recheck.map((c) => (
          <li key={c.when + c.what}>
            ☐ <b>{c.when}:</b> {c.what}
          </li>
        ))}
      </ul>
      <ul class="signatures">
        {r.signatures.map((t) => (
          <li key={t}>{t}: ______________________</li>
        ))}
      </ul>
      <section class="sheet-page">
        <h2>Settings card, for the glove box</h2>
        <table>
          <thead>
            <tr>
              <th scope="col">use</th>
              <th scope="col">front holes</th>
              <th scope="col">rear holes</th>
              <th scope="col">tyre pressures, cold</th>
              <th scope="col">note</th>
            </tr>
          </thead>
          <tbody>
            {r.settings_card.map((c) => (
              <tr key={c.use}>
                <td>{c.use}</td>
                <td>{c.front_bar || "________"}</td>
                <td>{c.rear_bar || "________"}</td>
                <td>{c.pressures || "________"}</td>
                <td>{c.note || "________"}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <Statements title="For the scrutineer" list={r.scrutineer} />
      <Statements title="For the insurer" list={r.insurer} />
    </article>
  );
}

function Statements({ title, list }: { title: string; list: readonly SheetStatement[] }) {
  return (
    <section class="sheet-page">
      <h2>{title}</h2>
      <table>
        <tbody>
          {list.map((s) => (
            <tr key={s.item}>
              <th scope="row">{s.item}</th>
              <td>{s.text}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

// Without a car or a bar: the steps that are the same everywhere, with boxes to tick by pencil.
function PlainSheet({ state }: { state: FitState }) {
  return (
    <article class="print-only job-sheet">
      <h1>Job sheet: an anti-roll bar</h1>
      <p>The maker’s manual and local rules win over anything here.</p>
      <ol>
        {STEPS.map((s) => (
          <li key={s.key}>
            <b>
              {state.done.includes(s.key) ? "☑" : "☐"} {s.title}
            </b>{" "}
            <i>
              {s.caution.title} {s.caution.text}
            </i>{" "}
            {s.notes.join(" ")}
            {s.key === "torque" && (
              <span class="blank"> Brackets ______ N·m. Links ______ N·m. Locknuts ______ N·m. Wheels ______ N·m.</span>
            )}
          </li>
        ))}
      </ol>
    </article>
  );
}
