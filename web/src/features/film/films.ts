// Sending films and fetching pictures of them. A film may be gigabytes: it goes out as it lies on the disk, with a count
// of what has gone, and is kept in the browser's store only while it is small.
import { askLong, type JobState } from "@/api/client";
import type { LogFile } from "@/api/garage";
import type { FileReference, Problem } from "@/api/types";
import { findBlob, keepBlob, newId } from "@/base/blobs";

const KEPT_BYTES = 400e6;
const sent = new Map<string, FileReference>();
const open = new Map<string, Blob>();

export async function takeFilm(file: File): Promise<LogFile> {
  const id = newId();
  open.set(id, file);
  if (file.size <= KEPT_BYTES) await keepBlob(id, file);
  return { id, name: file.name, bytes: file.size };
}

// The invented film is on the program's side already.
export function knowFilm(name: string, file: string): LogFile {
  const id = newId();
  sent.set(id, { file, name });
  return { id, name, bytes: 0 };
}

export type Sent = { film: FileReference; problems?: undefined } | { film?: undefined; problems: Problem[] };

export async function sendFilm(film: LogFile, onShare: (share: number) => void, signal: AbortSignal): Promise<Sent> {
  const known = sent.get(film.id);
  if (known) return { film: known };
  const blob = open.get(film.id) ?? (await findBlob(film.id));
  if (!blob)
    return {
      problems: [
        problem("file_lost", `The browser no longer has the bytes of ‘${film.name}’.`, "Choose the film again."),
      ],
    };
  return new Promise((done, failed) => {
    const request = new XMLHttpRequest();
    request.open("POST", `./api/files?name=${encodeURIComponent(film.name)}`);
    request.setRequestHeader("Content-Type", "application/octet-stream");
    request.upload.onprogress = (e) => e.lengthComputable && onShare(e.loaded / e.total);
    request.onload = () => {
      try {
        const reply = JSON.parse(request.responseText) as { file?: string; problems?: Problem[] };
        if (!reply.file) return done({ problems: reply.problems ?? [problem("not_kept", "The film was not taken.")] });
        const reference = { file: reply.file, name: film.name };
        sent.set(film.id, reference);
        done({ film: reference });
      } catch {
        done({ problems: [problem("unreadable", "The program gave an answer that cannot be read.")] });
      }
    };
    request.onerror = () =>
      done({
        problems: [problem("unreachable", "The program does not answer.", "Start it again with ‘rollwright serve’.")],
      });
    request.onabort = () => failed(signal.reason);
    signal.addEventListener("abort", () => request.abort(), { once: true });
    request.send(blob);
  });
}

// A program that was started anew has forgotten what it was sent.
export const isForgotten = (problems: readonly Problem[]) =>
  problems.some((p) => /file/.test(p.code) && /unknown|no_such|not_found|missing/.test(p.code));
export const forget = (film: LogFile) => {
  sent.delete(film.id);
};

const problem = (code: string, message: string, hint = ""): Problem => ({
  kind: "environment",
  code,
  where: "",
  message,
  allowed: "",
  hint,
});

export async function fetchPicture(file: string): Promise<string> {
  const response = await fetch(`./api/files/${file}`);
  if (!response.ok) throw new Error(`picture ${response.status}`);
  return URL.createObjectURL(new Blob([await response.arrayBuffer()], { type: "image/jpeg" }));
}

export interface Shot {
  time_s: number;
  url: string;
}
export interface Strip {
  width: number; // of the film
  height: number;
  duration: number;
  rate: number;
  coding: string;
  turned: number;
  shots: Shot[];
}
export type StripReply = { strip: Strip; problems?: undefined } | { strip?: undefined; problems: Problem[] };

export async function fetchStrip(
  film: LogFile,
  times: readonly number[],
  width: number,
  onProgress: (s: JobState) => void,
  signal: AbortSignal,
  again = true,
): Promise<StripReply> {
  const ready = await sendFilm(film, (share) => onProgress({ fraction: share, doing: `sending ${film.name}` }), signal);
  if (ready.problems) return { problems: ready.problems };
  const reply = await askLong(
    "test/frame",
    { film: ready.film, times_s: [...times], width_px: width },
    onProgress,
    signal,
  );
  if (reply.problems) {
    if (again && isForgotten(reply.problems)) {
      forget(film);
      return fetchStrip(film, times, width, onProgress, signal, false);
    }
    return { problems: reply.problems };
  }
  const r = reply.answer.result;
  const shots = await Promise.all(r.pictures.map(async (p) => ({ time_s: p.time_s, url: await fetchPicture(p.file) })));
  return {
    strip: {
      width: r.width_px,
      height: r.height_px,
      duration: r.duration_s,
      rate: r.frame_rate_hz,
      coding: r.coding,
      turned: r.turned_deg,
      shots,
    },
  };
}
