// A workshop door from outside: open on a finished drawing, or half open on a car in dotted pencil.

import { sentence } from "@/base/format";
import { useRoom } from "@/base/room";
import { units } from "@/base/settings";
import { RearCar } from "@/charts/Car";
import type { CarShape } from "@/charts/carShape";
import { polyline, straight } from "@/charts/path";
import { DimAcross, Drawing, Ground, Text } from "@/charts/pen";

const HALF = 1400;
const TOP = 1900;
const SLAT = 118;

export function Door({ shape, shutter, known }: { shape: CarShape; shutter: number; known: boolean }) {
  const [ref, room] = useRoom<HTMLDivElement>(560);
  const u = 4000 / room.width;
  const slats: number[] = [];
  for (let y = shutter; y < TOP - 20; y += SLAT) slats.push(y);
  const lamp = (s: number) =>
    straight(s * 1750, 1500, s * 1750, 1650) +
    polyline(
      [
        [s * 1750 - 90, 1500],
        [s * 1750 + 90, 1500],
        [s * 1750 + 50, 1580],
        [s * 1750 - 50, 1580],
      ],
      true,
    );
  return (
    <div ref={ref}>
      <Drawing
        box={[-2000, 2060, 4000, 2060 + 300 + 20 * u]}
        label={
          known
            ? "An open workshop door with a finished drawing of a car inside"
            : "A half open workshop door with a car in dotted pencil behind it"
        }
      >
        <g class={known ? "" : "in-pencil"}>
          <RearCar shape={shape} />
        </g>
        <g class="shutter">
          <rect class="fill-paper" x={-HALF} y={-TOP} width={2 * HALF} height={TOP - shutter} />
          {slats.map((y, i) => (
            <path key={y} class={i === 0 ? "mid" : "fine"} d={straight(-HALF, y, HALF, y)} />
          ))}
          <path class="mid" d={straight(-120, shutter + 45, 120, shutter + 45)} />
        </g>
        <rect class="fill-paper" x={-HALF - 110} y={-TOP - 110} width={2 * HALF + 220} height={110} />
        <path
          class="bold"
          d={polyline([
            [-HALF, 0],
            [-HALF, TOP],
            [HALF, TOP],
            [HALF, 0],
          ])}
        />
        <path
          class="thin"
          d={
            polyline([
              [-HALF - 110, 0],
              [-HALF - 110, TOP + 110],
              [HALF + 110, TOP + 110],
              [HALF + 110, 0],
            ]) +
            lamp(-1) +
            lamp(1)
          }
        />
        <Ground from={-2000} to={2000} u={u} />
        <DimAcross
          x1={-shape.track / 2}
          x2={shape.track / 2}
          y={-210}
          from={0}
          u={u}
          gap={(known ? 104 : 50) * u}
          origin={known ? "measured" : "guess"}
        />
        <Text x={0} y={-210 - 7 * u} u={u} px={20} class={known ? "" : "soft"}>
          {known ? sentence(shape.track, undefined, "mm", units.value) : "?"}
        </Text>
      </Drawing>
    </div>
  );
}
