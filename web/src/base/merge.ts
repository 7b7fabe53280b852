// Joins two changed copies of one value, knowing what both were made from. Where only one side changed a place, that side
// counts; where both changed the same place differently, mine counts and the place is told. What did not change keeps its
// identity, so that nothing is redrawn for nothing.

export interface Clash {
  path: string; // "front.track_mm"
  mine: unknown;
  theirs: unknown;
}

type Plain = Record<string, unknown>;
const isRecord = (v: unknown): v is Plain => typeof v === "object" && v !== null && !Array.isArray(v);

export function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (Array.isArray(a)) return Array.isArray(b) && a.length === b.length && a.every((v, i) => isSame(v, b[i]));
  if (!isRecord(a) || !isRecord(b)) return false;
  const keys = Object.keys(a).filter((k) => a[k] !== undefined);
  return (
    keys.length === Object.keys(b).filter((k) => b[k] !== undefined).length && keys.every((k) => isSame(a[k], b[k]))
  );
}

export function merge3<T>(base: T, mine: T, theirs: T, clashes: Clash[] = [], path = ""): T {
  if (Object.is(mine, theirs) || isSame(base, theirs) || isSame(mine, theirs)) return mine;
  if (isSame(base, mine)) return theirs;
  if (isRecord(mine) && isRecord(theirs) && isRecord(base)) return records(base, mine, theirs, clashes, path) as T;
  if (isListOfNamed(mine) && isListOfNamed(theirs) && isListOfNamed(base))
    return lists(base, mine, theirs, clashes, path) as T;
  clashes.push({ path, mine, theirs });
  return mine;
}

// A number with its doubt is one thing: the value of one side with the ± of the other was measured by nobody.
const isOneThing = (v: Plain) => "value" in v;

function records(base: Plain, mine: Plain, theirs: Plain, clashes: Clash[], path: string): Plain {
  if (isOneThing(mine) || isOneThing(theirs)) {
    clashes.push({ path, mine, theirs });
    return mine;
  }
  const joined: Plain = {};
  for (const key of new Set([...Object.keys(mine), ...Object.keys(theirs)])) {
    const value = merge3(base[key], mine[key], theirs[key], clashes, path ? `${path}.${key}` : key);
    if (value !== undefined) joined[key] = value;
  }
  return joined;
}

const nameOf = (v: unknown): string | null =>
  isRecord(v) && (typeof v.id === "string" || typeof v.name === "string") ? String(v.id ?? v.name) : null;

const isListOfNamed = (v: unknown): v is unknown[] =>
  Array.isArray(v) && v.every((e) => nameOf(e) !== null) && new Set(v.map(nameOf)).size === v.length;

// Lists of things with a name or an id are joined thing by thing; what one side took off is off.
function lists(base: unknown[], mine: unknown[], theirs: unknown[], clashes: Clash[], path: string): unknown[] {
  const find = (list: unknown[], name: string) => list.find((e) => nameOf(e) === name);
  const kept = mine.flatMap((e) => {
    const name = nameOf(e)!;
    const [was, other] = [find(base, name), find(theirs, name)];
    if (was !== undefined && other === undefined) return isSame(was, e) ? [] : [e];
    return [other === undefined ? e : merge3(was, e, other, clashes, `${path}.${name}`)];
  });
  const fresh = theirs.filter((e) => {
    const name = nameOf(e)!;
    return find(mine, name) === undefined && (find(base, name) === undefined || !isSame(find(base, name), e));
  });
  return [...kept, ...fresh];
}
