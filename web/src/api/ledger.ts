// What this browser knows of the notebook: which one it is, up to where it was read, and each document as both had it
// last. Kept beside the garage, read anew for every round because another page of this browser may have been at work.
import { signal } from "@preact/signals";
import type { Garage } from "./garage";
import type { Parts } from "./parts";

export interface Ledger {
  notebook: string; // its file; empty before the first meeting
  position: number;
  documents: Record<string, Entry>;
  mine: Parts | null; // the parts of this page when it last sent, for the ids they were given
}
export interface Entry {
  version: string;
  json: Record<string, unknown>;
  settles?: string; // a version from elsewhere that the next one takes in
  isOff?: boolean; // taken off the list by this page
  isForked?: boolean; // was so already when this page met it: the person chooses on the notebook sheet
}

const KEY = "rollwright-ledger";
const ASIDE = "rollwright-set-aside";

export function loadLedger(): Ledger {
  const fresh: Ledger = { notebook: "", position: 0, documents: {}, mine: null };
  try {
    const stored = JSON.parse(localStorage.getItem(KEY) ?? "null") as Partial<Ledger> | null;
    if (typeof stored?.notebook !== "string" || typeof stored.documents !== "object") return fresh;
    return { ...fresh, ...stored };
  } catch {
    return fresh;
  }
}

export function saveLedger(l: Ledger) {
  try {
    localStorage.setItem(KEY, JSON.stringify(l));
  } catch {
    // The next round asks the notebook for everything again.
    localStorage.removeItem(KEY);
  }
}

// Changes that never reached the notebook they were meant for.
export interface Aside {
  notebook: string;
  garage: Garage;
}
const read = (): Aside[] => {
  try {
    return JSON.parse(localStorage.getItem(ASIDE) ?? "[]") as Aside[];
  } catch {
    return [];
  }
};
export const aside = signal<readonly Aside[]>(read());

export function setAside(one: Aside) {
  writeAside([...read(), one]);
}
export function dropAside(one: Aside) {
  writeAside(read().filter((a) => JSON.stringify(a) !== JSON.stringify(one)));
}
function writeAside(list: Aside[]) {
  aside.value = list;
  try {
    localStorage.setItem(ASIDE, JSON.stringify(list));
  } catch {
    // lasts as long as the page
  }
}
