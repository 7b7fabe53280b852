// A part far down the sheet asks its question when it is about to be seen, and follows changes when the hand rests.
import { useEffect, useState } from "preact/hooks";

export function useSeen<E extends HTMLElement>() {
  const [element, setElement] = useState<E | null>(null);
  const [seen, setSeen] = useState(false);
  useEffect(() => {
    if (!element || seen) return;
    if (typeof IntersectionObserver !== "function") {
      setSeen(true);
      return;
    }
    const observer = new IntersectionObserver((list) => list.some((e) => e.isIntersecting) && setSeen(true), {
      rootMargin: "300px",
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, [element, seen]);
  return [setElement, seen] as const;
}

export function useSettled<T>(value: T, ms = 350): T {
  const key = JSON.stringify(value);
  const [settled, setSettled] = useState({ key, value });
  useEffect(() => {
    if (key === settled.key) return;
    const timer = setTimeout(() => setSettled({ key, value }), ms);
    return () => clearTimeout(timer);
  }, [key, settled.key]);
  return settled.value;
}
