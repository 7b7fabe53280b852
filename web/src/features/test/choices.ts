// What the person has told the sheet about the test, kept in the garage's work so that undo knows it.
import { type Garage, garage, type LogFile } from "@/api/garage";
import type { ColumnCorrectionInput, PhonePlaceInput, StopwatchRunInput } from "@/api/types";
import type { Role } from "@/charts/marks";

export interface Stretch {
  recording?: number; // 0 where it is not said
  from_s: number;
  to_s: number;
}
export type BySide = { before: Stretch[]; after: Stretch[] };

// Another day, or runs with both bars unhooked; its bytes are kept as those of any log.
export interface FurtherOuting {
  id: string;
  name: string;
  side: Role;
  unhooked: boolean;
  files: LogFile[];
}

export interface TestWork {
  phone: PhonePlaceInput;
  leftOut: BySide;
  marked: BySide;
  columns: ColumnCorrectionInput[];
  times: StopwatchRunInput[];
  further: FurtherOuting[];
  order: string;
  practicalPercent: number;
}

const NONE: BySide = { before: [], after: [] };

export function testWork(g: Garage): TestWork {
  const w = g.work as Partial<TestWork>;
  return {
    phone: w.phone ?? {},
    leftOut: w.leftOut ?? NONE,
    marked: w.marked ?? NONE,
    columns: w.columns ?? [],
    times: w.times ?? [],
    further: w.further ?? [],
    order: w.order ?? "",
    practicalPercent: w.practicalPercent ?? 10,
  };
}

export function putWork(label: string, make: (now: TestWork) => Partial<TestWork>) {
  garage.change(label, (g) => ({ ...g, work: { ...g.work, ...make(testWork(g)) } }));
}

export const touches = (a: Stretch, b: Stretch): boolean =>
  (a.recording ?? 0) === (b.recording ?? 0) && a.from_s < b.to_s && b.from_s < a.to_s;
