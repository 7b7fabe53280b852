// From the program's reading of the logs to what the sheet shows: marks of the plot, runs, flags, the headline.
import type { Flag, Outing, Pass, TestProveResult } from "@/api/types";
import type { LeanPoint } from "@/charts/LeanPlot";
import type { Role } from "@/charts/marks";
import type { FoundPass } from "@/charts/RollTrace";
import type { FlagKind } from "@/widgets/small";

// ---------------------------------------------------------------- runs
export interface Run {
  role: Role;
  n: number; // from 1, as people count
  pass: Pass;
}

export const runsOf = (role: Role, outing: Outing | null): Run[] =>
  (outing?.passes ?? []).map((pass, i) => ({ role, n: i + 1, pass }));

export interface Stretch {
  from_s: number;
  to_s: number;
}
export const stretchOf = (pass: Pass): Stretch => ({ from_s: pass.begin_s, to_s: pass.end_s });

// Whether the person took this run out: by its stretch, since runs get new numbers when one is gone.
export const isTakenOut = (pass: Pass, out: readonly Stretch[]): boolean =>
  out.some((s) => s.from_s < pass.end_s && pass.begin_s < s.to_s);

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
  const less = (r.change_percent?.value ?? r.difference_deg_per_g?.value ?? 0) < 0;
  const lean = less ? "It leans less." : "It leans more.";
  return r.is_practical ? `${lean} Sure of it.` : `${lean} Sure, but little.`;
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
