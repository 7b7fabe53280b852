// The verdict as a job, with the recordings of the test sheet and the bill of this one.
import { useEffect, useState } from "preact/hooks";
import { askLong } from "@/api/client";
import { referencesOf } from "@/api/files";
import type { Garage } from "@/api/garage";
import { barsFor, carFor, setupOf } from "@/api/setups";
import type {
  AlternativeInput,
  Answer,
  CostSheetInput,
  FeelRatingInput,
  PhonePlaceInput,
  Problem,
  VerdictResult,
} from "@/api/types";

export interface VerdictState {
  busy: string | null;
  problems: readonly Problem[];
  answer: Answer<VerdictResult> | null;
}

const IDLE: VerdictState = { busy: null, problems: [], answer: null };
const remembered = new Map<string, VerdictState>();

export interface VerdictWords {
  cost: CostSheetInput;
  feel: FeelRatingInput[];
  wanted: number; // %, negative for less lean
  alternatives: AlternativeInput[];
}

const FEEL: readonly string[] = ["lean", "turn_in", "balance", "grip", "comfort", "confidence"];

export const verdictWords = (g: Garage): VerdictWords => ({
  cost: (g.work.cost as CostSheetInput | undefined) ?? {
    currency: "€",
    parts: [],
    work_h: 0,
    worth_of_an_hour_money: 0,
  },
  // A rating of an older page was of a question in free words; it cannot be held against anything any more.
  feel: ((g.work.feel as FeelRatingInput[] | undefined) ?? []).filter((f) => FEEL.includes(f.what)),
  alternatives: (g.work.alternatives as AlternativeInput[] | undefined) ?? [],
  wanted: (g.work.wanted as number | undefined) ?? -10,
});

export function useVerdict(g: Garage, isWanted: boolean): VerdictState {
  const words = verdictWords(g);
  const key = isWanted
    ? JSON.stringify([g.car, barsFor(g, [g.before, g.after]), g.before, g.after, g.logs, g.work.phone, words])
    : "";
  const [state, setState] = useState<VerdictState>(remembered.get(key) ?? IDLE);
  useEffect(() => {
    if (!key) return setState(IDLE);
    const known = remembered.get(key);
    if (known) return setState(known);
    const giveUp = new AbortController();
    setState((old) => ({ ...old, busy: "weighing it up", problems: [] }));
    run(g, words, (busy) => !giveUp.signal.aborted && setState((old) => ({ ...old, busy })), giveUp.signal)
      .then((done) => {
        if (giveUp.signal.aborted) return;
        if (done.problems.every((p) => p.kind !== "environment")) remembered.set(key, done);
        setState(done);
      })
      .catch(() => {});
    return () => giveUp.abort();
  }, [key]);
  return state;
}

async function run(
  g: Garage,
  words: VerdictWords,
  onBusy: (text: string) => void,
  signal: AbortSignal,
): Promise<VerdictState> {
  const [before, after] = [await referencesOf(g.logs.before), await referencesOf(g.logs.after)];
  if ("problems" in before) return { ...IDLE, problems: before.problems };
  if ("problems" in after) return { ...IDLE, problems: after.problems };
  const isBoth = before.files.length > 0 && after.files.length > 0;
  const reply = await askLong(
    "verdict/make",
    {
      car: carFor(g)!,
      bars: barsFor(g, [g.before, g.after]),
      before_setup: setupOf(g.before),
      after_setup: setupOf(g.after),
      before: isBoth ? before.files : [],
      after: isBoth ? after.files : [],
      phone: (g.work.phone as PhonePlaceInput | undefined) ?? {},
      cost: words.cost,
      feel: words.feel,
      alternatives: words.alternatives,
      wanted_change_percent: words.wanted,
    },
    (s) => onBusy(s.doing),
    signal,
  );
  return reply.problems ? { ...IDLE, problems: reply.problems } : { ...IDLE, answer: reply.answer };
}
