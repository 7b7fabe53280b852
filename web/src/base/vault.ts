// A value kept in the browser: saved the moment it changes, with undo and redo, and followed in other tabs. What comes
// from elsewhere (another tab, the notebook) is joined into the value and into every step of the history, so that taking
// back one's own change never takes back somebody else's.
// The value before each change stays in the history. The history is many times larger than the value, so it is saved a
// moment later, when nobody waits for it, and when the page is left.
import { computed, type ReadonlySignal, signal } from "@preact/signals";
import { merge3 } from "./merge";

const DEPTH = 60; // changes that can be taken back; 60 × about 25 kB stays below the 5 MB of a browser's store
const LATER = 400; // ms

interface Kept<T> {
  now: T;
  past: { label: string; value: T }[];
  future: { label: string; value: T }[];
}

export interface Vault<T> {
  readonly value: ReadonlySignal<T>;
  readonly undoLabel: ReadonlySignal<string | null>;
  readonly redoLabel: ReadonlySignal<string | null>;
  readonly isSaved: ReadonlySignal<boolean>;
  change(label: string, make: (now: T) => T): void;
  undo(): void;
  redo(): void;
  settle(): void; // saves the history now
  adopt(make: (now: T) => T): void; // a change that came from elsewhere: no step of the history
  replace(value: T): void; // another value altogether: the history goes
}

export function openVault<T>(key: string, initial: T, migrate: (stored: unknown) => T | null): Vault<T> {
  const kept = signal<Kept<T>>(load(key, initial, migrate));
  const isSaved = signal(true);
  let seen = readText(key);

  const joined = ({ now, past, future }: Kept<T>, next: T): Kept<T> => {
    const rebased = (list: Kept<T>["past"]) => list.map((e) => ({ ...e, value: merge3(now, e.value, next) }));
    return { now: next, past: rebased(past), future: rebased(future) };
  };
  // What another tab saved meanwhile comes first; the store is read at once, whatever messages are still under way.
  const refresh = () => {
    const text = readText(key);
    if (text === null || text === seen || !isSaved.value) return;
    seen = text;
    const now = migrate(parse(text));
    if (now !== null) kept.value = joined(kept.value, now);
  };

  let timer: ReturnType<typeof setTimeout> | undefined;
  const settle = () => {
    clearTimeout(timer);
    timer = undefined;
    saveHistory(key, kept.value);
  };
  const put = (next: Kept<T>) => {
    kept.value = next;
    isSaved.value = saveNow(key, next.now);
    seen = readText(key);
    clearTimeout(timer);
    timer = setTimeout(settle, LATER);
  };
  addEventListener("pagehide", () => timer !== undefined && settle());

  addEventListener("storage", (event) => {
    if (event.key === key && event.newValue) refresh();
  });

  return {
    settle,
    value: computed(() => kept.value.now),
    undoLabel: computed(() => kept.value.past.at(-1)?.label ?? null),
    redoLabel: computed(() => kept.value.future.at(-1)?.label ?? null),
    isSaved,
    adopt(make) {
      refresh();
      const next = make(kept.value.now);
      if (next !== kept.value.now) put(joined(kept.value, next));
    },
    replace(value) {
      put({ now: value, past: [], future: [] });
    },
    change(label, make) {
      refresh();
      const { now, past } = kept.value;
      const next = make(now);
      if (next === now) return;
      put({ now: next, past: [...past, { label, value: now }].slice(-DEPTH), future: [] });
    },
    undo() {
      refresh();
      const { now, past, future } = kept.value;
      const last = past.at(-1);
      if (!last) return;
      put({ now: last.value, past: past.slice(0, -1), future: [...future, { label: last.label, value: now }] });
    },
    redo() {
      refresh();
      const { now, past, future } = kept.value;
      const last = future.at(-1);
      if (!last) return;
      put({ now: last.value, past: [...past, { label: last.label, value: now }], future: future.slice(0, -1) });
    },
  };
}

const historyKey = (key: string) => `${key}-history`;

function load<T>(key: string, initial: T, migrate: (stored: unknown) => T | null): Kept<T> {
  const empty: Kept<T> = { now: initial, past: [], future: [] };
  const stored = read(key);
  const now = stored === undefined ? null : migrate(stored);
  if (now === null) return empty;
  const history = read(historyKey(key)) as Partial<Kept<unknown>> | null | undefined;
  const usable = (list: unknown) =>
    (Array.isArray(list) ? list : []).flatMap((e: { label?: unknown; value?: unknown } | null) => {
      const value = migrate(e?.value);
      return value === null ? [] : [{ label: String(e?.label), value }];
    });
  return { now, past: usable(history?.past), future: usable(history?.future) };
}

function readText(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function read(key: string): unknown {
  const text = readText(key);
  return text === null ? undefined : parse(text);
}

function write(key: string, value: unknown): boolean {
  try {
    localStorage.setItem(key, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

// A full store gives up its history before it gives up the present.
function saveNow<T>(key: string, now: T): boolean {
  if (write(key, now)) return true;
  try {
    localStorage.removeItem(historyKey(key));
  } catch {
    return false;
  }
  return write(key, now);
}

function saveHistory<T>(key: string, { past, future }: Kept<T>) {
  for (const keep of [past.length, 10, 1]) if (write(historyKey(key), { past: past.slice(-keep), future })) return;
}
