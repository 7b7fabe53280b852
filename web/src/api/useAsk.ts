// A question that follows its request: asked again when the request changes, older answers dropped, the last good
// answer kept on the sheet meanwhile. Answers are remembered, so that going back to a hole is immediate. What answers
// from the notebook is asked anew when `stamp` changes.
import { useEffect, useRef, useState } from "preact/hooks";
import { ask, type OperationId, type Reply, type RequestOf, type ResultOf } from "./client";
import type { Answer, Problem } from "./types";

const REMEMBERED = 200;
const memory = new Map<string, Reply<unknown>>();

function remember(key: string, reply: Reply<unknown>) {
  memory.delete(key);
  memory.set(key, reply);
  if (memory.size > REMEMBERED) memory.delete(memory.keys().next().value!);
}

export interface Asked<R> {
  answer: Answer<R> | null; // the newest good one
  problems: readonly Problem[]; // of the newest question
  isAsking: boolean;
}

export function useAsk<K extends OperationId>(
  operation: K,
  request: RequestOf<K> | null,
  stamp: string | number = "",
): Asked<ResultOf<K>> {
  const key = request === null ? "" : `${operation} ${JSON.stringify(request)} ${stamp}`;
  const last = useRef<Answer<ResultOf<K>> | null>(null);
  const failed = useRef<{ key: string; problems: Problem[] } | null>(null);
  const [, redraw] = useState(0);
  const known = key ? (memory.get(key) as Reply<ResultOf<K>> | undefined) : undefined;
  if (known?.answer) last.current = known.answer;
  if (request === null) last.current = null;

  useEffect(() => {
    if (!key || request === null || memory.has(key)) return;
    const giveUp = new AbortController();
    ask(operation, request, giveUp.signal)
      .then((reply) => {
        if (giveUp.signal.aborted) return;
        // What failed for want of the program is asked again next time.
        if (reply.answer || reply.problems.every((p) => p.kind !== "environment")) remember(key, reply);
        else memory.delete(key);
        failed.current = reply.problems ? { key, problems: reply.problems } : null;
        redraw((n) => n + 1);
      })
      .catch(() => {});
    return () => giveUp.abort();
  }, [key]);

  const problems = known?.problems ?? (failed.current?.key === key ? failed.current.problems : []);
  return { answer: last.current, problems, isAsking: key !== "" && !known && problems.length === 0 };
}
