// The draughtsman's hand: marks that keep their size in screen pixels. `u` is millimetres per pixel.
import type { ComponentChildren } from "preact";
import type { Origin } from "@/base/estimate";
import { arrow, at, circlePath, hatch, straight } from "./path";

export function Drawing(props: {
  box: readonly [x: number, top: number, width: number, height: number]; // y up: top is the highest y
  label: string;
  children: ComponentChildren;
  class?: string;
}) {
  const [x, top, width, height] = props.box;
  return (
    <svg
      class={`dwg ${props.class ?? ""}`}
      viewBox={`${x.toFixed(1)} ${(-top).toFixed(1)} ${width.toFixed(1)} ${height.toFixed(1)}`}
      role="img"
      aria-label={props.label}
    >
      {props.children}
    </svg>
  );
}

interface TextProps {
  x: number;
  y: number;
  u: number;
  px?: number;
  class?: string;
  anchor?: "start" | "middle" | "end";
  children: ComponentChildren;
}
export function Text({ x, y, u, px = 15, anchor = "middle", children, ...rest }: TextProps) {
  return (
    <text
      class={rest.class ?? ""}
      x={x.toFixed(1)}
      y={(-y).toFixed(1)}
      font-size={(px * u).toFixed(2)}
      text-anchor={anchor}
    >
      {children}
    </text>
  );
}

export function Ground({ from, to, u }: { from: number; to: number; u: number }) {
  let strokes = "";
  for (let x = from + 9 * u; x < to; x += 9 * u) strokes += straight(x, 0, x - 8 * u, -8 * u);
  return (
    <>
      <path class="bold" d={straight(from, 0, to, 0)} />
      <path class="fine" d={strokes} />
    </>
  );
}

interface DimProps {
  u: number;
  origin?: Origin;
  gap?: number; // left free in the middle, for the number
  isLit?: boolean;
}
const originClass = (origin: Origin | undefined) =>
  origin === "typical" || origin === "guess" ? `origin-${origin}` : "";

// Dimension across, at height y, with extension lines from the object.
export function DimAcross(p: DimProps & { x1: number; x2: number; y: number; from: number }) {
  const { x1, x2, y, from, u, gap = 0 } = p;
  const middle = (x1 + x2) / 2;
  const side = y < from ? -1 : 1;
  const reach = (x: number) => straight(x, from + side * 4 * u, x, y + side * 6 * u);
  const isShort = x2 - x1 < gap + 26 * u;
  return (
    <g class={p.isLit ? "lit" : ""}>
      <path class="fine" d={reach(x1) + reach(x2)} />
      <path
        class={`thin ${originClass(p.origin)}`}
        d={
          isShort ? straight(x1, y, x2, y) : straight(x1, y, middle - gap / 2, y) + straight(middle + gap / 2, y, x2, y)
        }
      />
      <path class="solid" d={arrow(x1, y, Math.PI, u) + arrow(x2, y, 0, u)} />
    </g>
  );
}

// Dimension upright, at distance x.
export function DimUp(p: DimProps & { y1: number; y2: number; x: number; from1: number; from2: number }) {
  const { y1, y2, x, u, gap = 0 } = p;
  const middle = (y1 + y2) / 2;
  const reach = (from: number, y: number) => {
    const side = x < from ? -1 : 1;
    return Math.abs(x - from) < 1 ? "" : straight(from + side * 4 * u, y, x + side * 6 * u, y);
  };
  return (
    <g class={p.isLit ? "lit" : ""}>
      <path class="fine" d={reach(p.from1, y1) + reach(p.from2, y2)} />
      <path
        class={`thin ${originClass(p.origin)}`}
        d={straight(x, y1, x, middle - gap / 2) + straight(x, middle + gap / 2, x, y2)}
      />
      <path class="solid" d={arrow(x, y1, -Math.PI / 2, u) + arrow(x, y2, Math.PI / 2, u)} />
    </g>
  );
}

export function Leader(p: {
  points: readonly (readonly [number, number])[];
  u: number;
  origin?: Origin;
  isLit?: boolean;
}) {
  const end = p.points.at(-1)!;
  return (
    <g class={p.isLit ? "lit" : ""}>
      <path class={`thin ${originClass(p.origin)}`} d={`M${p.points.map(([x, y]) => at(x, y)).join("L")}`} />
      <path class="solid" d={circlePath(end[0], end[1], 2.4 * p.u)} />
    </g>
  );
}

export function Balloon(p: { x: number; y: number; u: number; n: number | string; to?: readonly [number, number] }) {
  return (
    <g class="balloon">
      {p.to && <Leader points={[[p.x, p.y], p.to]} u={p.u} />}
      <circle class="rim" cx={p.x} cy={-p.y} r={13 * p.u} />
      <Text x={p.x} y={p.y - 6 * p.u} u={p.u} px={17}>
        {p.n}
      </Text>
    </g>
  );
}

// Centre of gravity: quartered circle.
export function CentreOfGravity({ x, y, u, px = 11 }: { x: number; y: number; u: number; px?: number }) {
  const r = px * u;
  const quarter = (sx: number, sy: number) =>
    `M${at(x, y)}L${at(x + sx * r, y)}A${r} ${r} 0 0 ${sx * sy > 0 ? 0 : 1} ${at(x, y + sy * r)}Z`;
  return (
    <>
      <path class="thin fill-paper" d={circlePath(x, y, r)} />
      <path class="solid" d={quarter(1, 1) + quarter(-1, -1)} />
    </>
  );
}

// Plumb line: hangs from `top` to the tip of its bob.
export function Plumb({ x, top, tip, u }: { x: number; top: number; tip: number; u: number }) {
  const bob = [
    [-5, 20],
    [5, 20],
    [4, 12],
    [0, 0],
    [-4, 12],
  ].map(([dx, dy]) => at(x + dx! * u, tip + dy! * u));
  return (
    <>
      <path class="thin" d={straight(x, top, x, tip + 18 * u)} />
      <path class="solid" d={`M${bob.join("L")}Z`} />
      <path class="thin fill-paper" d={circlePath(x, top, 3 * u)} />
    </>
  );
}

// A hatched block; `cross` hatches both ways.
export function Hatched(p: {
  x: number;
  y: number; // lower edge
  width: number;
  height: number;
  spacing: number;
  cross?: boolean;
  class?: string;
}) {
  const d =
    hatch(p.x, p.y, p.width, p.height, p.spacing, 1) +
    (p.cross ? hatch(p.x, p.y, p.width, p.height, p.spacing, -1) : "");
  return (
    <>
      <path class={`fine ${p.class ?? ""}`} d={d} />
      <rect
        class={`mid ${p.class ?? ""}`}
        x={p.x}
        y={-(p.y + p.height)}
        width={p.width}
        height={Math.max(0, p.height)}
      />
    </>
  );
}
