// The frame of a plot, in pixels with y down.
import type { ComponentChildren } from "preact";
import { plain } from "@/base/format";
import { type Scale, tickDecimals, ticks } from "./scale";

export interface Frame {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

export function Label(p: {
  x: number;
  y: number;
  px?: number;
  class?: string;
  anchor?: "start" | "middle" | "end";
  children: ComponentChildren;
}) {
  return (
    <text
      class={p.class ?? ""}
      x={p.x.toFixed(1)}
      y={p.y.toFixed(1)}
      font-size={p.px ?? 15}
      text-anchor={p.anchor ?? "middle"}
    >
      {p.children}
    </text>
  );
}

export const across = (x1: number, x2: number, y: number) => `M${x1.toFixed(1)} ${y.toFixed(1)}H${x2.toFixed(1)}`;
export const upright = (x: number, y1: number, y2: number) => `M${x.toFixed(1)} ${y1.toFixed(1)}V${y2.toFixed(1)}`;
export const through = (points: readonly (readonly [number, number])[]) =>
  points.length ? `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}` : "";

export function Axes(p: {
  frame: Frame;
  x: Scale;
  y: Scale;
  xName: string;
  yName: string;
  xWanted?: number;
  yWanted?: number;
  children?: ComponentChildren;
}) {
  const { frame: f, x, y } = p;
  const xs = ticks(x.from, x.to, p.xWanted ?? 6);
  const ys = ticks(y.from, y.to, p.yWanted ?? 5);
  const [dx, dy] = [tickDecimals(xs), tickDecimals(ys)];
  return (
    <>
      {xs.map((v) => (
        <g key={`x${v}`}>
          <path class={v === 0 ? "thin" : "grid"} d={upright(x(v), f.top, f.bottom)} />
          <Label x={x(v)} y={f.bottom + 20} class="soft">
            {plain(v, dx)}
          </Label>
        </g>
      ))}
      {ys.map((v) => (
        <g key={`y${v}`}>
          <path class={v === 0 ? "thin" : "grid"} d={across(f.left, f.right, y(v))} />
          <Label x={f.left - 8} y={y(v) + 5} class="soft" anchor="end">
            {plain(v, dy)}
          </Label>
        </g>
      ))}
      {p.children}
      <path class="mid" d={`M${f.left} ${f.top}V${f.bottom}H${f.right}`} />
      <Label x={f.right} y={f.bottom + 42} class="soft" anchor="end">
        {p.xName}
      </Label>
      <Label x={f.left + 8} y={f.top + 14} class="soft halo" anchor="start">
        {p.yName}
      </Label>
    </>
  );
}
