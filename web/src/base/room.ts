// How wide an element is on the screen, so that a drawing can keep its lettering and arrows the same size anywhere.
import { useLayoutEffect, useState } from "preact/hooks";

export interface Room {
  width: number;
}

export function useRoom<E extends HTMLElement>(otherwise = 800) {
  // The element may come and go (an answer arrives, a fold opens): a callback follows it where a fixed ref would not.
  const [element, setElement] = useState<E | null>(null);
  const [width, setWidth] = useState(otherwise);
  useLayoutEffect(() => {
    if (!element) return;
    const measure = () =>
      setWidth((old) => (Math.abs(old - element.clientWidth) < 0.5 ? old : element.clientWidth || old));
    measure();
    if (typeof ResizeObserver !== "function") return;
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [element]);
  return [setElement, { width } as Room] as const;
}
