// The car on scales with one axle lifted, at the height that was lifted: why the scale under the other axle gains.
import type { DrawnCar } from "@/api/carDrawn";
import { sentence, write } from "@/base/format";
import { units } from "@/base/settings";
import { SideCar } from "@/charts/Car";
import { sideView } from "@/charts/carSide";
import { circlePath, polyline, straight } from "@/charts/path";
import { Balloon, CentreOfGravity, DimUp, Drawing, Ground, Text } from "@/charts/pen";

const PAD = 70; // mm, height of a scale as drawn

export function CgDrawing(p: {
  shape: DrawnCar;
  width: number;
  lifted: "front" | "rear";
  lift: number;
  isRead: boolean; // else the lift is only an example
  cg: { height: number; frontShare: number };
  loads: { front: number | null; rear: number | null; down: number | null };
}) {
  const { shape } = p;
  const side = sideView(shape);
  const margin = 560;
  const W = side.length + 2 * margin;
  const u = W / p.width;
  const angle = (Math.asin(Math.min(0.5, p.lift / shape.wheelbase)) * 180) / Math.PI;
  const down = p.lifted === "rear" ? side.frontAxle : side.rearAxle;
  const up = p.lifted === "rear" ? side.rearAxle : side.frontAxle;
  const turn = p.lifted === "rear" ? -angle : angle; // SVG turns clockwise for positive angles
  const rad = (turn * Math.PI) / 180;
  const R = side.tyreRadius;
  // A point of the level car after the lift: turned about the hub that stays down.
  const moved = (x: number, y: number) => {
    const [dx, dy] = [x - down, y - R];
    return [down + dx * Math.cos(rad) + dy * Math.sin(rad), R - dx * Math.sin(rad) + dy * Math.cos(rad)] as const;
  };
  const cgX = side.frontAxle + shape.wheelbase * (1 - p.cg.frontShare / 100);
  const [gx, gy] = moved(cgX, p.cg.height);
  const [hx, hy] = moved(up, R);
  const top = Math.max(shape.height, ...[0, side.length].map((x) => moved(x, shape.height)[1])) + PAD + 30 * u;
  const low = 92 * u;
  const pad = (x: number) =>
    polyline(
      [
        [x - 230, -PAD],
        [x - 230, 0],
        [x + 230, 0],
        [x + 230, -PAD],
      ],
      true,
    );
  const kg = (v: number | null) => {
    if (v === null) return "?";
    const w = write(v, undefined, "kg", units.value);
    return `${w.value} ${w.unit}`;
  };
  const level = p.lifted === "rear" ? p.loads.front : p.loads.rear;
  const out = up > down ? 1 : -1;
  return (
    <Drawing
      box={[-margin, top, W, top + PAD + low]}
      label={`The ${p.lifted} axle lifted by ${Math.round(p.lift)} mm on stands, scales under the ${p.lifted === "rear" ? "front" : "rear"} wheels`}
    >
      <g transform={`translate(0 ${PAD})`}>
        <Ground from={-margin} to={W - margin} u={u} />
      </g>
      <path class="mid fill-paper" d={pad(down)} />
      <path
        class="mid fill-paper"
        d={polyline(
          [
            [hx - 190, -PAD],
            [hx - 90, hy - R - 8],
            [hx + 90, hy - R - 8],
            [hx + 190, -PAD],
          ],
          true,
        )}
      />
      <path class="fine" d={straight(hx - 150, (hy - R) / 2 - PAD / 2, hx + 150, (hy - R) / 2 - PAD / 2)} />
      <path
        class="mid fill-paper"
        d={polyline(
          [
            [down - out * (R + 60), -PAD],
            [down - out * (R + 60), 120],
            [down - out * (R - 40), 10 - PAD],
          ],
          true,
        )}
      />
      <g transform={`rotate(${turn.toFixed(3)} ${down} ${-R})`}>
        <SideCar view={side} />
        <CentreOfGravity x={cgX} y={p.cg.height} u={u} px={11} />
      </g>
      <path class="thin centre" d={straight(cgX, p.cg.height + 20 * u, cgX, -PAD)} />
      <path class="thin centre" d={straight(gx, gy, gx, -PAD)} />
      <DimUp
        y1={R}
        y2={hy}
        x={hx + out * (R + 150)}
        from1={hx + out * R}
        from2={hx}
        u={u}
        origin={p.isRead ? "measured" : "guess"}
      />
      <path class="fine" d={straight(up, R, hx + out * (R + 150 + 6 * u), R)} />
      <path class="thin origin-guess" d={circlePath(up, R, R)} />
      <DimUp y1={0} y2={R} x={up - out * 330} from1={up} from2={up} u={u} origin="measured" />
      <DimUp
        y1={0}
        y2={R}
        x={down - out * (R + 250)}
        from1={down - out * (R + 60)}
        from2={down}
        u={u}
        origin="measured"
      />
      <path
        class="solid"
        d={polyline(
          [
            [down, -PAD - 6 * u],
            [down - 5 * u, -PAD - 22 * u],
            [down + 5 * u, -PAD - 22 * u],
          ],
          true,
        )}
      />
      <path class="thin" d={straight(down, -PAD - 20 * u, down, -PAD - 40 * u)} />
      <Text x={down} y={-PAD - 60 * u} u={u} px={17}>
        {kg(p.loads.down)}
      </Text>
      <Text x={down} y={-PAD - 80 * u} u={u} px={14} class="soft">
        {`level ${kg(level)}`}
      </Text>
      <Text x={gx - 6 * u} y={-PAD - 26 * u} u={u} px={14} class="soft halo" anchor="start">
        {`weight goes over by ${sentence(Math.abs(gx - cgX), undefined, "mm", units.value)}`}
      </Text>
      <Balloon x={down - 66 * u} y={-PAD - 74 * u} u={u} n={p.lifted === "rear" ? 1 : 2} />
      <Balloon x={hx - out * 90 - out * 20 * u} y={-PAD - 24 * u} u={u} n={p.lifted === "rear" ? 2 : 1} />
      <Balloon x={down - out * (R + 250) - out * 22 * u} y={R / 2} u={u} n={p.lifted === "rear" ? 3 : 4} />
      <Balloon x={up - out * 330 - out * 22 * u} y={R / 2} u={u} n={p.lifted === "rear" ? 4 : 3} />
      <Balloon x={hx + out * (R + 150) + out * 24 * u} y={(R + hy) / 2} u={u} n={5} />
      <Balloon x={down - 66 * u} y={-PAD - 44 * u} u={u} n={6} />
    </Drawing>
  );
}
