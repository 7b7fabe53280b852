// Turns of a link from the gap at its eye.

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
}

export const FRESH: FitState = {
  at: 0,
  done: [],
  pitch: 1.25,
  isBothHands: true,
  gap: { left: 0, right: 0 },
  turned: { left: 0, right: 0 },
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
