// The bar flat on paper, seen from above: outline, bushings, holes, stress hatching, its main dimensions.

import { sentence } from "@/base/format";
import { units } from "@/base/settings";
import { type Corner, nearest, type Station, sampleLine, type Vec3 } from "./barLine";
import { polyline, straight } from "./path";
import { Balloon, DimAcross, DimUp, Drawing, Hatched, Text } from "./pen";
import { dyePercent, hatchSpacing, hatchWeight, isWorking, USUAL_FULL } from "./stressHatch";

export interface BarHole {
  id: string;
  label?: string; // what people call it, where the id says more
  side: "left" | "right";
  point: Vec3;
}
export interface BarPicture {
  corners: readonly Corner[];
  diameter: number; // of the straight
  bladeWidth?: number | null; // of flattened arms
  bushings: readonly { point: Vec3; width: number }[];
  holes: readonly BarHole[];
}
export interface BarFlatProps {
  bar: BarPicture;
  chosen: { left: string; right: string };
  stressAt?: ((s: number) => number) | null; // MPa at arc length from the right end
  fullMpa?: number; // at the dense end of the key
  width: number;
  isSun: boolean;
  label: string;
  pointAtPeak?: boolean;
}

// On paper x (forward) is drawn downwards, so that arms that reach back point up, and y (left) to the left.
const flat = (p: Vec3) => [-p[1], -p[0]] as const;

export function BarFlat(p: BarFlatProps) {
  const line = sampleLine(p.bar.corners);
  if (line.length < 2) return null;
  const isRoomy = p.width >= 700;
  const xs = line.map((q) => flat(q.p)[0]);
  const ys = line.map((q) => flat(q.p)[1]);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const W = (right - left) * (isRoomy ? 1.5 : 1.62);
  const u = W / p.width;
  // Drawn no thinner than a pencil can hatch; the caption says so.
  const half = Math.max(p.bar.diameter / 2, 5 * u);
  const x0 = (left + right) / 2 - W / 2;
  const top = high + 34 * u;
  const bottom = low - 46 * u;
  const peak = p.stressAt ? peakOf(line, p.stressAt) : null;
  return (
    <Drawing box={[x0, top, W, top - bottom]} label={p.label}>
      <path class="fine centre" d={straight(left - 60, 0, right + 60, 0)} />
      <BarBody
        line={line}
        half={half}
        u={u}
        bar={p.bar}
        stressAt={p.stressAt ?? null}
        isSun={p.isSun}
        full={p.fullMpa ?? USUAL_FULL}
      />
      {p.bar.bushings.map((b, i) => {
        const [x, y] = flat(b.point);
        const w = Math.max(b.width, 30);
        return (
          <g key={i}>
            <rect class="fill-paper" x={x - w / 2} y={-(y + half + 14)} width={w} height={2 * half + 28} />
            <Hatched x={x - w / 2} y={y - half - 14} width={w} height={2 * half + 28} spacing={6 * u} />
          </g>
        );
      })}
      {p.bar.holes.map((h) => {
        const [x, y] = flat(h.point);
        const isOn = h.id === (h.side === "left" ? p.chosen.left : p.chosen.right);
        return (
          <g key={h.side + h.id}>
            {isOn && <circle class="mid" cx={x} cy={-y} r={Math.max(12, 7 * u)} />}
            <circle
              class={isOn ? "solid" : "mid fill-paper"}
              cx={x}
              cy={-y}
              r={isOn ? Math.max(6, 3.6 * u) : Math.max(5, 3 * u)}
            />
          </g>
        );
      })}
      <FlatDims line={line} bar={p.bar} chosen={p.chosen} u={u} left={left} right={right} low={low} />
      {peak && p.pointAtPeak && <PeakNote line={line} peak={peak} u={u} isRoomy={isRoomy} />}
    </Drawing>
  );
}

function FlatDims(p: {
  line: readonly Station[];
  bar: BarPicture;
  chosen: { left: string; right: string };
  u: number;
  left: number;
  right: number;
  low: number;
}) {
  const { u } = p;
  const y = p.low - 26 * u;
  const say = (mm: number) => sentence(mm, undefined, "mm", units.value);
  const hole = p.bar.holes.find((h) => h.side === "right" && h.id === p.chosen.right);
  const lever = hole ? Math.abs(flat(hole.point)[1]) : 0;
  const x = p.right + 56 * u;
  return (
    <>
      <DimAcross x1={p.left} x2={p.right} y={y} from={p.low} u={u} gap={110 * u} />
      <Text x={(p.left + p.right) / 2} y={y - 7 * u} u={u} px={19}>
        {say(p.right - p.left)}
      </Text>
      {hole && lever > 0 && (
        <>
          <DimUp
            y1={0}
            y2={flat(hole.point)[1]}
            x={x}
            from1={p.right + 12}
            from2={flat(hole.point)[0] + 8 * u}
            u={u}
            gap={30 * u}
          />
          <Text x={x} y={flat(hole.point)[1] / 2 - 7 * u} u={u} px={19}>
            {say(lever)}
          </Text>
        </>
      )}
    </>
  );
}

function PeakNote({
  line,
  peak,
  u,
  isRoomy,
}: {
  line: readonly Station[];
  peak: { index: number; mpa: number };
  u: number;
  isRoomy: boolean;
}) {
  const q = flat(line[peak.index]!.p);
  const at = [q[0] * 0.55, q[1] + 0.42 * (Math.max(...line.map((s) => flat(s.p)[1])) - q[1])] as const;
  return (
    <>
      <Balloon x={at[0]} y={at[1]} n={1} u={u} to={q} />
      {isRoomy && (
        <Text
          x={at[0] - Math.sign(q[0] || 1) * 20 * u}
          y={at[1] - 6 * u}
          u={u}
          px={17}
          anchor={q[0] > 0 ? "end" : "start"}
        >
          closest hatching is highest stress: {sentence(peak.mpa, undefined, "mpa", units.value)}
        </Text>
      )}
    </>
  );
}

export function peakOf(line: readonly Station[], stressAt: (s: number) => number) {
  let best = { index: 0, mpa: Number.NEGATIVE_INFINITY };
  line.forEach((q, index) => {
    const mpa = stressAt(q.s);
    if (mpa > best.mpa) best = { index, mpa };
  });
  return best;
}

function BarBody(p: {
  line: readonly Station[];
  half: number;
  u: number;
  bar: BarPicture;
  stressAt: ((s: number) => number) | null;
  isSun: boolean;
  full: number;
}) {
  const { line } = p;
  const side = (k: number) => line.map((q) => offset(q, k * widthAt(p.bar, line, q.s, p.half)));
  const outline = polyline([...side(1), ...side(-1).reverse()], true);
  return (
    <>
      <path class="fill-paper" d={outline} />
      {p.stressAt && <StressStrokes {...p} stressAt={p.stressAt} />}
      <path class="bold" d={outline} />
    </>
  );
}

function StressStrokes(p: {
  line: readonly Station[];
  half: number;
  u: number;
  bar: BarPicture;
  stressAt: (s: number) => number;
  isSun: boolean;
  full: number;
}) {
  const L = p.line.at(-1)!.s;
  const strokes = [];
  for (let s = 4; s < L - 4; ) {
    const mpa = p.stressAt(s);
    if (!isWorking(mpa, p.full)) {
      s += 3;
      continue;
    }
    const w = widthAt(p.bar, p.line, s, p.half);
    const a = offset(stationAt(p.line, s - w * 0.8), w - 0.4 * p.u);
    const b = offset(stationAt(p.line, s + w * 0.8), -w + 0.4 * p.u);
    strokes.push(
      <path
        key={strokes.length}
        class={`${hatchWeight(mpa, p.full)} dye`}
        style={{ "--strength": `${dyePercent(mpa, p.full)}%` }}
        d={straight(a[0], a[1], b[0], b[1])}
      />,
    );
    s += hatchSpacing(mpa, p.isSun, (2 * p.half) / p.u, p.full) * p.u;
  }
  return <g>{strokes}</g>;
}

// Half width of the outline: arms flattened for holes are wider near their ends.
function widthAt(bar: BarPicture, line: readonly Station[], s: number, half: number): number {
  const L = line.at(-1)!.s;
  const reach = Math.max(
    0,
    ...bar.holes.map((h) => {
      const at = line[nearest(line, h.point)]!.s;
      return Math.min(at, L - at);
    }),
  );
  const d = Math.min(s, L - s);
  const end = reach + 22;
  const wide = Math.max(half, (bar.bladeWidth ?? 0) / 2, bar.holes.length ? half * 1.35 : 0);
  if (d >= end + 20 || wide <= half) return half;
  return d <= end ? wide : half + (wide - half) * (1 - (d - end) / 20);
}

function stationAt(line: readonly Station[], s: number): Station {
  const L = line.at(-1)!.s;
  const wanted = Math.max(0, Math.min(L, s));
  let i = Math.min(line.length - 2, Math.floor((wanted / L) * (line.length - 1)));
  while (i + 2 < line.length && line[i + 1]!.s < wanted) i++;
  while (i > 0 && line[i]!.s > wanted) i--;
  const [a, b] = [line[i]!, line[i + 1]!];
  const k = (wanted - a.s) / (b.s - a.s || 1);
  const mix = (p: Vec3, q: Vec3): Vec3 => [
    p[0] + (q[0] - p[0]) * k,
    p[1] + (q[1] - p[1]) * k,
    p[2] + (q[2] - p[2]) * k,
  ];
  return { s: wanted, p: mix(a.p, b.p), t: mix(a.t, b.t) };
}

function offset(q: Station, k: number) {
  const [x, y] = flat(q.p);
  const [tx, ty] = flat(q.t);
  const l = Math.hypot(tx, ty) || 1;
  return [x - (ty / l) * k, y + (tx / l) * k] as const;
}
