// A pair of intervals on one line: before above (dashed, circle), after below (solid, triangle).
import type { Interval } from "@/base/estimate";
import { Mark } from "./marks";
import { scale, span } from "./scale";

export function Whiskers(p: { before: Interval | null; after: Interval | null; range?: [number, number] }) {
  const { before, after } = p;
  const all = [before, after].flatMap((i) => (i ? [i.low, i.high] : []));
  const X = scale(...(p.range ?? span(all, 0.35)), 6, 124);
  const bar = (i: Interval, y: number) =>
    `M${X(i.low).toFixed(1)} ${y}H${Math.max(X(i.high), X(i.low) + 0.5).toFixed(1)}`;
  return (
    <svg class="dwg whiskers" viewBox="0 0 130 28" preserveAspectRatio="xMinYMid meet" aria-hidden="true">
      <path class="fine" d="M4 14H126" />
      {before && <path class="mid stroke-before dashed" d={bar(before, 8)} />}
      {before && <Mark role="before" x={X(before.value)} y={8} size={4.2} />}
      {after && <path class="mid stroke-after" d={bar(after, 21)} />}
      {after && <Mark role="after" x={X(after.value)} y={21} size={4.2} />}
    </svg>
  );
}

// Forecast as an open bar above, measured as a solid bar below, zero as an upright line.
export function ForecastAgainstMeasured({
  forecast,
  measured,
}: {
  forecast: Interval | null;
  measured: Interval | null;
}) {
  const all = [0, ...[forecast, measured].flatMap((i) => (i ? [i.low, i.high] : []))];
  const X = scale(...span(all, 0.12), 6, 214);
  const width = (i: Interval) => Math.max(2, X(i.high) - X(i.low));
  return (
    <svg class="dwg against" viewBox="0 0 220 44" aria-hidden="true">
      <path class="fine" d="M4 22H216" />
      <path class="thin" d={`M${X(0).toFixed(1)} 6V38`} />
      {forecast && <rect class="mid" x={X(forecast.low)} y="9" width={width(forecast)} height="9" />}
      {measured && <rect class="solid" x={X(measured.low)} y="26" width={width(measured)} height="9" />}
    </svg>
  );
}
