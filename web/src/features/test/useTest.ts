// The proof as a job: files sent, question asked, watched, and asked again when files or choices change. With one side
// only, that side is read by itself.
import { useEffect, useState } from "preact/hooks";
import { askLong, type JobState } from "@/api/client";
import { forgetSent, referencesOf } from "@/api/files";
import type { Garage } from "@/api/garage";
import type { Answer, FurtherOutingInput, Interval, Outing, Problem, TestProveResult } from "@/api/types";
import type { TestWork } from "./choices";

export interface TestState {
  busy: string | null;
  problems: readonly Problem[];
  proof: Answer<TestProveResult> | null;
  alone: { role: "before" | "after"; meaning: string; outing: Outing } | null;
  footing: Pick<Answer<unknown>, "warnings" | "assumptions" | "sources"> | null;
}

const IDLE: TestState = { busy: null, problems: [], proof: null, alone: null, footing: null };
// Answers for files that have not changed are kept while the page is open: going to another sheet and back is free.
const remembered = new Map<string, TestState>();

export interface TestChoices extends TestWork {
  forecast: Interval | null;
}

// Nothing is asked before `isReady`: a forecast that is still being worked out would only make the question be asked twice.
export function useTest(logs: Garage["logs"], choices: TestChoices, isReady: boolean): TestState {
  const key = JSON.stringify([logs, choices]);
  const [state, setState] = useState<TestState>(remembered.get(key) ?? IDLE);

  useEffect(() => {
    const known = remembered.get(key);
    if (known) return setState(known);
    if (!isReady) return;
    if (logs.before.length + logs.after.length === 0 && choices.times.length < 2) return setState(IDLE);
    const giveUp = new AbortController();
    setState((old) => ({ ...old, busy: "sending the files", problems: [] }));
    const onProgress = (job: JobState) => {
      if (!giveUp.signal.aborted)
        setState((old) => ({ ...old, busy: `${job.doing} (${Math.round(job.fraction * 100)} %)` }));
    };
    run(logs, choices, onProgress, giveUp.signal)
      .then((done) => {
        if (giveUp.signal.aborted) return;
        if (done.problems.every((p) => p.kind !== "environment")) remembered.set(key, done);
        setState(done);
      })
      .catch(() => {});
    return () => giveUp.abort();
  }, [key, isReady]);

  return state;
}

async function run(
  logs: Garage["logs"],
  choices: TestChoices,
  onProgress: (s: JobState) => void,
  signal: AbortSignal,
  again = true,
): Promise<TestState> {
  const [before, after] = [await referencesOf(logs.before), await referencesOf(logs.after)];
  if ("problems" in before) return { ...IDLE, problems: before.problems };
  if ("problems" in after) return { ...IDLE, problems: after.problems };
  const further: FurtherOutingInput[] = [];
  for (const f of choices.further) {
    if (f.files.length === 0) continue;
    const sent = await referencesOf(f.files);
    if ("problems" in sent) return { ...IDLE, problems: sent.problems };
    further.push({ name: f.name, side: f.side, bars_unhooked: f.unhooked, files: sent.files });
  }
  const hasLogs = before.files.length + after.files.length > 0;
  const isBoth = (before.files.length > 0 && after.files.length > 0) || (!hasLogs && choices.times.length > 0);
  const role = before.files.length > 0 ? "before" : "after";
  const retry = (problems: readonly Problem[]) => {
    // A program that was started anew has forgotten the files: send them once more.
    if (!again || !problems.some((p) => /file/.test(p.code) && /unknown|no_such|not_found|missing/.test(p.code)))
      return null;
    forgetSent();
    return run(logs, choices, onProgress, signal, false);
  };
  if (!isBoth) {
    const files = role === "before" ? before.files : after.files;
    const reply = await askLong(
      "test/log",
      {
        files,
        phone: choices.phone,
        columns: choices.columns,
        left_out: choices.leftOut[role],
        marked: choices.marked[role],
        traces: true,
      },
      onProgress,
      signal,
    );
    if (reply.problems) return (await retry(reply.problems)) ?? { ...IDLE, problems: reply.problems };
    const { meaning, outing } = reply.answer.result;
    return { ...IDLE, alone: { role, meaning, outing }, footing: reply.answer };
  }
  const reply = await askLong(
    "test/prove",
    {
      before: before.files,
      after: after.files,
      further: hasLogs ? further : [],
      order: choices.order,
      times: choices.times,
      phone: choices.phone,
      columns: choices.columns,
      practical_change_percent: choices.practicalPercent,
      marked_before: choices.marked.before,
      marked_after: choices.marked.after,
      left_out_before: choices.leftOut.before,
      left_out_after: choices.leftOut.after,
      forecast_change_percent: choices.forecast,
      traces: true,
    },
    onProgress,
    signal,
  );
  if (reply.problems) return (await retry(reply.problems)) ?? { ...IDLE, problems: reply.problems };
  return { ...IDLE, proof: reply.answer, footing: reply.answer };
}
