// Every pair of holes at its true place: lean upwards, balance across. On an upright line the balance is the same.
// The points are real choices; thin lines join one front or one rear hole; hatched ground means 'do not'.
import { plain } from "@/base/format";
import { Mark } from "./marks";
import { across, Label, through, upright } from "./plot";
import { scale, span, tickDecimals, ticks } from "./scale";

export interface HolePoint {
  id: string; // as the person writes it, "1/2": front/rear
  front: string;
  rear: string;
  lean: number; // deg/g
  share: number; // front part of the load shift, %
  leanPm?: number;
  sharePm?: number;
  isBad?: boolean; // crossed out: a limit is broken
}
export interface HoleMapProps {
  points: readonly HolePoint[];
  now: string | null;
  chosen: string | null;
  proposed?: string | null;
  badBelowShare?: number | null; // hatched ground to the right of this share
  badWhy?: string;
  width: number;
  label: string;
  onChoose?: (id: string) => void;
}

export function HoleMap(p: HoleMapProps) {
  const isRoomy = p.width >= 640;
  const height = isRoomy ? 470 : 400;
  const f = { left: isRoomy ? 58 : 44, right: p.width - 16, top: 36, bottom: height - 60 };
  const [low, high] = span(
    p.points.map((q) => q.share),
    0.14,
  );
  const X = scale(high, low, f.left, f.right); // a livelier tail to the right
  const Y = scale(
    ...span(
      p.points.map((q) => q.lean),
      0.16,
    ),
    f.bottom,
    f.top,
  );
  const shares = ticks(low, high, isRoomy ? 7 : 4);
  const leans = ticks(Y.from, Y.to, 5);
  const [ds, dl] = [tickDecimals(shares), tickDecimals(leans)];
  const bad = p.badBelowShare == null ? null : Math.max(f.left, X(p.badBelowShare));
  const lines = [...joined(p.points, "front"), ...joined(p.points, "rear")];
  return (
    <svg class="dwg" viewBox={`0 0 ${p.width} ${height}`} role="group" aria-label={p.label}>
      {bad !== null && bad < f.right && (
        <g>
          <path class="grid" d={slant(bad, f.right, f.top, f.bottom)} />
          <Label x={f.right - 6} y={f.top + 18} anchor="end" class="halo">
            {p.badWhy}
          </Label>
        </g>
      )}
      {shares.map((v) => (
        <g key={v}>
          <path class="fine" d={upright(X(v), f.top, f.bottom)} />
          <Label x={X(v)} y={f.bottom + 19} class="soft">
            {plain(v, ds)}
          </Label>
        </g>
      ))}
      {leans.map((v) => (
        <g key={v}>
          <path class="thin" d={across(f.left - 5, f.left, Y(v))} />
          <Label x={f.left - 9} y={Y(v) + 5} class="soft" anchor="end">
            {plain(v, dl)}
          </Label>
        </g>
      ))}
      <path class="mid" d={`M${f.left} ${f.top}V${f.bottom}H${f.right}`} />
      <Label x={0} y={f.top - 14} class="soft" anchor="start">
        lean, deg/g
      </Label>
      <Label x={f.right} y={f.bottom + 46} px={isRoomy ? 15 : 13} class="soft" anchor="end">
        front axle’s part of the load shift, % → livelier tail
      </Label>
      {lines.map((l) => (
        <path
          key={l.key}
          class={`fine edge${l.isRear ? " dotted" : ""}`}
          d={through(l.points.map((q) => [X(q.share), Y(q.lean)]))}
        />
      ))}
      {p.points.map((q) => (
        <MapPoint
          key={q.id}
          q={q}
          x={X(q.share)}
          y={Y(q.lean)}
          map={p}
          rx={q.sharePm ? Math.abs(X(q.sharePm) - X(0)) : 0}
          ry={q.leanPm ? Math.abs(Y(q.leanPm) - Y(0)) : 0}
        />
      ))}
    </svg>
  );
}

function MapPoint({
  q,
  x,
  y,
  map,
  rx,
  ry,
}: {
  q: HolePoint;
  x: number;
  y: number;
  map: HoleMapProps;
  rx: number;
  ry: number;
}) {
  const isNow = q.id === map.now;
  const isChosen = q.id === map.chosen;
  const choose = () => map.onChoose?.(q.id);
  return (
    <g
      class={map.onChoose ? "map-point" : ""}
      role={map.onChoose ? "button" : undefined}
      tabindex={map.onChoose ? 0 : undefined}
      aria-label={`${q.id}${isNow ? " now" : isChosen ? " this sheet" : ""}, holes front and rear: ${plain(q.lean, 2)} degrees per g, front part ${plain(q.share, 1)} percent${q.isBad ? ", do not" : ""}`}
      aria-pressed={map.onChoose ? isChosen : undefined}
      onClick={choose}
      onKeyDown={(e) => {
        if (e.key === "Enter" || e.key === " ") {
          e.preventDefault();
          choose();
        }
      }}
    >
      {map.onChoose && <circle class="hit" cx={x} cy={y} r={22} />}
      {isChosen && rx > 0 && <ellipse class="thin stroke-after dotted" cx={x} cy={y} rx={rx} ry={ry} />}
      {isNow ? (
        <Mark role="before" x={x} y={y} size={7} />
      ) : isChosen ? (
        <Mark role="after" x={x} y={y} size={7} />
      ) : q.isBad ? (
        <path class="mid" d={`M${x - 5} ${y - 5}l10 10m0 -10l-10 10`} />
      ) : (
        <circle class="solid" cx={x} cy={y} r={4.5} />
      )}
      {q.id === map.proposed && (
        <ellipse class="bold" cx={x + 16} cy={y + 12} rx={36} ry={24} transform={`rotate(-4 ${x} ${y})`} />
      )}
      <Label
        x={isNow ? x - 12 : x + 11}
        y={isNow ? y - 9 : isChosen ? y - 6 : y + 19}
        px={isNow || isChosen ? 17 : 16}
        anchor={isNow ? "end" : "start"}
        class={`halo ${isNow ? "before" : isChosen ? "after" : q.isBad ? "soft" : ""}`}
      >
        {q.id}
        {isNow ? " now" : isChosen ? " this sheet" : ""}
      </Label>
    </g>
  );
}

// Chains of points that share a front (or a rear) hole, in the order they were given.
export function joined(points: readonly HolePoint[], by: "front" | "rear") {
  const groups = new Map<string, HolePoint[]>();
  for (const q of points) groups.set(q[by], [...(groups.get(q[by]) ?? []), q]);
  return [...groups].map(([key, group]) => ({
    key: `${by}${key}`,
    isRear: by === "rear",
    points: group.toSorted((a, b) => a.share - b.share),
  }));
}

function slant(x1: number, x2: number, y1: number, y2: number): string {
  let d = "";
  const h = y2 - y1;
  for (let x = x1 - h; x < x2; x += 9) {
    const a = Math.max(x, x1);
    const b = Math.min(x + h, x2);
    if (b > a) d += `M${a.toFixed(1)} ${(y2 - (a - x)).toFixed(1)}L${b.toFixed(1)} ${(y2 - (b - x)).toFixed(1)}`;
  }
  return d;
}
