// What the sheet keeps of the films, and the job that reads them.
import { useRef, useState } from "preact/hooks";
import { askLong } from "@/api/client";
import { forgetSent, referencesOf } from "@/api/files";
import { garage, type LogFile } from "@/api/garage";
import type { Answer, Problem, TestVideoRequestInput, TestVideoResult } from "@/api/types";
import type { Role } from "@/charts/marks";
import { fetchPicture, forget, isForgotten, sendFilm } from "./films";
import { type Marked, missing, NOTHING_MARKED, sheetOf } from "./model";

export interface FilmWork {
  film: LogFile | null;
  marked: Marked;
}
export interface FilmsWork {
  before: FilmWork;
  after: FilmWork;
  focalMm: number | null;
  trackMm: number | null;
  withLogs: boolean; // the logs of the test sheet are of the filmed runs
}
const NONE: FilmWork = { film: null, marked: NOTHING_MARKED };
const EMPTY: FilmsWork = { before: NONE, after: NONE, focalMm: null, trackMm: null, withLogs: false };

export const filmsOf = (work: Record<string, unknown>): FilmsWork => ({
  ...EMPTY,
  ...(work.films as Partial<FilmsWork> | undefined),
});
export function changeFilms(label: string, make: (old: FilmsWork) => FilmsWork) {
  garage.change(label, (g) => ({ ...g, work: { ...g.work, films: make(filmsOf(g.work)) } }));
}
export const changeFilm = (role: Role, label: string, make: (old: FilmWork) => FilmWork) =>
  changeFilms(label, (old) => ({ ...old, [role]: make(old[role]) }));

export interface Glimpse {
  film: number;
  time_s: number;
  points: number;
  url: string;
}
// The program says in the name what a glimpse shows: film, time, points held.
export function glimpseOf(name: string | undefined): Omit<Glimpse, "url"> | null {
  const m = /^glimpse-(\d+)-([\d.]+)-(\d+)\.jpg$/.exec(name ?? "");
  return m && { film: Number(m[1]), time_s: Number(m[2]), points: Number(m[3]) };
}
export interface Reading {
  isBusy: boolean;
  fraction: number;
  doing: string;
  glimpse: Glimpse | null;
  problems: readonly Problem[];
  answer: Answer<TestVideoResult> | null;
  roles: readonly Role[]; // of the films in the answer
  key: string; // of what was asked
}
const IDLE: Reading = {
  isBusy: false,
  fraction: 0,
  doing: "",
  glimpse: null,
  problems: [],
  answer: null,
  roles: [],
  key: "",
};
let lastReading: Reading = IDLE; // going to another sheet and back is free

export const keyOf = (w: FilmsWork, logs: readonly LogFile[]) => JSON.stringify([w, logs.map((l) => l.id)]);
export const readyRoles = (w: FilmsWork): Role[] =>
  (["before", "after"] as const).filter((r) => w[r].film && missing(w[r].marked).length === 0);

// The phone's logs of the same runs, where the person says that they are.
async function logsFor(
  work: FilmsWork,
  roles: readonly Role[],
): Promise<{ logs: Partial<TestVideoRequestInput> } | { problems: Problem[] }> {
  if (!work.withLogs) return { logs: {} };
  const g = garage.value.value;
  const logs: Partial<TestVideoRequestInput> = {
    phone: (g.work.phone as NonNullable<TestVideoRequestInput["phone"]> | undefined) ?? {},
  };
  for (const [i, role] of roles.entries()) {
    const found = await referencesOf(g.logs[role]);
    if ("problems" in found) return found;
    if (i === 0) logs.logs = found.files;
    else logs.logs_after = found.files;
  }
  return { logs };
}

export function useReading() {
  const [state, setState] = useState<Reading>(lastReading);
  const giveUp = useRef<AbortController | null>(null);
  const set = (next: Reading) => {
    lastReading = next;
    setState(next);
  };

  const start = async (work: FilmsWork, key: string) => {
    giveUp.current?.abort();
    const stop = new AbortController();
    giveUp.current = stop;
    const roles = readyRoles(work);
    let now: Reading = { ...IDLE, isBusy: true, doing: "sending the films", roles, key };
    set(now);
    const show = (more: Partial<Reading>) => {
      if (stop.signal.aborted) return;
      now = { ...now, ...more };
      set(now);
    };
    try {
      for (const again of [true, false]) {
        const films = [];
        for (const role of roles) {
          const reply = await sendFilm(
            work[role].film!,
            (share) => show({ fraction: share, doing: `sending ${work[role].film!.name}` }),
            stop.signal,
          );
          if (reply.problems) return show({ isBusy: false, problems: reply.problems });
          films.push(reply.film);
        }
        const extra = await logsFor(work, roles);
        if ("problems" in extra) return show({ isBusy: false, problems: extra.problems });
        const sheets = roles.map((r) => sheetOf(work[r].marked, work));
        let shown = "";
        const reply = await askLong(
          "test/video",
          { films, marks: sheets[0]!, glimpses: true, ...(sheets[1] ? { marks_after: sheets[1] } : {}), ...extra.logs },
          (job) => {
            show({ fraction: job.fraction, doing: job.doing });
            const g = glimpseOf(job.name);
            if (!g || !job.file || job.file === shown) return;
            shown = job.file;
            fetchPicture(job.file)
              .then((url) => {
                if (now.glimpse) URL.revokeObjectURL(now.glimpse.url);
                show({ glimpse: { ...g, url } });
              })
              .catch(() => {});
          },
          stop.signal,
        );
        if (reply.problems && again && isForgotten(reply.problems)) {
          for (const role of roles) forget(work[role].film!);
          forgetSent();
          continue;
        }
        if (reply.problems) return show({ isBusy: false, problems: reply.problems });
        return show({ isBusy: false, answer: reply.answer, fraction: 1 });
      }
    } catch {
      // Given up by the person: the sheet is as it was before.
    }
  };
  const cancel = () => {
    giveUp.current?.abort();
    set(IDLE);
  };
  return { state, start, cancel };
}
