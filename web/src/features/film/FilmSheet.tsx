// 'What does the film show?' Films before and after, marks on one frame of each, and the lean that is in them.
import { useState } from "preact/hooks";
import { askLong } from "@/api/client";
import { garage, type LogFile } from "@/api/garage";
import { known } from "@/api/operations";
import type { Problem } from "@/api/types";
import { MarkInText, type Role } from "@/charts/marks";
import { FileDrop } from "@/widgets/FileDrop";
import { Footing, Problems } from "@/widgets/Problems";
import { Caution } from "@/widgets/small";
import { FilmAnswer } from "./FilmAnswer";
import type { FilmLine } from "./FilmPlot";
import { knowFilm, takeFilm } from "./films";
import { bytesInWords, matchCones, NOTHING_MARKED } from "./model";
import { Picker } from "./Picker";
import { type FilmSide, SideBySide } from "./SideBySide";
import {
  changeFilm,
  changeFilms,
  type FilmsWork,
  filmsOf,
  keyOf,
  type Reading,
  readyRoles,
  useReading,
} from "./useFilms";
import "./film.css";

export function FilmSheet() {
  const g = garage.value.value;
  const work = filmsOf(g.work);
  const { state, start, cancel } = useReading();
  const [phase, setPhase] = useState<number | null>(null);
  const roles = readyRoles(work);
  const key = keyOf(work, []);
  const lines = linesOf(state);
  const sides: FilmSide[] = lines.flatMap((l) => {
    const film = work[l.role].film;
    return film && l.cones.length >= 2 ? [{ role: l.role, film, roll: l.film, cones: l.cones }] : [];
  });
  return (
    <main class="sheet">
      <div class="sheet-head">
        <h1>What does the film show?</h1>
        <p>A film of the car from behind, on a tripod, through the cones: lean without anything in the car.</p>
      </div>
      <Caution title="Nobody stands where a car can go.">
        Private ground, with permission. The camera stands on its tripod well outside the run-off, in line with the
        cones, and nobody stands by it while the car moves. Never on a public road.
      </Caution>
      <Films work={work} />
      <CarFacts work={work} />
      {(["before", "after"] as const).map(
        (role) =>
          work[role].film && (
            <details key={role + work[role].film.id} class="twin marks-of" open={!state.answer}>
              <summary>
                <MarkInText role={role} /> Marks on the film {role}
              </summary>
              <Picker
                role={role}
                film={work[role].film}
                marked={work[role].marked}
                car={work}
                onChange={(label, marked) => changeFilm(role, label, (old) => ({ ...old, marked }))}
              />
            </details>
          ),
      )}
      {g.logs.before.length + g.logs.after.length > 0 && (
        <label class="with-logs">
          <input
            type="checkbox"
            checked={work.withLogs}
            onChange={(e) => {
              const is = e.currentTarget.checked;
              changeFilms("logs with the films", (old) => ({ ...old, withLogs: is }));
            }}
          />{" "}
          The phone's logs on the test sheet are of the filmed runs: take the lateral acceleration from them
        </label>
      )}
      {(work.before.film || work.after.film) && (
        <p class="act">
          {state.isBusy ? (
            <button type="button" class="main" onClick={cancel}>
              Give up
            </button>
          ) : (
            <button type="button" class="main" disabled={roles.length === 0} onClick={() => start(work, key)}>
              Read the lean{roles.length === 2 ? " of both films" : roles[0] ? ` of the film ${roles[0]}` : ""}
            </button>
          )}
        </p>
      )}
      <Live state={state} />
      <Problems list={state.problems} title="This film gives no answer." />
      {state.answer && (
        <>
          {state.key !== key && (
            <p class="note" role="status">
              Films or marks have changed since: this is the answer to what was there before.
            </p>
          )}
          <FilmAnswer result={state.answer.result} lines={lines} at={phase === null ? null : phase + 1} />
          {sides.length === lines.length && sides.length > 0 && <SideBySide sides={sides} onPhase={setPhase} />}
          <Footing answer={{ ...state.answer, warnings: unsaid(state.answer) }} />
        </>
      )}
    </main>
  );
}

// Cones that both films have; with one film, its own.
function linesOf(state: Reading): FilmLine[] {
  const films = state.answer?.result.films ?? [];
  if (films.length === 2) {
    const cones = matchCones(films[0]!.cones, films[1]!.cones);
    return [
      { role: "before", film: films[0]!, cones: cones.before },
      { role: "after", film: films[1]!, cones: cones.after },
    ];
  }
  return films.map((film) => ({ role: state.roles[0] ?? "before", film, cones: film.cones.map((c) => c.time_s) }));
}

// What a film's own flags say already is not said twice.
const unsaid = (a: NonNullable<Reading["answer"]>) => {
  const said = new Set(a.result.films.flatMap((f) => f.flags.map((x) => x.code)));
  return a.warnings.filter((w) => !said.has(w.code));
};

function Live({ state }: { state: Reading }) {
  if (!state.isBusy) return null;
  return (
    <section class="live" aria-label="The work on the films">
      <progress max={1} value={state.fraction} aria-label="How far it is" />
      <p aria-live="polite" class="note">
        {state.doing}
        {state.glimpse ? `, ${state.glimpse.time_s.toFixed(1)} s: ${state.glimpse.points} points held` : ""}
      </p>
      {state.glimpse && (
        <img src={state.glimpse.url} alt="The newest frame, with the points that are followed on the car" />
      )}
    </section>
  );
}

function Films({ work }: { work: FilmsWork }) {
  const [busy, setBusy] = useState("");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const put = (role: Role, film: LogFile | null) =>
    changeFilm(role, film ? `film ${role}` : `without film ${role}`, () => ({ film, marked: NOTHING_MARKED }));
  const invent = async () => {
    setBusy("drawing the invented films");
    setProblems([]);
    const stop = new AbortController();
    const reply = await askLong(
      "test/film",
      {},
      (s) => setBusy(`${s.doing} (${Math.round(100 * s.fraction)} %)`),
      stop.signal,
    );
    setBusy("");
    if (reply.problems) return setProblems(reply.problems);
    const r = reply.answer.result;
    changeFilms("invented films", (old) => {
      const side = (role: Role) => ({
        film: knowFilm(`invented-${role}.mp4`, r[role].file),
        marked: {
          time_s: r[role].marks.time_s,
          wheels: "tyre_contact" as const,
          at: Object.fromEntries(r[role].marks.marks.map((m) => [m.name, m.px])),
          sd: {},
        },
      });
      return { ...old, before: side("before"), after: side("after"), trackMm: 1500, focalMm: null };
    });
  };
  return (
    <>
      <div class="halves piles films">
        {(["before", "after"] as const).map((role) => (
          <section key={role} aria-label={`Film ${role}`}>
            {work[role].film ? (
              <ul class="pile">
                <li>
                  <span>
                    <MarkInText role={role} /> {work[role].film.name}{" "}
                    {work[role].film.bytes > 0 && <span class="note">{bytesInWords(work[role].film.bytes)}</span>}
                  </span>
                  <button
                    type="button"
                    class="plain"
                    onClick={() => put(role, null)}
                    aria-label={`take away the film ${role}`}
                  >
                    take away
                  </button>
                </li>
              </ul>
            ) : (
              <FileDrop
                label={
                  <>
                    <MarkInText role={role} />
                    <span class={role}>film {role} the change</span>
                  </>
                }
                hint="Any phone's film, also HEVC, ten bits, 240 frames a second, upright or turned. It goes to the program on this machine and nowhere else."
                accept="video/*,.mp4,.mov,.m4v,.mkv,.avi"
                onFiles={async (files) => put(role, await takeFilm(files[0]!))}
              />
            )}
          </section>
        ))}
      </div>
      {!work.before.film && !work.after.film && known.value?.has("test/film") && (
        <p class="act">
          <button type="button" onClick={invent} disabled={busy !== ""}>
            Try it with two invented films
          </button>
        </p>
      )}
      <p aria-live="polite" class="note">
        {busy}
      </p>
      <Problems list={problems} />
    </>
  );
}

function CarFacts({ work }: { work: FilmsWork }) {
  const number = (text: string) => (text.trim() === "" || !Number.isFinite(Number(text)) ? null : Number(text));
  return (
    <details class="twin film-facts">
      <summary>Track width and lens, if you know them</summary>
      <div class="fact-fields">
        <label>
          Track of the marked axle, mm
          <input
            type="text"
            inputMode="decimal"
            value={work.trackMm ?? ""}
            onChange={(e) => {
              const v = number(e.currentTarget.value);
              changeFilms("track in the film", (old) => ({ ...old, trackMm: v }));
            }}
          />
        </label>
        <label>
          Lens, as for a 36 mm wide picture, mm
          <input
            type="text"
            inputMode="decimal"
            value={work.focalMm ?? ""}
            onChange={(e) => {
              const v = number(e.currentTarget.value);
              changeFilms("lens of the film", (old) => ({ ...old, focalMm: v }));
            }}
          />
        </label>
      </div>
      <p class="note">
        Without them a typical track is taken and the lens is found by the car's path, to about 5 %. Lean per lateral g
        needs the lens for its full worth; the change before and after does not. A lens of less than 30 mm is wide: keep
        the car in the middle third of the picture, or film from farther away.
      </p>
    </details>
  );
}
