// The garage as the notebook keeps it: a document for the car, one for each bar, one for each piece of work in progress,
// and one for the bench, which says which of them lie on it. Pure: no browser and no program in here.
import { type Clash, isSame, merge3 } from "@/base/merge";
import { type AxleName, type BarDocument, type CarDocument, EMPTY, type Garage, migrate } from "./garage";

// Every notebook has one bench, known by this id; so a phone and a laptop mean the same one.
export const BENCH = "b0000000000000000000000000000001";

export interface Part {
  id: string; // of the document in the notebook
  json: Record<string, unknown>;
}
type Rest = Omit<Garage, "car" | "bars" | "work">;
export interface Parts {
  rest: Rest;
  car: Part | null;
  bars: Record<AxleName, Part[]>;
  work: Record<string, Part>;
}

const AXLES: readonly AxleName[] = ["front", "rear"];
const fresh = (): string =>
  [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");

// How much two sheets have in common, 0 to 1: a renamed car is the same document, another car is not.
function likeness(a: Record<string, unknown>, b: Record<string, unknown>): number {
  const keys = [...new Set([...Object.keys(a), ...Object.keys(b)])].filter((k) => k !== "kind");
  return keys.length === 0 ? 1 : keys.filter((k) => isSame(a[k], b[k])).length / keys.length;
}

// Parts of a garage. What was there before keeps its document; what fell out of use and is taken up again gets its old one
// (`known` finds it).
export function partsOf(
  g: Garage,
  before: Parts | null,
  known: (json: Record<string, unknown>) => string | undefined = () => undefined,
): Parts {
  const { car, bars, work, ...rest } = g;
  const taken = new Set<string>();
  const take = (id: string) => {
    taken.add(id);
    return id;
  };
  const idFor = (json: Record<string, unknown>) => {
    const id = known(json);
    return take(id !== undefined && !taken.has(id) ? id : fresh());
  };
  const carJson = car as unknown as Record<string, unknown> | null;
  const old = before?.car;
  const isOld = carJson && old && (carJson.name === old.json.name || likeness(carJson, old.json) >= 0.5);
  return {
    rest,
    car: carJson && { id: isOld ? take(old.id) : idFor(carJson), json: carJson },
    bars: { front: barsOf(bars.front, "front"), rear: barsOf(bars.rear, "rear") },
    work: Object.fromEntries(
      Object.entries(work)
        .filter(([, value]) => value !== undefined && value !== null)
        .map(([name, value]) => [
          name,
          { id: before?.work[name]?.id ?? fresh(), json: { kind: "work/1", name, value } },
        ]),
    ),
  };

  function barsOf(list: readonly BarDocument[], axle: AxleName): Part[] {
    const olds = before?.bars[axle] ?? [];
    const gone = olds.filter((o) => !list.some((b) => b.name === o.json.name));
    return list.map((b) => {
      const json = { ...b, kind: "bar/1" } as Record<string, unknown>;
      const same = olds.find((o) => o.json.name === b.name) ?? takeLike(gone, json);
      return { id: same ? take(same.id) : idFor(json), json };
    });
  }
}

// A bar that got another name: the one of those gone that is otherwise nearly the same.
function takeLike(gone: Part[], json: Record<string, unknown>): Part | undefined {
  const i = gone.findIndex((o) => likeness(o.json, json) >= 0.5);
  return i < 0 ? undefined : gone.splice(i, 1)[0];
}

export function garageOf(p: Parts): Garage {
  return {
    ...EMPTY,
    ...p.rest,
    car: (p.car?.json as CarDocument | undefined) ?? null,
    bars: {
      front: p.bars.front.map((b) => b.json as unknown as BarDocument),
      rear: p.bars.rear.map((b) => b.json as unknown as BarDocument),
    },
    work: Object.fromEntries(Object.entries(p.work).map(([name, part]) => [name, part.json.value])),
  };
}

const ids = (list: readonly Part[]) => list.map((p) => p.id);

// The documents to keep, the bench last because it names the others.
export function documentsOf(p: Parts): Part[] {
  const bench = {
    kind: "workbench/1",
    name: "Workbench",
    ...p.rest,
    car: p.car?.id ?? null,
    bars: { front: ids(p.bars.front), rear: ids(p.bars.rear) },
    work: Object.fromEntries(Object.entries(p.work).map(([name, part]) => [name, part.id])),
  };
  return [
    ...(p.car ? [p.car] : []),
    ...AXLES.flatMap((a) => p.bars[a]),
    ...Object.values(p.work),
    { id: BENCH, json: bench },
  ];
}

// Which documents a bench names.
export function namedBy(bench: Record<string, unknown>): string[] {
  const b = bench as { car?: string | null; bars?: Record<AxleName, string[]>; work?: Record<string, string> };
  return [b.car, ...(b.bars?.front ?? []), ...(b.bars?.rear ?? []), ...Object.values(b.work ?? {})].filter(
    (id): id is string => typeof id === "string",
  );
}

// The parts that a bench names, as far as `find` has them; null when this is no bench of ours.
export function partsFrom(
  bench: Record<string, unknown>,
  find: (id: string) => Record<string, unknown> | undefined,
): Parts | null {
  const {
    kind,
    name: _,
    car,
    bars,
    work,
    ...rest
  } = bench as Record<string, unknown> & {
    car?: string | null;
    bars?: Record<AxleName, string[]>;
    work?: Record<string, string>;
  };
  const whole = kind === "workbench/1" ? migrate(rest) : null;
  if (!whole) return null;
  const { car: _c, bars: _b, work: _w, ...kept } = whole;
  const part = (id: string | null | undefined): Part[] => {
    const json = id ? find(id) : undefined;
    return id && json ? [{ id, json }] : [];
  };
  return {
    rest: kept,
    car: part(car)[0] ?? null,
    bars: { front: (bars?.front ?? []).flatMap(part), rear: (bars?.rear ?? []).flatMap(part) },
    work: Object.fromEntries(Object.entries(work ?? {}).flatMap(([key, id]) => part(id).map((p) => [key, p]))),
  };
}

export const NOTHING: Parts = (() => {
  const { car: _c, bars: _b, work: _w, ...rest } = EMPTY;
  return { rest, car: null, bars: { front: [], rear: [] }, work: {} };
})();

// Joins what this page has with what the notebook has, both made from `base`.
export function mergeParts(base: Parts, mine: Parts, theirs: Parts, clashes: Clash[]): Parts {
  return {
    rest: merge3(base.rest, mine.rest, theirs.rest, clashes),
    car: mergeCar(base.car, mine.car, theirs.car, clashes),
    bars: {
      front: mergeBars(base.bars.front, mine.bars.front, theirs.bars.front, clashes),
      rear: mergeBars(base.bars.rear, mine.bars.rear, theirs.bars.rear, clashes),
    },
    work: Object.fromEntries(
      [...new Set([...Object.keys(mine.work), ...Object.keys(theirs.work)])].flatMap((key) => {
        const part = mergePart(base.work[key], mine.work[key], theirs.work[key], clashes, key);
        return part ? [[key, part]] : [];
      }),
    ),
  };
}

function mergeCar(base: Part | null, mine: Part | null, theirs: Part | null, clashes: Clash[]): Part | null {
  if (mine && theirs && mine.id !== theirs.id) {
    if (mine.id === base?.id) return theirs;
    if (theirs.id !== base?.id) clashes.push({ path: "car", mine: mine.json.name, theirs: theirs.json.name });
    return mine;
  }
  return mergePart(base ?? undefined, mine ?? undefined, theirs ?? undefined, clashes, "car") ?? null;
}

function mergePart(b: Part | undefined, m: Part | undefined, t: Part | undefined, clashes: Clash[], path: string) {
  if (!m) return t && (!b || !isSame(b.json, t.json)) ? t : undefined;
  if (!t) return b && isSame(b.json, m.json) ? undefined : m;
  // A piece of work begun in two places at once gets one document: that of the notebook.
  return { id: t.id, json: merge3(b?.json ?? {}, m.json, t.json, clashes, path) };
}

function mergeBars(base: readonly Part[], mine: readonly Part[], theirs: readonly Part[], clashes: Clash[]): Part[] {
  const find = (list: readonly Part[], id: string) => list.find((p) => p.id === id);
  const all = [...mine, ...theirs.filter((t) => !find(mine, t.id))];
  return all.flatMap(({ id, json }) => {
    const part = mergePart(find(base, id), find(mine, id), find(theirs, id), clashes, String(json.name));
    return part ? [part] : [];
  });
}
