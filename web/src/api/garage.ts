// What the person has told us: the car sheet, the bars, the setups being compared, the logs. Every change is saved at once
// in this browser, goes to the notebook a moment later (keeper.ts), and can be taken back. The documents are the program's
// own (car/1, bar/1).
import { computed } from "@preact/signals";
import type { Estimate } from "@/base/estimate";
import { openVault } from "@/base/vault";
import type { FullBar } from "./barSheet";
import { writeAt } from "./documents";

export interface CarDocument {
  kind: "car/1";
  name: string;
  class?: string;
  [key: string]: unknown;
}
export type BarDocument = FullBar & { name: string };
export type AxleName = "front" | "rear";
export interface AxleChoice {
  bar: string | null; // name of a bar sheet; null: the fitted bar of the car sheet
  setting: string | null;
}
export interface Choice {
  name: string;
  front: AxleChoice;
  rear: AxleChoice;
}
export interface LogFile {
  id: string; // of the bytes in the browser's own store
  name: string;
  bytes: number;
  hash?: string; // in the notebook, once it is there
}

export interface Garage {
  form: 1;
  isDemo: boolean;
  car: CarDocument | null;
  bars: Record<AxleName, BarDocument[]>;
  before: Choice;
  after: Choice;
  logs: { before: LogFile[]; after: LogFile[] };
  wish: Record<string, unknown>;
  bill: { money: number | null; currency: string; hours: number | null };
  work: Record<string, unknown>; // progress of the fit, ticked steps and the like
}

const AS_BUILT: Choice = { name: "as built", front: { bar: null, setting: null }, rear: { bar: null, setting: null } };

export const EMPTY: Garage = {
  form: 1,
  isDemo: false,
  car: null,
  bars: { front: [], rear: [] },
  before: AS_BUILT,
  after: { ...AS_BUILT, name: "after" },
  logs: { before: [], after: [] },
  wish: {},
  bill: { money: null, currency: "€", hours: null },
  work: {},
};

// What an older page kept is filled up with what has been added since; anything else is not ours.
export function migrate(stored: unknown): Garage | null {
  if (typeof stored !== "object" || stored === null || (stored as Garage).form !== 1) return null;
  return { ...EMPTY, ...(stored as Garage) };
}

export const garage = openVault<Garage>("rollwright-garage", EMPTY, migrate);

export const car = computed(() => garage.value.value.car);

export function setCarNumber(path: string, name: string, value: Estimate | null) {
  garage.change(name, (g) => (g.car ? { ...g, car: writeAt(g.car, path, value) } : g));
}
export function setCarWord(path: string, name: string, value: string) {
  // An emptied word goes, as an emptied number does.
  garage.change(name, (g) => (g.car ? { ...g, car: writeAt(g.car, path, value || null) } : g));
}

export function choose(axle: AxleName, choice: AxleChoice) {
  garage.change(`${axle} bar`, (g) => ({ ...g, after: { ...g.after, [axle]: choice } }));
}

export function setupInWords(c: Choice): string {
  const part = (axle: AxleName) => {
    const { bar, setting } = c[axle];
    if (bar === null) return `${axle} as built`;
    const named = bar.toLowerCase().includes(axle) ? bar : `${axle} ${bar}`;
    return `${named}${setting ? `, hole ${holeInWords(setting)}` : ""}`;
  };
  return c.front.bar === null && c.rear.bar === null ? "as built" : `${part("rear")}; ${part("front")}`;
}

// "2/2" is hole 2 at both ends.
export function holeInWords(setting: string): string {
  const [left, right] = setting.split("/");
  return left === right ? (left ?? setting) : `${left} left, ${right} right`;
}

export function changeBar(axle: AxleName, name: string, label: string, make: (bar: BarDocument) => BarDocument) {
  garage.change(label, (g) => ({
    ...g,
    bars: { ...g.bars, [axle]: g.bars[axle].map((b) => (b.name === name ? make(b) : b)) },
  }));
}

export function addBar(axle: AxleName, bar: BarDocument) {
  garage.change(`${axle} bar added`, (g) => ({ ...g, bars: { ...g.bars, [axle]: [...g.bars[axle], bar] } }));
}

// A name no other bar of the car has, since setups call bars by name.
export function freeName(g: Garage, wanted: string): string {
  const taken = new Set([...g.bars.front, ...g.bars.rear].map((b) => b.name));
  if (!taken.has(wanted)) return wanted;
  let n = 2;
  while (taken.has(`${wanted} ${n}`)) n++;
  return `${wanted} ${n}`;
}
