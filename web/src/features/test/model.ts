// From the program's reading of the logs to what the sheet shows: marks of the plot, runs, flags, the headline.
import type { Flag, Outing, Pass, TestProveResult } from "@/api/types";
import type { LeanPoint } from "@/charts/LeanPlot";
import type { Role } from "@/charts/marks";
import type { FoundPass } from "@/charts/RollTrace";
import type { FlagKind } from "@/widgets/small";
import { type Stretch, touches } from "./choices";

// ---------------------------------------------------------------- runs
export interface Run {
  role: Role;
  n: number; // from 1, as people count
  pass: Pass;
}

export const runsOf = (role: Role, outing: Outing | null): Run[] =>
  (outing?.passes ?? []).map((pass, i) => ({ role, n: i + 1, pass }));

export const stretchOf = (pass: Pass): Stretch => ({
  recording: pass.recording,
  from_s: pass.begin_s,
  to_s: pass.end_s,
});

// Whether the person took this run out: by its stretch, since runs get new numbers when one is gone.
export const isTakenOut = (pass: Pass, out: readonly Stretch[]): boolean =>
  out.some((s) => touches(s, stretchOf(pass)));

// ---------------------------------------------------------------- marks of the plot
// One mark per cone, where the program found its strongest moment.
export function marksOf(role: Role, outing: Outing | null): LeanPoint[] {
  return (outing?.passes ?? []).flatMap((p) =>
    p.cones.map((c) => ({ role, g: c.lateral_g, leanDeg: c.roll_deg, isLeftOut: !p.is_used })),
  );
}

// Passes side by side on one time line, with a short rest between, as the recording itself may be an hour.
export function stripOf(outing: Outing | null): { trace: { time: number[]; rollDeg: number[] }; passes: FoundPass[] } {
  const time: number[] = [];
  const rollDeg: number[] = [];
  const passes: FoundPass[] = [];
  let at = 0;
  for (const t of outing?.traces ?? []) {
    const from = at;
    for (const v of t.roll_deg) {
      time.push(at);
      rollDeg.push(v);
      at += t.step_s;
    }
    passes.push({ id: String(t.pass), from, to: at, isLeftOut: outing!.passes[t.pass]?.is_used === false });
    time.push(at, at + 1.5);
    rollDeg.push(0, 0);
    at += 1.5;
  }
  return { trace: { time, rollDeg }, passes };
}

// ---------------------------------------------------------------- words
export function headline(r: TestProveResult): string {
  if (r.answer === "cannot_tell") return "Cannot tell from these drives.";
  if (r.answer === "no_change") return "No change that you could notice.";
  if (r.before === null) {
    const m = r.measures[0];
    const faster = (m?.change_percent?.value ?? 0) < 0;
    return `${faster ? "Faster" : "Slower"} by the stopwatch. ${r.is_practical ? "Sure of it." : "Sure, but little."}`;
  }
  const less = (r.change_percent?.value ?? r.difference_deg_per_g?.value ?? 0) < 0;
  const lean = less ? "It leans less." : "It leans more.";
  return r.is_practical ? `${lean} Sure of it.` : `${lean} Sure, but little.`;
}

// "No change larger than this": the sentence that a null result deserves.
export function equivalence(r: TestProveResult, practical: number): string | null {
  const bound = r.no_change_larger_than_percent;
  if (bound === null || r.answer === "changed") return null;
  const size = `${bound < 10 ? bound.toFixed(1) : bound.toFixed(0)} %`;
  return bound <= practical
    ? `A change larger than ${size} is ruled out, and you would not notice less than ${practical} %.`
    : `A change up to ${size} may still be there; you would notice ${practical} %. More runs would narrow it.`;
}

// "1:02.4" or "32,41" in seconds; nothing where it is neither.
export function secondsOf(text: string): number | null {
  const m = /^\s*(?:(\d+):)?(\d{1,4}(?:[.,]\d+)?)\s*s?\s*$/.exec(text);
  if (!m) return null;
  const seconds = Number(m[2]!.replace(",", "."));
  if (m[1] !== undefined && seconds >= 60) return null;
  const all = 60 * Number(m[1] ?? 0) + seconds;
  return all >= 1 && all <= 3600 ? all : null;
}

export interface SaidFlag {
  key: string;
  kind: FlagKind;
  text: string;
}

// What the comparison says comes first; what both recordings have in common is said once.
export function flagList(proof: readonly Flag[], before: Outing | null, after: Outing | null): SaidFlag[] {
  const said = new Set(proof.map((f) => f.code));
  const rest = (o: Outing | null) => (o?.flags ?? []).filter((f) => !said.has(f.code));
  const [b, a] = [rest(before), rest(after)];
  const shared = (f: Flag, others: readonly Flag[]) => others.some((o) => o.code === f.code && o.text === f.text);
  const list = (where: string, flags: readonly Flag[]) =>
    flags.map(
      (f): SaidFlag => ({
        key: where + f.code,
        kind: f.is_serious ? "out" : "mind",
        text: capital(where ? `${where}: ${f.text}` : f.text),
      }),
    );
  const all = [
    ...list("", proof),
    ...list(
      "before and after",
      b.filter((f) => shared(f, a)),
    ),
    ...list(
      "before",
      b.filter((f) => !shared(f, a)),
    ),
    ...list(
      "after",
      a.filter((f) => !shared(f, b)),
    ),
  ];
  return all.length > 0 ? all : [{ key: "clean", kind: "good", text: "Nothing spoiled the recordings." }];
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
