// 'Is it all here, and is the car still right?' Outings over time, everything kept with its history, in and out.
import { useState } from "preact/hooks";
import { ask } from "@/api/client";
import { arrivals, keeping } from "@/api/keeper";
import type { NotebookLog, NotebookResult } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { Problems } from "@/widgets/Problems";
import { Backup } from "./Backup";
import { Documents } from "./Documents";
import { kindInWords, moment, size } from "./model";
import { Trend, WriteOuting } from "./Outings";
import { PhoneIn } from "./PhoneIn";
import "./notebook.css";

const IN_ORDER = ["car", "bar", "outing"];
const rank = (kind: string) => (IN_ORDER.includes(kindInWords(kind)) ? IN_ORDER.indexOf(kindInWords(kind)) : 9);

export function NotebookSheet() {
  const [round, setRound] = useState(0);
  const [withRemoved, setWithRemoved] = useState(false);
  const asked = useAsk("notebook/list", { removed: withRemoved }, `${round} ${arrivals.value}`);
  const r = asked.answer?.result;
  const documents = [...(r?.documents ?? [])].sort((a, b) => rank(a.kind) - rank(b.kind));
  const outings = documents.filter((d) => kindInWords(d.kind) === "outing" && !d.removed).length;
  const again = () => setRound(round + 1);
  return (
    <main class="sheet notebook">
      <h1>Is it all here, and is the car still right?</h1>
      <p class="lead" role="status">
        {keeping.value.is === "away"
          ? "The program is away; this is what the page saw last."
          : `Everything typed is in the notebook, with what stood there before.`}{" "}
        {keeping.value.file && <span class="note file-name">{keeping.value.file}</span>}
      </p>
      <Problems list={asked.problems} title="The notebook cannot be read." />
      <section aria-labelledby="trend-title">
        <h2 id="trend-title">Outings over time (control chart)</h2>
        <Trend outings={outings} />
        <details class="twin screen-only">
          <summary>Write an outing down</summary>
          <WriteOuting onKept={again} />
        </details>
      </section>
      <section aria-labelledby="kept-title">
        <h2 id="kept-title">What is kept</h2>
        {r && documents.length === 0 && <p>Nothing yet. What you enter on the other sheets appears here.</p>}
        <Documents list={documents} onChange={again} />
        <p class="screen-only">
          <button type="button" aria-pressed={withRemoved} onClick={() => setWithRemoved(!withRemoved)}>
            {withRemoved ? "Hide what was taken off the list" : "Show what was taken off the list"}
          </button>
        </p>
        {r && r.logs.length > 0 && <Logs list={r.logs} />}
        {r && r.results.length > 0 && <Results list={r.results} />}
      </section>
      <section aria-labelledby="phone-title" class="screen-only">
        <h2 id="phone-title">The phone at the car</h2>
        <PhoneIn />
      </section>
      <section aria-labelledby="backup-title" class="screen-only">
        <h2 id="backup-title">Keep a copy, join two notebooks</h2>
        <Backup onChange={again} />
      </section>
    </main>
  );
}

function Logs({ list }: { list: readonly NotebookLog[] }) {
  const [said, setSaid] = useState("");
  const fetchLog = async (log: NotebookLog) => {
    const r = await ask("notebook/show", { what: log.hash });
    setSaid(r.answer?.result.meaning ?? r.problems?.[0]?.message ?? "");
    if (!r.answer) return;
    const link = document.createElement("a");
    link.href = `./api/files/${r.answer.result.file}`;
    link.download = log.name;
    link.click();
  };
  return (
    <>
      <h3>Recordings, as they were received</h3>
      <ul class="kept-list">
        {list.map((log) => (
          <li key={log.hash + log.name + log.document} class="kept-line">
            <span>
              <b class="lettering">{log.name}</b>{" "}
              <span class="note">
                ({size(log.bytes)}, {moment(log.written)})
              </span>
            </span>
            <button
              type="button"
              class="plain screen-only"
              aria-label={`Save ${log.name}`}
              onClick={() => fetchLog(log)}
            >
              save
            </button>
          </li>
        ))}
      </ul>
      <p class="note" aria-live="polite">
        {said}
      </p>
    </>
  );
}

function Results({ list }: { list: readonly NotebookResult[] }) {
  const [open, setOpen] = useState<{ id: string; text: string } | null>(null);
  const look = async (id: string) => {
    const r = await ask("notebook/show", { what: id });
    const answer = r.answer?.result.answer;
    setOpen({ id, text: answer ? JSON.stringify(JSON.parse(answer), null, 1) : (r.problems?.[0]?.message ?? "") });
  };
  return (
    <>
      <h3>Answers that were kept</h3>
      <ul class="kept-list">
        {list.map((one) => (
          <li key={one.result}>
            <div class="kept-line">
              <span>
                <b class="lettering">{one.operation}</b>{" "}
                <span class="note">
                  ({moment(one.written)}, program {one.build})
                </span>
              </span>
              <button
                type="button"
                class="plain screen-only"
                aria-expanded={open?.id === one.result}
                onClick={() => (open?.id === one.result ? setOpen(null) : look(one.result))}
              >
                look
              </button>
            </div>
            {open?.id === one.result && (
              <div class="table-scroll" role="region" aria-label={`Answer of ${one.operation}`} tabIndex={0}>
                <pre>{open.text}</pre>
              </div>
            )}
          </li>
        ))}
      </ul>
    </>
  );
}
