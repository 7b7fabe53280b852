// Asks the program. One function for every operation, typed by what the program says of itself (types.ts).
// A refusal is a value, not an exception: the page explains it in place.
import type { Answer, Operations, Problem } from "./types";

export type OperationId = keyof Operations;
export type RequestOf<K extends OperationId> = Operations[K] extends { request: infer R } ? R : never;
export type ResultOf<K extends OperationId> = Operations[K] extends { result: infer R } ? R : never;
export type Reply<R> = { answer: Answer<R>; problems?: undefined } | { answer?: undefined; problems: Problem[] };

const UNREACHABLE: Problem = {
  kind: "environment",
  code: "unreachable",
  where: "",
  message: "The program does not answer.",
  allowed: "",
  hint: "Start it again with ‘rollwright serve’. What you entered is kept in this browser.",
};

async function readReply<R>(response: Response): Promise<Reply<R>> {
  let body: unknown;
  try {
    body = await response.json();
  } catch {
    return {
      problems: [{ ...UNREACHABLE, code: "unreadable", message: "The program gave an answer that cannot be read." }],
    };
  }
  if (response.ok) return { answer: body as Answer<R> };
  const problems = (body as { problems?: Problem[] }).problems;
  return { problems: problems?.length ? problems : [{ ...UNREACHABLE, code: `status_${response.status}` }] };
}

export async function ask<K extends OperationId>(
  operation: K,
  request: RequestOf<K>,
  signal?: AbortSignal,
): Promise<Reply<ResultOf<K>>> {
  try {
    const response = await fetch(`./api/${operation}`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(request),
      signal: signal ?? null,
    });
    return await readReply<ResultOf<K>>(response);
  } catch (error) {
    if (signal?.aborted) throw error;
    return { problems: [UNREACHABLE] };
  }
}

export interface JobState {
  fraction: number;
  doing: string;
  file?: string; // the newest that the operation put out on its way
  name?: string;
}

// Long questions run as jobs: started, watched, and given up when the signal says so.
export async function askLong<K extends OperationId>(
  operation: K,
  request: RequestOf<K>,
  onProgress: (state: JobState) => void,
  signal: AbortSignal,
  wait: (ms: number) => Promise<void> = (ms) => new Promise((r) => setTimeout(r, ms)),
): Promise<Reply<ResultOf<K>>> {
  const headers = { "Content-Type": "application/json" };
  try {
    const started = await fetch(`./api/jobs/${operation}`, { method: "POST", headers, body: JSON.stringify(request) });
    if (!started.ok) return await readReply<ResultOf<K>>(started);
    const { job } = (await started.json()) as { job: string };
    for (let pause = 60; ; pause = Math.min(600, pause * 1.4)) {
      if (signal.aborted) {
        await fetch(`./api/jobs/${job}`, { method: "DELETE", headers });
        signal.throwIfAborted();
      }
      const look = await fetch(`./api/jobs/${job}`);
      if (!look.ok) return await readReply<ResultOf<K>>(look);
      const state = (await look.json()) as JobState & { state: string; status?: number; answer?: unknown };
      if (state.state !== "running") {
        const status = state.status ?? 500;
        return await readReply<ResultOf<K>>(new Response(JSON.stringify(state.answer ?? {}), { status }));
      }
      onProgress(state);
      await wait(pause);
    }
  } catch (error) {
    if (signal.aborted) throw error;
    return { problems: [UNREACHABLE] };
  }
}

export interface Uploaded {
  file: string;
  name: string;
  bytes: number;
}

export async function upload(file: Blob, name: string): Promise<{ file: Uploaded } | { problems: Problem[] }> {
  try {
    const response = await fetch(`./api/files?name=${encodeURIComponent(name)}`, {
      method: "POST",
      headers: { "Content-Type": "application/octet-stream" },
      body: file,
    });
    if (response.ok) return { file: (await response.json()) as Uploaded };
    const reply = await readReply<never>(response);
    return { problems: reply.problems ?? [UNREACHABLE] };
  } catch {
    return { problems: [UNREACHABLE] };
  }
}
