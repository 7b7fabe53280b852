// Brings what this browser keeps and what the notebook keeps together, whenever either changes. The browser is the buffer:
// what could not be sent stays there and goes when the program answers again. What another page, another machine or the
// command line changed is joined in; where both changed one place, this page's counts, the other stays in the history of
// the notebook, and the person is told.
import { effect, signal } from "@preact/signals";
import { findBlob } from "@/base/blobs";
import { type Clash, isSame } from "@/base/merge";
import { ask, upload } from "./client";
import { EMPTY, type Garage, garage, type LogFile, migrate } from "./garage";
import { type Ledger, loadLedger, saveLedger, setAside } from "./ledger";
import {
  BENCH,
  documentsOf,
  garageOf,
  mergeParts,
  NOTHING,
  namedBy,
  type Part,
  type Parts,
  partsFrom,
  partsOf,
} from "./parts";
import type { NotebookListResult, Problem } from "./types";

export interface KeepState {
  is: "starting" | "kept" | "sending" | "away" | "refused";
  file: string; // the notebook
  problem: Problem | null;
}
export const keeping = signal<KeepState>({ is: "starting", file: "", problem: null });
export const clashes = signal<readonly Clash[]>([]);
// Grows with everything that arrives in the notebook, from wherever.
export const arrivals = signal(0);

const SOON = 400; // ms after the last keystroke
const OFTEN = 4000; // ms between looks while the page is seen
const PATIENCE = [2000, 4000, 8000, 15000]; // ms between tries while the program is away

class Stop extends Error {
  constructor(readonly problem: Problem) {
    super(problem.message);
  }
}
class Again extends Error {}

type Json = Record<string, unknown>;

async function answerOf<T>(
  reply: Promise<{ answer?: { result: T } | undefined; problems?: Problem[] | undefined }>,
): Promise<T> {
  const r = await reply;
  if (r.answer) return r.answer.result;
  throw new Stop(r.problems![0]!);
}

async function fetchDocument(id: string, version?: string) {
  const r = await answerOf(ask("notebook/show", version ? { what: id, version } : { what: id }));
  return {
    json: JSON.parse(r.text) as Json,
    version: r.document.version,
    removed: r.document.removed,
    history: r.history,
  };
}

const baseOf = (l: Ledger): Parts =>
  partsFrom(l.documents[BENCH]?.json ?? {}, (id) => l.documents[id]?.json) ?? NOTHING;

// A document of the person's that fell out of use and is taken up again.
const knownIn = (l: Ledger) => (json: Json) =>
  Object.entries(l.documents).find(
    ([id, d]) =>
      id !== BENCH &&
      d.json.kind === json.kind &&
      d.json.name === json.name &&
      (json.invented === true || isSame(d.json, json)),
  )?.[0];

const mineNow = (l: Ledger, g: Garage): Parts => partsOf(g, l.mine, knownIn(l));

function join(l: Ledger, base: Parts, theirs: Parts) {
  const found: Clash[] = [];
  // A page that never met this notebook takes a thing of the same name for the same thing.
  l.mine ??= theirs;
  garage.adopt((g) => {
    found.length = 0;
    const merged = mergeParts(base, mineNow(l, g), theirs, found);
    l.mine = merged;
    const next = garageOf(merged);
    return isSame(next, g) ? g : next;
  });
  if (found.length > 0) clashes.value = [...clashes.value, ...found];
}

// --- from the notebook

async function pull(l: Ledger): Promise<void> {
  let list = await answerOf(ask("notebook/list", { removed: true, after: l.position }));
  if (l.notebook !== list.file) {
    if (l.notebook) leave(l);
    l.notebook = list.file;
    if (l.position > 0) {
      l.position = 0;
      list = await answerOf(ask("notebook/list", { removed: true, after: 0 }));
    }
  } else if (list.position < l.position) {
    // An older copy of the file was put in its place. What it does not have is sent to it anew.
    Object.assign(l, { position: 0, documents: {} });
    garage.adopt(withoutHashes);
    list = await answerOf(ask("notebook/list", { removed: true, after: 0 }));
  }
  keeping.value = { ...keeping.value, file: list.file };
  if (list.documents.length > 0 || l.position === 0) await takeIn(l, list);
  if (list.position !== l.position) arrivals.value = list.position;
  l.position = list.position;
  saveLedger(l);
}

async function takeIn(l: Ledger, list: NotebookListResult): Promise<void> {
  const base = baseOf(l);
  const lines = new Map(list.documents.map((d) => [d.document, d]));
  const news: Ledger["documents"] = {};
  const gone = new Set<string>();
  const look = async (id: string) => {
    const line = lines.get(id);
    const had = l.documents[id];
    if (line?.removed) gone.add(id);
    if (line ? line.removed || line.version === had?.version : had) return;
    // A list of everything that does not have it says enough.
    if (!line && l.position === 0) return void gone.add(id);
    try {
      const d = await fetchDocument(id);
      if (d.removed) gone.add(id);
      else news[id] = { version: d.version, json: d.json, isForked: (line?.other_versions ?? 0) > 0 };
    } catch (error) {
      if (!(error instanceof Stop) || error.problem.code !== "no_such_entry") throw error;
      gone.add(id);
    }
  };
  await look(BENCH);
  const bench = news[BENCH]?.json ?? (gone.has(BENCH) ? undefined : l.documents[BENCH]?.json);
  if (!bench) return;
  await Promise.all([...new Set(namedBy(bench))].map(look));
  const theirs = partsFrom(bench, (id) => (gone.has(id) ? undefined : (news[id] ?? l.documents[id])?.json));
  if (!theirs) return;
  if (!isSame(theirs, base)) join(l, base, theirs);
  Object.assign(l.documents, news);
  for (const id of gone) delete l.documents[id];
}

// Another notebook is in use: this one's things stay in it, and what had not reached it is set aside.
function leave(l: Ledger) {
  const parts = mineNow(l, garage.value.value);
  const isUnsent = documentsOf(parts).some((d) => !isSame(l.documents[d.id]?.json, d.json)) && !isSame(parts, NOTHING);
  if (isUnsent) setAside({ notebook: l.notebook, garage: garage.value.value });
  Object.assign(l, { position: 0, documents: {}, mine: null });
  garage.replace(EMPTY);
}

// --- to the notebook

async function push(l: Ledger): Promise<boolean> {
  const base = baseOf(l);
  const parts = mineNow(l, garage.value.value);
  if (isSame(parts, NOTHING) && !l.documents[BENCH]) return false;
  let hasSent = false;
  l.mine = parts;
  saveLedger(l);
  for (const part of documentsOf(parts)) {
    const had = l.documents[part.id];
    if (had && isSame(had.json, part.json) && !had.settles && !had.isOff) continue;
    keeping.value = { ...keeping.value, is: "sending" };
    await send(l, part);
    hasSent = true;
  }
  return (await takeOff(l, base, parts)) || hasSent;
}

async function send(l: Ledger, part: Part): Promise<void> {
  const had = l.documents[part.id];
  const name = String(part.json.name || part.json.kind);
  const files = [{ name: `${name}.json`, text: `${JSON.stringify(part.json, null, 1)}\n` }];
  const from = had ? { from: had.version, ...(had.settles ? { settles: had.settles } : {}) } : { as_new: true };
  try {
    const r = await answerOf(ask("notebook/add", { files, document: part.id, ...from }));
    const now = r.documents[0]!;
    l.documents[part.id] = { version: now.version, json: part.json, isForked: had?.isForked ?? false };
    saveLedger(l);
    if (now.other_versions > 0 && !had?.isForked) await settle(l, part, had?.json);
  } catch (error) {
    // An older copy of the notebook does not know what this was made from.
    if (!(error instanceof Stop) || !["no_such_version", "no_such_document"].includes(error.problem.code)) throw error;
    delete l.documents[part.id];
    saveLedger(l);
    throw new Again();
  }
}

// Somebody else changed the document since this page saw it: both versions are in the notebook; join them.
async function settle(l: Ledger, part: Part, was: Json | undefined): Promise<void> {
  const mine = l.documents[part.id]!;
  const { history } = await fetchDocument(part.id);
  const other = history.find((v) => (v.is_latest || v.is_other) && v.version !== mine.version);
  if (!other) return;
  const theirs = other.removed ? undefined : (await fetchDocument(part.id, other.version)).json;
  if (theirs) {
    const fetched: Record<string, Json> = {};
    if (part.id === BENCH)
      for (const id of namedBy(theirs)) if (!l.documents[id]) fetched[id] = (await fetchDocument(id)).json;
    const find = (bench: Json | undefined, one: Json | undefined) =>
      partsFrom(bench ?? {}, (id) => (id === part.id ? one : (l.documents[id]?.json ?? fetched[id]))) ?? NOTHING;
    const bench = l.documents[BENCH]?.json ?? documentsOf(l.mine!).at(-1)!.json;
    if (part.id === BENCH) join(l, find(was, undefined), find(theirs, undefined));
    else join(l, find(bench, was), find(bench, theirs));
  }
  l.documents[part.id] = { ...mine, settles: other.version };
  saveLedger(l);
  throw new Again();
}

// Bars that were taken off the car leave the list; their history stays, and undo brings them back.
async function takeOff(l: Ledger, base: Parts, now: Parts): Promise<boolean> {
  if (base.car?.id !== now.car?.id) return false;
  let hasTaken = false;
  const here = new Set([...now.bars.front, ...now.bars.rear].map((b) => b.id));
  for (const bar of [...base.bars.front, ...base.bars.rear]) {
    if (here.has(bar.id) || !l.documents[bar.id] || l.documents[bar.id]!.isOff) continue;
    const r = await answerOf(ask("notebook/remove", { document: bar.id }));
    Object.assign(l.documents[bar.id]!, { version: r.now.version, isOff: true });
    saveLedger(l);
    hasTaken = true;
  }
  return hasTaken;
}

// The bytes of recordings, as they were received.
async function sendLogs(): Promise<void> {
  const { before, after } = garage.value.value.logs;
  for (const log of [...before, ...after].filter((f) => !f.hash)) {
    const blob = await findBlob(log.id);
    if (!blob) continue;
    keeping.value = { ...keeping.value, is: "sending" };
    const hash = await keepFile(blob, log.name);
    const marked = (list: LogFile[]) => list.map((f) => (f.id === log.id ? { ...f, hash } : f));
    garage.adopt((g) => ({ ...g, logs: { before: marked(g.logs.before), after: marked(g.logs.after) } }));
  }
}

// Recordings that another notebook has are not known to be in this one.
function withoutHashes(g: Garage): Garage {
  const bare = (list: LogFile[]) => list.map(({ hash: _, ...f }) => f);
  return { ...g, logs: { before: bare(g.logs.before), after: bare(g.logs.after) } };
}

// Puts a file into the notebook as it is; its hash.
export async function keepFile(blob: Blob, name: string): Promise<string> {
  const sent = await upload(blob, name);
  if ("problems" in sent) throw new Stop(sent.problems[0]!);
  const kept = await answerOf(ask("notebook/add", { files: [{ file: sent.file.file, name }] }));
  return kept.logs[0]?.hash ?? "";
}

// --- when

// Pages of one browser take turns, so that each sees what the other has sent.
const inTurn = <T>(work: () => Promise<T>): Promise<T> =>
  "locks" in navigator ? navigator.locks.request("rollwright-notebook", work) : work();

async function round(): Promise<void> {
  await inTurn(async () => {
    for (let tries = 0; tries < 6; tries++) {
      const ledger = loadLedger();
      try {
        await pull(ledger);
        await sendLogs();
        if (await push(ledger)) await pull(ledger); // what was sent has arrived
        return;
      } catch (error) {
        if (!(error instanceof Again)) throw error;
      }
    }
  });
}

let timer: ReturnType<typeof setTimeout> | undefined;
let isRunning = false;
let isWanted = false;
let failures = 0;

function later(ms: number) {
  clearTimeout(timer);
  timer = setTimeout(keepNow, ms);
}

// Keeps what there is now; safe to call at any time.
export async function keepNow(): Promise<void> {
  clearTimeout(timer);
  if (isRunning) {
    isWanted = true;
    return;
  }
  isRunning = true;
  try {
    do {
      isWanted = false;
      await round();
    } while (isWanted);
    failures = 0;
    keeping.value = { ...keeping.value, is: "kept", problem: null };
  } catch (error) {
    const problem = error instanceof Stop ? error.problem : unreadable(error);
    keeping.value = { ...keeping.value, is: problem.code === "unreachable" ? "away" : "refused", problem };
    later(PATIENCE[Math.min(failures++, PATIENCE.length - 1)]!);
  } finally {
    isRunning = false;
  }
}

const unreadable = (error: unknown): Problem => ({
  kind: "environment",
  code: "unreadable",
  where: "",
  message: `The notebook holds something this page cannot read (${error instanceof Error ? error.message : "unknown"}).`,
  allowed: "",
  hint: "What you enter is kept in this browser. Load the page again.",
});

export function startKeeping(): () => void {
  let isFirst = true;
  const off = effect(() => {
    garage.value.value;
    if (!isFirst) later(SOON);
    isFirst = false;
  });
  const look = () => document.visibilityState === "visible" && keeping.value.is === "kept" && void keepNow();
  const leaving = () => (document.visibilityState === "hidden" ? void keepNow() : look());
  const back = () => void keepNow();
  addEventListener("focus", look);
  addEventListener("online", back);
  document.addEventListener("visibilitychange", leaving);
  const often = setInterval(look, OFTEN);
  void keepNow();
  return () => {
    off();
    clearTimeout(timer);
    clearInterval(often);
    removeEventListener("focus", look);
    removeEventListener("online", back);
    document.removeEventListener("visibilitychange", leaving);
  };
}

// Brings in what was set aside when another notebook was opened.
export function bringBack(stored: unknown) {
  const g = migrate(stored);
  if (g) garage.change("what had been set aside", () => withoutHashes(g));
}
