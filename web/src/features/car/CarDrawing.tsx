// The car with its dimensions; where the numbers stand on a wide sheet is worked out here too, so that drawing and
// fields cannot drift apart.
import type { DrawnCar } from "@/api/carDrawn";
import type { Origin } from "@/base/estimate";
import { RearCar, SideCar } from "@/charts/Car";
import { sideView } from "@/charts/carSide";
import { circlePath, polyline, straight } from "@/charts/path";
import { Balloon, CentreOfGravity, DimAcross, DimUp, Drawing, Ground, Leader } from "@/charts/pen";
import type { AxlePath } from "./fields";

export interface Place {
  x: number; // fractions of the drawing
  y: number;
  isRight: boolean;
}
export interface CarDrawingProps {
  shape: DrawnCar;
  axle: AxlePath;
  width: number;
  isOnDrawing: boolean; // numbers stand on the drawing; else balloons do
  originOf: (key: string) => Origin;
  numberOf: (key: string) => number; // of the balloon
  open: string | null;
  cg: { height: number; frontShare: number; rollCentre: number };
}

interface Layout {
  x0: number;
  top: number;
  W: number;
  H: number;
  u: number;
  rearX: number;
  spots: Map<string, readonly [number, number]>;
}

export function layoutOf(p: Pick<CarDrawingProps, "shape" | "axle" | "width" | "isOnDrawing" | "cg">): Layout {
  const { shape: c, isOnDrawing: on } = p;
  const side = sideView(c);
  const half = c.width / 2;
  const margin = on ? 640 : 420;
  const rearX = side.length + (on ? 620 : 420) + half;
  const right = rearX + half + (on ? 1500 : 520);
  const W = right + margin;
  const u = W / p.width;
  const top = c.height + (on ? 128 * u : 34 * u);
  const low = on ? 178 * u : 66 * u;
  const { frontAxle: xf, rearAxle: xr } = side;
  const a = (k: string) => `${p.axle}.${k}`;
  const rowX = rearX + half + 128 * u;
  const spots = new Map<string, readonly [number, number]>();
  const cgX = cgAt(side, c, p.cg);
  if (on) {
    spots.set("wheelbase_mm", [(xf + xr) / 2, -58 * u]);
    spots.set("mass_kg", [cgX, c.height + 74 * u]);
    spots.set("front_weight_share_percent", [xf, -128 * u]);
    spots.set("cg_height_mm", [Math.min(cgX + 250 * u, xr + 120 * u), c.height + 74 * u]);
    spots.set(a("track_mm"), [rearX, -86 * u]);
    [
      "spring_rate_n_per_mm",
      "spring_motion_ratio",
      "bar_rate_per_side_n_per_mm",
      "bar_motion_ratio",
      "tyre.vertical_rate_n_per_mm",
    ].forEach((k, i) => {
      spots.set(a(k), [rowX, c.height + 34 * u - i * ((c.height + 70 * u) / 4.6)]);
    });
    spots.set(a("roll_centre_height_mm"), [rearX, c.height + 74 * u]);
  } else {
    spots.set("wheelbase_mm", [(xf + xr) / 2, -32 * u]);
    spots.set("mass_kg", [cgX - 40 * u, c.height * 0.8]);
    spots.set("front_weight_share_percent", [xf, -44 * u]);
    spots.set("cg_height_mm", [cgX + 26 * u, p.cg.height * 0.5]);
    spots.set(a("track_mm"), [rearX, -32 * u]);
    spots.set(a("spring_rate_n_per_mm"), [rearX + half * 0.4, c.height * 0.62]);
    spots.set(a("spring_motion_ratio"), [rearX + half * 0.82 + 26 * u, c.height * 0.78]);
    spots.set(a("bar_rate_per_side_n_per_mm"), [rearX - half * 0.1, 330]);
    spots.set(a("bar_motion_ratio"), [rearX - half * 0.62, c.height * 0.42]);
    spots.set(a("tyre.vertical_rate_n_per_mm"), [rearX + half + 24 * u, c.height * 0.3]);
    spots.set(a("roll_centre_height_mm"), [rearX - half * 0.1, c.height + 16 * u]);
  }
  return { x0: -margin, top, W, H: top + low, u, rearX, spots };
}

const cgAt = (side: { frontAxle: number }, c: DrawnCar, cg: { frontShare: number }) =>
  side.frontAxle + c.wheelbase * (1 - cg.frontShare / 100);

export function placesOf(layout: Layout): Map<string, Place> {
  const places = new Map<string, Place>();
  for (const [key, [x, y]] of layout.spots) {
    const fx = (x - layout.x0) / layout.W;
    places.set(key, { x: fx, y: (layout.top - y) / layout.H, isRight: fx > 0.6 });
  }
  return places;
}

export function CarDrawing(p: CarDrawingProps) {
  const l = layoutOf(p);
  const { shape: c } = p;
  const side = sideView(c);
  const { u, rearX } = l;
  const lit = (key: string) => p.open === key;
  const spot = (key: string) => l.spots.get(key)!;
  const gap = p.isOnDrawing ? 0 : 28 * u;
  const cgX = cgAt(side, c, p.cg);
  const wb = spot("wheelbase_mm");
  const trackKey = `${p.axle}.track_mm`;
  return (
    <Drawing
      box={[l.x0, l.top, l.W, l.H]}
      label="Side and end view of the car with its dimensions; the numbers are in the fields"
    >
      <Ground from={on(p) ? l.x0 * 0.6 : l.x0} to={l.x0 + l.W - (p.isOnDrawing ? 950 : 20)} u={u} />
      <SideCar view={side} />
      <RearCar shape={c} x={rearX} />
      <path class="thin centre" d={straight(rearX, -16 * u, rearX, c.height + 16 * u)} />
      <path
        class="solid"
        d={circlePath(side.frontAxle, side.tyreRadius, 3 * u) + circlePath(side.rearAxle, side.tyreRadius, 3 * u)}
      />
      <DimAcross
        x1={side.frontAxle}
        x2={side.rearAxle}
        y={wb[1]}
        from={0}
        u={u}
        gap={p.isOnDrawing ? 176 * u : gap}
        origin={p.originOf("wheelbase_mm")}
        isLit={lit("wheelbase_mm")}
      />
      <DimAcross
        x1={rearX - c.track / 2}
        x2={rearX + c.track / 2}
        y={p.isOnDrawing ? -44 * u : spot(trackKey)[1]}
        from={0}
        u={u}
        gap={gap}
        origin={p.originOf(trackKey)}
        isLit={lit(trackKey)}
      />
      <CentreOfGravity x={cgX} y={p.cg.height} u={u} px={p.isOnDrawing ? 11 : 7} />
      <DimUp
        y1={0}
        y2={p.cg.height}
        x={cgX}
        from1={cgX}
        from2={cgX}
        u={u}
        origin={p.originOf("cg_height_mm")}
        isLit={lit("cg_height_mm")}
      />
      <Inside rearX={rearX} c={c} p={p} lit={lit} />
      {p.isOnDrawing ? (
        <Leaders {...p} l={l} cgX={cgX} frontAxle={side.frontAxle} lit={lit} />
      ) : (
        [...l.spots].map(([key, [x, y]]) => <Balloon key={key} x={x} y={y} u={u} n={p.numberOf(key)} />)
      )}
    </Drawing>
  );
}

const on = (p: CarDrawingProps) => p.isOnDrawing;

// Spring, bar and link of the axle, drawn through the body.
function Inside({ rearX, c, p, lit }: { rearX: number; c: DrawnCar; p: CarDrawingProps; lit: (k: string) => boolean }) {
  const right = rearX + c.track / 2;
  const left = rearX - c.track / 2;
  const a = (k: string) => `${p.axle}.${k}`;
  const coils = Array.from(
    { length: 7 },
    (_, i) => [right - 250 + (i === 0 || i === 6 ? 0 : i % 2 ? -55 : 55), 200 + i * 60] as const,
  );
  const pencil = (k: string) => (["typical", "guess"].includes(p.originOf(a(k))) ? `origin-${p.originOf(a(k))}` : "");
  const bar = polyline([
    [left + 110, 360],
    [left + 140, 215],
    [right - 140, 215],
    [right - 110, 360],
  ]);
  return (
    <>
      <g class={lit(a("spring_rate_n_per_mm")) ? "lit" : ""}>
        <path class={`mid ${pencil("spring_rate_n_per_mm")}`} d={polyline(coils)} />
      </g>
      <g class={lit(a("bar_rate_per_side_n_per_mm")) || lit(a("bar_motion_ratio")) ? "lit" : ""}>
        <path class={`bold ${pencil("bar_rate_per_side_n_per_mm")}`} d={bar} />
      </g>
    </>
  );
}

function Leaders({
  l,
  cgX,
  frontAxle,
  lit,
  ...p
}: CarDrawingProps & { l: Layout; cgX: number; frontAxle: number; lit: (k: string) => boolean }) {
  const { u, rearX } = l;
  const c = p.shape;
  const right = rearX + c.track / 2;
  const a = (k: string) => `${p.axle}.${k}`;
  const beside = (key: string) => {
    const [x, y] = l.spots.get(key)!;
    return [x - 92 * u, y] as const;
  };
  const to: [string, readonly [number, number]][] = [
    [a("spring_rate_n_per_mm"), [right - 210, 470]],
    [a("spring_motion_ratio"), [right - 250, 260]],
    [a("bar_rate_per_side_n_per_mm"), [rearX + 120, 215]],
    [a("bar_motion_ratio"), [right - 120, 310]],
    [a("tyre.vertical_rate_n_per_mm"), [right + 60, 80]],
  ];
  const [mx, my] = l.spots.get("mass_kg")!;
  const [gx, gy] = l.spots.get("cg_height_mm")!;
  const [rx, ry] = l.spots.get(a("roll_centre_height_mm"))!;
  const share = l.spots.get("front_weight_share_percent")!;
  return (
    <>
      {to.map(([key, point]) => (
        <Leader key={key} points={[beside(key), point]} u={u} origin={p.originOf(key)} isLit={lit(key)} />
      ))}
      <Leader
        points={[
          [mx, my - 26 * u],
          [cgX, p.cg.height + 12 * u],
        ]}
        u={u}
        origin={p.originOf("mass_kg")}
        isLit={lit("mass_kg")}
      />
      <Leader
        points={[
          [gx - 60 * u, gy - 24 * u],
          [cgX + 4 * u, p.cg.height * 0.45],
        ]}
        u={u}
        origin={p.originOf("cg_height_mm")}
        isLit={lit("cg_height_mm")}
      />
      <Leader
        points={[
          [rx, ry - 26 * u],
          [rearX, p.cg.rollCentre],
        ]}
        u={u}
        origin={p.originOf(a("roll_centre_height_mm"))}
        isLit={lit(a("roll_centre_height_mm"))}
      />
      <g class={lit("front_weight_share_percent") ? "lit" : ""}>
        <path class="thin" d={straight(frontAxle, share[1] + 26 * u, frontAxle, -12 * u)} />
        <path
          class="solid"
          d={polyline(
            [
              [frontAxle, -6 * u],
              [frontAxle - 4 * u, -18 * u],
              [frontAxle + 4 * u, -18 * u],
            ],
            true,
          )}
        />
      </g>
    </>
  );
}
