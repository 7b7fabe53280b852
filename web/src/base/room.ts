// How wide an element is on the screen, so that a drawing can keep its lettering and arrows the same size anywhere.
import { useLayoutEffect, useRef, useState } from "preact/hooks";

export interface Room {
  width: number;
  isWide: boolean; // the window has room for a drawing with its numbers on it
}

export function useRoom<E extends HTMLElement>(otherwise = 800) {
  const ref = useRef<E>(null);
  const [room, setRoom] = useState<Room>({ width: otherwise, isWide: otherwise >= 700 });
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return;
    const measure = () => {
      const width = element.clientWidth || otherwise;
      setRoom((old) => (Math.abs(old.width - width) < 0.5 ? old : { width, isWide: width >= 700 }));
    };
    measure();
    if (typeof ResizeObserver !== "function") return;
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [otherwise]);
  return [ref, room] as const;
}
