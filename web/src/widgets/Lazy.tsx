// A part of a sheet that is fetched when it is first wanted, so that the sheet itself is there sooner.
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";

export function Lazy<P extends object>(p: { load: () => Promise<ComponentType<P>>; with: P }) {
  const [Part, setPart] = useState<ComponentType<P> | null>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    let isGone = false;
    p.load()
      .then((found) => !isGone && setPart(() => found))
      .catch(() => !isGone && setFailed(true));
    return () => {
      isGone = true;
    };
  }, []);
  if (failed) return <p role="alert">The program does not answer. Start it again and load this page once more.</p>;
  return Part ? <Part {...p.with} /> : <div aria-busy="true" />;
}
