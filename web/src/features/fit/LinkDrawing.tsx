// The arm's end, the link below it, and the gap between eye and hole, drawn as it would look from behind.
import { sentence } from "@/base/format";
import { useRoom } from "@/base/room";
import { units } from "@/base/settings";
import { arrow, at, circlePath, hatch, polyline, straight } from "@/charts/path";
import { Balloon, Drawing, Text } from "@/charts/pen";

const EYE = 92; // mm above the lower eye, where the drawing starts

export function LinkDrawing({ gap, side }: { gap: number; side: "left" | "right" }) {
  const [ref, room] = useRoom<HTMLDivElement>(480);
  const u = 230 / room.width;
  // Drawn no smaller than can be seen and no larger than fits; the number is the truth.
  const shown = Math.sign(gap) * Math.max(3, Math.min(26, Math.abs(gap) * 1.6)) * (Math.abs(gap) < 0.05 ? 0 : 1);
  const hole = EYE + shown;
  const eye = (y: number) => circlePath(0, y, 13) + circlePath(0, y, 8);
  const way = gap < 0 ? "shorter" : "longer";
  return (
    <div ref={ref} class="link-drawing">
      <Drawing
        box={[-105, 132, 230, 132 + 34]}
        label={`The ${side} link. The gap between its eye and the hole is ${sentence(gap, undefined, "mm", units.value, { decimals: 1 })}`}
      >
        <path class="fine" d={hatch(-30, -28, 60, 8, 5 * u)} />
        <path class="bold" d={straight(-32, -20, 32, -20)} />
        <path
          class="mid"
          d={
            polyline([
              [-18, -20],
              [-11, 4],
            ]) +
            polyline([
              [18, -20],
              [11, 4],
            ])
          }
        />
        <path
          class="mid fill-paper"
          d={
            polyline(
              [
                [-5, 12],
                [-5, 30],
                [5, 30],
                [5, 12],
              ],
              true,
            ) +
            polyline(
              [
                [-5, 62],
                [-5, EYE - 12],
                [5, EYE - 12],
                [5, 62],
              ],
              true,
            )
          }
        />
        <path class="fine" d={[16, 20, 24, 66, 70, 74].map((y) => straight(-5, y, 5, y + 2.5)).join("")} />
        <path
          class="bold fill-paper"
          d={polyline(
            [
              [-8, 30],
              [-8, 62],
              [8, 62],
              [8, 30],
            ],
            true,
          )}
        />
        <path class="thin" d={straight(-3, 31, -3, 61) + straight(3, 31, 3, 61)} />
        <path
          class="mid fill-paper"
          d={
            polyline(
              [
                [-10, 26],
                [-10, 30],
                [10, 30],
                [10, 26],
              ],
              true,
            ) +
            polyline(
              [
                [-10, 62],
                [-10, 66],
                [10, 66],
                [10, 62],
              ],
              true,
            )
          }
        />
        <path class="bold fill-paper" d={eye(0)} />
        <path
          class="bold fill-paper"
          d={`M${at(-102, hole + 15)}L${at(-28, hole + 15)}A15 15 0 0 1 ${at(-28, hole - 15)}L${at(-102, hole - 15)}`}
        />
        <path class="fine" d={hatch(-102, hole - 15, 30, 30, 6 * u)} />
        <path class="mid fill-paper" d={circlePath(-32, hole, 5) + circlePath(-62, hole, 5)} />
        <path class="bold fill-paper" d={eye(EYE)} />
        <path class="thin centre" d={straight(-40, hole, 66, hole) + straight(8, EYE, 66, EYE)} />
        {Math.abs(gap) >= 0.05 && (
          <>
            <path
              class="thin"
              d={
                straight(56, Math.max(hole, EYE) + 18, 56, Math.max(hole, EYE)) +
                straight(56, Math.min(hole, EYE) - 18, 56, Math.min(hole, EYE))
              }
            />
            <path
              class="solid"
              d={arrow(56, Math.max(hole, EYE), -Math.PI / 2, u) + arrow(56, Math.min(hole, EYE), Math.PI / 2, u)}
            />
            <Text x={64} y={(hole + EYE) / 2 - 7 * u} u={u} px={22} anchor="start">
              {sentence(Math.abs(gap), undefined, "mm", units.value, { decimals: units.value === "metric" ? 1 : 2 })}
            </Text>
            <path class="bold stroke-after" d={`M${at(-17, 50)}A17 7 0 0 0 ${at(17, 50)}`} />
            <path
              class="fill-after"
              d={arrow(gap < 0 ? -17 : 17, 50.5, gap < 0 ? Math.PI * 0.62 : Math.PI * 0.38, u)}
            />
            <Text x={-22} y={48} u={u} px={19} class="after" anchor="end">
              {way}
            </Text>
          </>
        )}
        <Balloon x={-64} y={14} u={u} n={1} to={[-10, 28]} />
        <Balloon x={62} y={52} u={u} n={2} to={[10, 64]} />
      </Drawing>
    </div>
  );
}
