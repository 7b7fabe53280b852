// A value kept in the browser: saved the moment it changes, with undo and redo, and followed in other tabs.
// Nothing typed is lost: the value before each change stays in the history, which is saved too.
import { computed, type ReadonlySignal, signal } from "@preact/signals";

const DEPTH = 100; // changes that can be taken back; about 100 × a few kB stays far below a browser's 5 MB

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
}

export function openVault<T>(key: string, initial: T, migrate: (stored: unknown) => T | null): Vault<T> {
  const kept = signal<Kept<T>>(load(key, initial, migrate));
  const isSaved = signal(true);

  const put = (next: Kept<T>) => {
    kept.value = next;
    isSaved.value = save(key, next);
  };

  addEventListener("storage", (event) => {
    if (event.key === key && event.newValue) kept.value = load(key, initial, migrate);
  });

  return {
    value: computed(() => kept.value.now),
    undoLabel: computed(() => kept.value.past.at(-1)?.label ?? null),
    redoLabel: computed(() => kept.value.future.at(-1)?.label ?? null),
    isSaved,
    change(label, make) {
      const { now, past } = kept.value;
      const next = make(now);
      if (next === now) return;
      put({ now: next, past: [...past, { label, value: now }].slice(-DEPTH), future: [] });
    },
    undo() {
      const { now, past, future } = kept.value;
      const last = past.at(-1);
      if (!last) return;
      put({ now: last.value, past: past.slice(0, -1), future: [...future, { label: last.label, value: now }] });
    },
    redo() {
      const { now, past, future } = kept.value;
      const last = future.at(-1);
      if (!last) return;
      put({ now: last.value, past: [...past, { label: last.label, value: now }], future: future.slice(0, -1) });
    },
  };
}

function load<T>(key: string, initial: T, migrate: (stored: unknown) => T | null): Kept<T> {
  const empty: Kept<T> = { now: initial, past: [], future: [] };
  try {
    const text = localStorage.getItem(key);
    if (!text) return empty;
    const stored = JSON.parse(text) as Kept<unknown>;
    const now = migrate(stored.now);
    if (now === null) return empty;
    const usable = (list: Kept<unknown>["past"] | undefined) =>
      (list ?? []).flatMap((e) => {
        const value = migrate(e.value);
        return value === null ? [] : [{ label: String(e.label), value }];
      });
    return { now, past: usable(stored.past), future: usable(stored.future) };
  } catch {
    return empty;
  }
}

// A full store drops the oldest history before it gives up on the present.
function save<T>(key: string, kept: Kept<T>): boolean {
  for (const keep of [kept.past.length, 10, 0]) {
    try {
      const past = keep === 0 ? [] : kept.past.slice(-keep);
      localStorage.setItem(key, JSON.stringify({ ...kept, past }));
      return true;
    } catch {
      // try again with less history
    }
  }
  return false;
}
