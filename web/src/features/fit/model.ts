// Turns of a link from the gap at its eye; fasteners and re-checks as far as they are done.
import type { FitBoltInput } from "@/api/types";

export interface Thread {
  pitch: number; // mm
  isBothHands: boolean; // left- and right-hand ends: one turn moves both
}

export const perTurn = (t: Thread) => t.pitch * (t.isBothHands ? 2 : 1);

export interface Turning {
  half: number; // half turns, positive longer
  leftOver: number; // mm that no half turn can take up, positive still short
}

// A rod end is turned by half turns only when its eye must face the same way again; a link with two threads stops
// anywhere, but half turns are what a hand counts.
export function turnsFor(gap: number, t: Thread): Turning {
  const step = perTurn(t) / 2;
  if (!(step > 0) || !Number.isFinite(gap)) return { half: 0, leftOver: 0 };
  const half = Math.round(gap / step);
  return { half, leftOver: gap - half * step };
}

export interface FitState {
  at: number; // step shown
  done: string[]; // keys of ticked steps
  pitch: number;
  isBothHands: boolean;
  gap: { left: number; right: number }; // mm, positive when the link is too short
  turned: { left: number; right: number }; // half turns done
  bolts: Record<string, BoltState>; // by the name of the fastener
  fitted: string | null; // the day it was finished, "2026-05-01"
  seenAgain: string[]; // which of the re-checks were done
}

// A fastener as the person knows it, and whether it is tight.
export interface BoltState {
  thread?: string;
  grade?: "8.8" | "10.9" | "12.9";
  maker?: number; // N·m, the maker's figure
  isTight?: boolean;
}

// In the order in which they are tightened (common practice, no source).
export const FASTENERS = ["Brackets", "Links to the bar", "Links to the arm", "Locknuts", "Wheels"] as const;

// What the program is asked: the fasteners whose thread is known.
export const boltsOf = (s: Pick<FitState, "bolts">): FitBoltInput[] =>
  FASTENERS.flatMap((name) => {
    const b = s.bolts[name];
    if (!b?.thread) return [];
    return [
      {
        name,
        thread: b.thread,
        grade: b.grade ?? "8.8",
        prevailing_nut: name.startsWith("Links"),
        ...(b.maker ? { maker_torque_nm: b.maker } : {}),
      },
    ];
  });

// The re-checks that are still to do, and since how many days the parts are in.
export function daysSince(fitted: string | null, today: Date): number | null {
  const then = fitted ? Date.parse(`${fitted}T00:00:00`) : Number.NaN;
  if (Number.isNaN(then)) return null;
  return Math.max(0, Math.floor((today.getTime() - then) / 86_400_000));
}

export const FRESH: FitState = {
  at: 0,
  done: [],
  pitch: 1.25,
  isBothHands: true,
  gap: { left: 0, right: 0 },
  turned: { left: 0, right: 0 },
  bolts: {},
  fitted: null,
  seenAgain: [],
};

export function tick(s: FitState, key: string, count: number): FitState {
  const done = s.done.includes(key) ? s.done : [...s.done, key];
  return { ...s, done, at: Math.min(count - 1, s.at + 1) };
}

// The link as the program wants it. Its length now does not change what a gap costs; a usual one stands in.
const USUAL_LENGTH = 200; // mm, invented
const THREADS: Record<string, string> = { "1": "M8x1", "1.25": "M8x1.25", "1.5": "M10x1.5", "1.75": "M12x1.75" };

export function linkOf(s: Pick<FitState, "pitch" | "isBothHands">) {
  const thread = THREADS[String(s.pitch)] ?? "M10x1.5";
  return {
    length_now_mm: USUAL_LENGTH,
    end_a: { thread },
    ...(s.isBothHands ? { end_b: { thread, left_hand: true } } : {}),
  };
}
