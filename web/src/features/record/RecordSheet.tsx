// The phone as the recorder: lies in the car, hears every movement, and gives it to the notebook afterwards.
import { useEffect, useState } from "preact/hooks";
import { garage, type LogFile } from "@/api/garage";
import { keepFile } from "@/api/keeper";
import { hrefOf } from "@/base/route";
import { Caution, Flags, Ring, Tick } from "@/widgets/small";
import { fileOf, forget, type Kept, recordings } from "./buffer";
import { LIES, type Lies, lengthInWords, whyNot } from "./model";
import { type Heard, mayListen, type Recording, record } from "./recorder";
import "./record.css";

type Role = "before" | "after";

export function RecordSheet() {
  const lies = (garage.value.value.work.phoneLies as Lies | undefined) ?? null;
  const [running, setRunning] = useState<Recording | null>(null);
  const [heard, setHeard] = useState<Heard | null>(null);
  const [refused, setRefused] = useState<string | null>(null);
  const [round, setRound] = useState(0);
  const why = whyNot({ isSecureContext: globalThis.isSecureContext, hasMotion: "DeviceMotionEvent" in globalThis });
  const start = async () => {
    if (!(await mayListen()))
      return setRefused(
        "The browser was told not to give motion to this page. Allow it in the browser’s settings for this address, then load the page again.",
      );
    setRefused(null);
    setHeard(null);
    setRunning(await record(lies!, setHeard));
  };
  const stop = async () => {
    await running?.stop();
    setRunning(null);
    setRound(round + 1);
  };
  return (
    <main class="sheet recorder">
      <h1>Record with this phone</h1>
      <Caution title="Nobody handles the phone while the car moves">
        Start it, put it in its place, then drive; stop it when the car stands. Only on closed private ground, with
        permission, never on a public road.
      </Caution>
      {why ? (
        <Otherwise why={why} />
      ) : (
        <>
          <Ring<Lies>
            legend="How does the phone lie in the car?"
            showLegend
            choices={LIES}
            value={lies as Lies}
            onChange={(v) => garage.change("how the phone lies", (g) => ({ ...g, work: { ...g.work, phoneLies: v } }))}
          />
          <p class="note">
            Tape it or wedge it to the floor, near the middle of the car; a holder on the screen swings. Which way it
            points does not matter, as long as it never shifts. Stand still for ten seconds before and after each run.
          </p>
          {running ? (
            <Tick onClick={stop}>Stop</Tick>
          ) : (
            <Tick onClick={start} disabled={lies === null}>
              {lies === null ? "First say how it lies" : "Record"}
            </Tick>
          )}
          {refused && <p role="alert">{refused}</p>}
          {running && <Live heard={heard} />}
        </>
      )}
      <Waiting round={round} isRunning={running !== null} />
    </main>
  );
}

function Live({ heard: h }: { heard: Heard | null }) {
  if (!h || h.samples === 0)
    return (
      <p role="status">
        {h && !h.isLyingAsSaid
          ? "Waiting until the phone lies as you said."
          : (h?.trouble ??
            "Listening for the first movement. If nothing comes within a few seconds, this browser gives none.")}
      </p>
    );
  return (
    <div class="live">
      <p>
        <span class="num hero">{lengthInWords(h.seconds)}</span> <span class="note">minutes</span>
      </p>
      <Flags
        list={[
          {
            key: "rate",
            kind: h.perSecond >= 40 ? "good" : "mind",
            text: `${h.perSecond} samples a second${h.perSecond >= 40 ? "" : "; fewer than 40 blur the quick changes"}.`,
          },
          {
            key: "awake",
            kind: h.isAwake ? "good" : "mind",
            text: h.isAwake
              ? "The screen stays on."
              : "The screen may switch off and end the recording: set it to stay on in the phone’s settings.",
          },
          {
            key: "place",
            kind: h.fixes > 0 ? "good" : "mind",
            text:
              h.fixes > 0
                ? `Speed from satellites, within ${Math.round(h.accuracy ?? 0)} m.`
                : "No speed from satellites yet. Lean can be found without it; true cornering force is better with it.",
          },
          ...(h.trouble ? [{ key: "trouble", kind: "mind" as const, text: h.trouble }] : []),
        ]}
      />
    </div>
  );
}

function Otherwise({ why }: { why: string }) {
  return (
    <section>
      <h2>Not with this browser</h2>
      <p>{why}</p>
      <p>
        Any program on the phone that writes acceleration with gravity and turning rate (gyroscope) at 50 samples a
        second or more into a table will do: one row a sample, a heading that names each column and its unit. Send the
        file to this machine and drop it on the <a href={hrefOf("test")}>test sheet</a>.
      </p>
    </section>
  );
}

// Recordings that are on this phone still, and those just sent, to say what they are of.
function Waiting({ round, isRunning }: { round: number; isRunning: boolean }) {
  const [list, setList] = useState<readonly Kept[]>([]);
  const [sent, setSent] = useState<readonly LogFile[]>([]);
  const [said, setSaid] = useState("");
  const send = async () => {
    if (isRunning) return;
    let waiting: Kept[] = [];
    try {
      waiting = await recordings();
      setList(waiting);
      for (const one of waiting.filter((r) => r.seconds > 0)) {
        const file = await fileOf(one);
        const hash = await keepFile(file, one.name);
        await forget(one.id);
        setSent((old) => [...old, { id: one.id, name: one.name, bytes: file.size, hash }]);
        setSaid(`${one.name} is in the notebook.`);
      }
      for (const one of waiting.filter((r) => r.seconds <= 0)) await forget(one.id);
      setList(await recordings());
    } catch {
      setSaid("It stays on this phone until the program answers, and is sent then.");
    }
  };
  useEffect(() => {
    void send();
    addEventListener("online", send);
    const often = setInterval(send, 5000);
    return () => {
      removeEventListener("online", send);
      clearInterval(often);
    };
  }, [round, isRunning]);
  const use = (log: LogFile, role: Role) => {
    garage.change(`a recording ${role}`, (g) => ({ ...g, logs: { ...g.logs, [role]: [...g.logs[role], log] } }));
    setSent((old) => old.filter((l) => l.id !== log.id));
    setSaid(`${log.name} is a recording ${role} the change. The test sheet works it out.`);
  };
  return (
    <section class="waiting">
      <p role="status">{said}</p>
      <ul class="pile">
        {list.map((r) => (
          <li key={r.id}>
            {r.name}, {lengthInWords(r.seconds)} minutes, waiting on this phone
          </li>
        ))}
        {sent.map((log) => (
          <li key={log.id}>
            <span>{log.name}</span>
            <button type="button" onClick={() => use(log, "before")}>
              before the change
            </button>
            <button type="button" onClick={() => use(log, "after")}>
              after it
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
