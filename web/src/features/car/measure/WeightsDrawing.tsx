// Four scales under four wheels, from above: each wheel's load as an area, and the two diagonals that the cross weight
// compares. The readings stand around it, each at its wheel.
import type { DrawnCar } from "@/api/carDrawn";
import { sentence } from "@/base/format";
import { units } from "@/base/settings";
import { Strokes } from "@/charts/Car";
import { carAbove } from "@/charts/carAbove";
import { straight } from "@/charts/path";
import { CentreOfGravity, Drawing, Hatched, Text } from "@/charts/pen";
import { CORNERS, type Corner, type Four } from "./model";

export function WeightsDrawing(p: {
  shape: DrawnCar;
  width: number;
  loads: Four;
  cross: { value: number; pm: number } | null;
  floor: Four | null; // kg of each reading that come from the floor
}) {
  const { shape: c } = p;
  const height = c.wheelbase + 1900;
  const W = c.width + 1500;
  const u = W / p.width;
  const place: Record<Corner, readonly [number, number]> = {
    front_left: [-c.track / 2, c.wheelbase / 2],
    front_right: [c.track / 2, c.wheelbase / 2],
    rear_left: [-c.track / 2, -c.wheelbase / 2],
    rear_right: [c.track / 2, -c.wheelbase / 2],
  };
  const all = CORNERS.map((k) => p.loads[k] ?? 0);
  const total = all.reduce((a, b) => a + b, 0);
  const most = Math.max(1, ...all);
  // The middle of the four loads is where the weight acts, seen from above.
  const cg = CORNERS.reduce(
    ([x, y], k): readonly [number, number] => [
      x + ((p.loads[k] ?? 0) / (total || 1)) * place[k][0],
      y + ((p.loads[k] ?? 0) / (total || 1)) * place[k][1],
    ],
    [0, 0] as readonly [number, number],
  );
  const diagonal = (a: Corner, b: Corner) => straight(...place[a], ...place[b]);
  return (
    <Drawing box={[-W / 2, height / 2 - 60, W, height - 120]} label="The car from above on four scales; area is load">
      <g transform="rotate(-90)">
        <Strokes of={carAbove(c)} />
      </g>
      <path class="thin centre" d={diagonal("front_left", "rear_right")} />
      <path class="mid" d={diagonal("front_right", "rear_left")} />
      {CORNERS.map((k) => {
        const load = p.loads[k];
        const side = load === null ? 300 : 620 * Math.sqrt(load / most);
        const [x, y] = place[k];
        const floor = p.floor?.[k];
        return (
          <g key={k}>
            <rect class="thin fill-paper" x={x - 340} y={-y - 340} width={680} height={680} />
            {load === null ? (
              <Text x={x} y={y - 12 * u} u={u} px={28} class="soft">
                ?
              </Text>
            ) : (
              <>
                <Hatched
                  x={x - side / 2}
                  y={y - side / 2}
                  width={side}
                  height={side}
                  spacing={8 * u}
                  cross={k.startsWith("rear")}
                />
                <Text x={x} y={y - 6 * u} u={u} px={18} class="halo">
                  {sentence(load, undefined, "kg", units.value)}
                </Text>
                {floor != null && Math.abs(floor) >= 0.5 && (
                  <Text x={x} y={y - 26 * u} u={u} px={13} class="soft halo">
                    {`floor ${sentence(floor, undefined, "kg", units.value, { signed: true })}`}
                  </Text>
                )}
              </>
            )}
          </g>
        );
      })}
      {total > 0 && p.cross && <CentreOfGravity x={cg[0]!} y={cg[1]!} u={u} />}
      {p.cross && (
        <Text x={0} y={-c.wheelbase * 0.19} u={u} px={17} class="halo">
          {`cross ${sentence(p.cross.value, p.cross.pm, "percent", units.value)}`}
        </Text>
      )}
    </Drawing>
  );
}
