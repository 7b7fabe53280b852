// Opens the invented demo: its documents come from the program, so that page and command line show the same car.

import type { FullBar } from "@/api/barSheet";
import { askLong } from "@/api/client";
import { takeFile } from "@/api/files";
import { type AxleName, type BarDocument, type CarDocument, EMPTY, garage, type LogFile } from "@/api/garage";
import type { AxleSetup, BarSheet, DemoResult, NamedFile, Problem } from "@/api/types";

export async function openDemo(onBusy: (doing: string) => void): Promise<readonly Problem[]> {
  const reply = await askLong("demo", { logs: true }, (s) => onBusy(s.doing), new AbortController().signal);
  if (reply.problems) return reply.problems;
  const r = reply.answer.result;
  const logs = { before: await filesOf(r.files, "before"), after: await filesOf(r.files, "after") };
  garage.change("the demo", () => demoGarage(r, logs));
  return [];
}

export function demoGarage(r: DemoResult, logs: { before: LogFile[]; after: LogFile[] }) {
  return {
    ...EMPTY,
    isDemo: true,
    car: r.car as unknown as CarDocument,
    bars: { front: barsOf(r.bars, "front"), rear: barsOf(r.bars, "rear") },
    before: { name: r.before_setup.name, front: choiceOf(r.before_setup.front), rear: choiceOf(r.before_setup.rear) },
    after: { name: r.after_setup.name, front: choiceOf(r.after_setup.front), rear: choiceOf(r.after_setup.rear) },
    logs,
    work: {
      phone: r.phone,
      cost: r.cost,
      feel: r.verdict.feel,
      wanted: r.wanted_change_percent,
      alternatives: r.alternatives,
    },
  };
}

const choiceOf = (a: AxleSetup) => (a.bar ? { bar: a.bar, setting: a.setting || null } : { bar: null, setting: null });

function barsOf(bars: readonly BarSheet[], axle: AxleName): BarDocument[] {
  return bars
    .filter((b) => b.axle === axle && b.centreline_right_to_left.length > 1)
    .map((b) => b as FullBar as BarDocument);
}

async function filesOf(files: readonly NamedFile[], role: string): Promise<LogFile[]> {
  const own = files.filter((f) => f.name.endsWith(".csv") && f.name.includes(role));
  return Promise.all(own.map((f) => takeFile(new File([f.text], f.name, { type: "text/csv" }))));
}
