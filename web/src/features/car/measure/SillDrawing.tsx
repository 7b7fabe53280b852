// The car from behind with the load on its sill, leaning as the tape says; and moment against lean, going on and coming
// off. The gap between the two ways is friction.
import type { DrawnCar } from "@/api/carDrawn";
import { plain } from "@/base/format";
import { RearCar } from "@/charts/Car";
import { circlePath, polyline, straight } from "@/charts/path";
import { Balloon, DimAcross, DimUp, Drawing, Ground, Text } from "@/charts/pen";
import { Axes } from "@/charts/plot";
import { scale, span } from "@/charts/scale";

export function SillDrawing(p: {
  shape: DrawnCar;
  width: number;
  leanDeg: number; // to the right positive, as everywhere
  times: number;
  load: number | null;
  side: "left" | "right";
  place: number;
}) {
  const { shape: c } = p;
  const W = c.width + 1900;
  const u = W / p.width;
  const s = p.side === "left" ? -1 : 1;
  const sill = c.clearance + 90;
  const x = s * Math.max(p.place, c.width / 2 - 60);
  const bag = (k: number) =>
    `M${x - 150} ${-(sill + k * 130)}c-30 -50 -10 -120 40 -125h220c50 5 70 75 40 125c-20 20 -280 20 -300 0Z`;
  const bags = p.load === null ? 1 : Math.max(0, Math.min(4, Math.round(p.load / 40)));
  return (
    <Drawing
      box={[-W / 2, c.height + 90, W, c.height + 90 + 110 * u]}
      label={`From behind, ${p.load === null ? "a load" : `${Math.round(p.load)} kg`} on the ${p.side} sill: the body leans ${plain(Math.abs(p.leanDeg), 2)} degrees`}
    >
      <Ground from={-W / 2} to={W / 2} u={u} />
      <RearCar
        shape={c}
        leanDeg={p.leanDeg * p.times}
        inside={<path class="thin centre" d={straight(0, 100, 0, c.height + 60)} />}
      />
      <path class="thin" d={straight(0, 0, 0, c.height + 80)} />
      {Array.from({ length: bags }, (_, k) => (
        <path key={k} class="mid fill-paper" d={bag(k)} />
      ))}
      <DimAcross x1={Math.min(0, x)} x2={Math.max(0, x)} y={-34 * u} from={0} u={u} gap={0} origin="measured" />
      <Balloon x={x / 2} y={-62 * u} u={u} n={1} />
      {[-1, 1].map((k) => (
        <g key={k}>
          <DimUp
            y1={305}
            y2={670}
            x={k * (c.width / 2 + 190)}
            from1={(k * c.track) / 2 + k * 100}
            from2={(k * c.width) / 2}
            u={u}
            origin="measured"
          />
          <path class="solid" d={circlePath((k * c.track) / 2 + k * 98, 305, 3 * u)} />
        </g>
      ))}
      <Balloon x={c.width / 2 + 190 + 26 * u} y={490} u={u} n={2} />
      <Text x={s * (c.width / 2 + 190 + 16 * u)} y={760} u={u} px={14} class="soft" anchor={s < 0 ? "end" : "start"}>
        arch to hub
      </Text>
    </Drawing>
  );
}

export interface SillPoint {
  moment: number; // N·m
  lean: number; // degrees
  isDown: boolean;
}

export function SillPlot(p: { points: readonly SillPoint[]; width: number; label: string }) {
  const height = 280;
  const f = { left: 54, right: p.width - 14, top: 12, bottom: height - 50 };
  const X = scale(...span([0, ...p.points.map((q) => q.moment)], 0.1), f.left, f.right);
  const Y = scale(...span([0, ...p.points.map((q) => q.lean)], 0.14), f.bottom, f.top);
  const mark = (q: SillPoint) => {
    const [x, y] = [X(q.moment), Y(q.lean)];
    return q.isDown
      ? polyline(
          [
            [x - 6, -(y - 5)],
            [x + 6, -(y - 5)],
            [x, -(y + 6)],
          ],
          true,
        )
      : polyline(
          [
            [x - 6, -(y + 5)],
            [x + 6, -(y + 5)],
            [x, -(y - 6)],
          ],
          true,
        );
  };
  return (
    <svg class="dwg" viewBox={`0 0 ${p.width} ${height}`} role="img" aria-label={p.label}>
      <Axes
        frame={f}
        x={X}
        y={Y}
        xName="load × distance, N·m"
        yName="lean, degrees"
        xWanted={p.width > 500 ? 6 : 3}
        yWanted={4}
      >
        <path
          class="fine"
          d={
            p.points.length > 1
              ? `M${p.points.map((q) => `${X(q.moment).toFixed(1)} ${Y(q.lean).toFixed(1)}`).join("L")}`
              : ""
          }
        />
        {p.points.map((q, i) => (
          <path key={i} class={q.isDown ? "mid fill-paper" : "solid"} d={mark(q)} />
        ))}
      </Axes>
    </svg>
  );
}
