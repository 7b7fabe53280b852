// The way to the limit in three strips over one scale of g: how much of its grip each axle uses, how much it pushes wide,
// and what the inner wheels still carry. Before dashed, after solid; the band is where the limit lies.
import type { Interval } from "@/base/estimate";
import { plain } from "@/base/format";
import { Mark, type Role, strokeOf } from "./marks";
import { across, Label, through, upright } from "./plot";
import { type Scale, scale, tickDecimals, ticks } from "./scale";

type Curve = readonly (readonly [number, number])[];
export interface TurnLines {
  role: Role;
  limit: Interval;
  grip: { front: Curve; rear: Curve };
  gradient: Curve;
  known: readonly { g: number; of: Interval }[];
  inner: { front: Curve; rear: Curve };
  events: readonly { n: number; g: number }[];
}

const STRIP = 150;
const GAP = 34;

export function TurnCurves(p: {
  cars: readonly TurnLines[];
  width: number;
  loadUnit: string;
  perKg: number;
  label: string;
}) {
  const isRoomy = p.width >= 640;
  const f = { left: isRoomy ? 60 : 44, right: p.width - (isRoomy ? 64 : 46), top: 30 };
  const most = Math.max(...p.cars.map((c) => c.limit.high), 0.6) * 1.06;
  const X = scale(0, most, f.left, f.right);
  const top = (k: number) => f.top + k * (STRIP + GAP);
  const strip = (k: number, low: number, high: number) => scale(low, high, top(k) + STRIP, top(k));
  const loads = p.cars.flatMap((c) => [...c.inner.front, ...c.inner.rear].map(([, v]) => v * p.perKg));
  const steep = p.cars.flatMap((c) => [
    ...c.known.map((k) => k.of.high),
    ...c.gradient.filter(([g]) => g < c.limit.low * 0.9).map(([, v]) => v),
  ]);
  const low = Math.min(0, ...p.cars.flatMap((c) => c.known.map((k) => k.of.low)));
  const Y = [
    strip(0, 0, 110),
    strip(1, low, Math.min(14, Math.max(4, ...steep)) * 1.1),
    strip(2, 0, Math.max(1, ...loads) * 1.08),
  ] as const;
  const height = top(2) + STRIP + 52;
  const gs = ticks(0, most, isRoomy ? 9 : 5);
  return (
    <svg class="dwg clip-strips" viewBox={`0 0 ${p.width} ${height}`} role="img" aria-label={p.label}>
      {[0, 1, 2].map((k) => (
        <Strip
          key={k}
          y={Y[k]!}
          x={X}
          gs={gs}
          left={f.left}
          right={f.right}
          top={top(k)}
          title={TITLES[k]!(p.loadUnit)}
          isLast={k === 2}
        />
      ))}
      <path class="thin" d={across(f.left, f.right, Y[0](100))} />
      <path class="thin" d={across(f.left, f.right, Y[1](0))} />
      {p.cars.map((c) => (
        <g key={c.role}>
          <rect
            class={`band-${c.role}`}
            x={X(c.limit.low)}
            y={f.top}
            width={Math.max(1, X(c.limit.high) - X(c.limit.low))}
            height={top(2) + STRIP - f.top}
          />
          <path class={`thin ${strokeOf(c.role)}`} d={upright(X(c.limit.value), f.top - 6, top(2) + STRIP)} />
          {(["front", "rear"] as const).map((axle) => (
            <g key={axle}>
              <path
                class={`${axle === "front" ? "bold" : "thin"} ${strokeOf(c.role)}`}
                d={path(c.grip[axle], X, Y[0])}
              />
              <path
                class={`${axle === "front" ? "bold" : "thin"} ${strokeOf(c.role)}`}
                d={path(c.inner[axle], X, Y[2], p.perKg)}
              />
            </g>
          ))}
          <path class={`bold ${strokeOf(c.role)}`} d={path(c.gradient, X, Y[1])} />
          {c.known.map((k) => {
            const x = X(k.g) + (c.role === "before" ? -4 : 4);
            return (
              <g key={k.g}>
                <path
                  class={`mid ${strokeOf(c.role)}`}
                  d={upright(x, clampTo(Y[1], k.of.low), clampTo(Y[1], k.of.high))}
                />
                <Mark role={c.role} x={x} y={clampTo(Y[1], k.of.value)} size={4} />
              </g>
            );
          })}
          {c.events.map((e) => (
            <g key={e.n} class="balloon">
              <circle class="rim" cx={X(Math.min(e.g, most))} cy={top(2) + STRIP - 14} r={11} />
              <Label x={X(Math.min(e.g, most))} y={top(2) + STRIP - 9} px={14} class={c.role}>
                {e.n}
              </Label>
            </g>
          ))}
        </g>
      ))}
      {(["front", "rear"] as const).map((axle) => (
        <g key={axle}>
          <Label x={f.right + 6} y={ends(p.cars, (c) => c.grip[axle], Y[0]) + 5} px={14} anchor="start">
            {axle}
          </Label>
          <Label x={f.right + 6} y={ends(p.cars, (c) => c.inner[axle], Y[2], p.perKg) + 5} px={14} anchor="start">
            {axle}
          </Label>
        </g>
      ))}
      <Label x={f.right} y={top(2) + STRIP + 42} class="soft" anchor="end">
        how hard the corner pulls, g
      </Label>
    </svg>
  );
}

const TITLES: readonly ((unit: string) => string)[] = [
  () => "grip used, %: what reaches 100 first lets go",
  () => "pushes wide, deg/g (understeer gradient)",
  (unit) => `on the inner wheels, ${unit}: at 0 a wheel lifts`,
];

function Strip(p: {
  y: Scale;
  x: Scale;
  gs: readonly number[];
  left: number;
  right: number;
  top: number;
  title: string;
  isLast: boolean;
}) {
  const ys = ticks(p.y.from, p.y.to, 3);
  const [dy, dx] = [tickDecimals(ys), tickDecimals(p.gs)];
  const bottom = p.top + STRIP;
  return (
    <>
      {p.gs.map((v) => (
        <g key={v}>
          <path class="grid" d={upright(p.x(v), p.top, bottom)} />
          {p.isLast && (
            <Label x={p.x(v)} y={bottom + 20} class="soft">
              {plain(v, dx)}
            </Label>
          )}
        </g>
      ))}
      {ys.map((v) => (
        <g key={v}>
          <path class="grid" d={across(p.left, p.right, p.y(v))} />
          <Label x={p.left - 8} y={p.y(v) + 5} class="soft" anchor="end">
            {plain(v, dy)}
          </Label>
        </g>
      ))}
      <path class="mid" d={`M${p.left} ${p.top}V${bottom}H${p.right}`} />
      <Label x={p.left} y={p.top - 9} class="soft" anchor="start">
        {p.title}
      </Label>
    </>
  );
}

const clampTo = (y: Scale, v: number) => y(Math.min(y.to, Math.max(y.from, v)));
// A line ends where it leaves its strip.
function path(c: Curve, x: Scale, y: Scale, times = 1): string {
  const out = c.findIndex(([, v]) => v * times > y.to);
  const inside = (out < 0 ? c : c.slice(0, out + 1)).filter(([g]) => g <= x.to);
  return through(inside.map(([g, v]) => [x(g), clampTo(y, v * times)]));
}

// Where the label of a line stands: at its last point, the two axles kept a line apart.
function ends(cars: readonly TurnLines[], of: (c: TurnLines) => Curve, y: Scale, times = 1): number {
  const last = of(cars.at(-1)!).at(-1);
  return clampTo(y, (last?.[1] ?? 0) * times);
}
