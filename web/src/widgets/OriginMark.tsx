// Where a number comes from, drawn: dimension arrow (measured), riveted plate (maker), heap with its middle (typical),
// dotted loop (guess), two strokes (worked out). Always with its words for those who cannot see it.
import { ORIGIN_WORDS, type Origin } from "@/base/estimate";

const DRAWN: Record<Origin, string> = {
  measured: "M3 3v14M23 3v14M3 10h20M8 6.5L3 10l5 3.5M18 6.5l5 3.5-5 3.5",
  maker:
    "M2.5 3.5h21v13h-21zM9 8h8M9 12h8M4.7 10a.9.9 0 1 0 1.8 0a.9.9 0 1 0-1.8 0M19.3 10a.9.9 0 1 0 1.8 0a.9.9 0 1 0-1.8 0",
  typical: "M1.5 16.5h23M3 16c6 0 5.5-12.5 10-12.5s4 12.5 10 12.5M13 3.5v13",
  guess: "M3 11c0-5 5-8 10-8s10 3 10 7-5 7.5-10.5 7.5S3 15 3 11z",
  derived: "M4 7.5h18M4 12.5h18",
};

export function OriginMark({ origin, silent }: { origin: Origin; silent?: boolean }) {
  const name = silent ? { "aria-hidden": true as const } : { role: "img" as const, "aria-label": ORIGIN_WORDS[origin] };
  return (
    <svg class={`origin-mark is-${origin}`} viewBox="0 0 26 20" {...name}>
      <path d={DRAWN[origin]} />
    </svg>
  );
}

export function OriginKey({ origins = ["measured", "maker", "typical", "guess"] }: { origins?: readonly Origin[] }) {
  return (
    <ul class="origin-key" aria-label="Where numbers come from">
      {origins.map((o) => (
        <li key={o}>
          <OriginMark origin={o} silent /> {ORIGIN_WORDS[o]}
        </li>
      ))}
    </ul>
  );
}
