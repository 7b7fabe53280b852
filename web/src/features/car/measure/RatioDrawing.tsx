// One wheel on the jack, seen from behind: the tape from hub to arch, the tape at the device. The device stands as far
// out on the arm as its ratio says, so the drawing changes with the answer. And the readings as a line.
import { circlePath, type Point, polyline, straight } from "@/charts/path";
import { Balloon, DimUp, Drawing, Ground, Text } from "@/charts/pen";
import { Axes, Label, through } from "@/charts/plot";
import { scale, span } from "@/charts/scale";
import type { RatioOf } from "./model";

const R = 305;
const HUB: Point = [560, 470]; // the wheel hangs: the car is on stands
const PIVOT: Point = [0, 430];

export function RatioDrawing(p: { of: RatioOf; ratio: number; isFound: boolean; width: number; label: string }) {
  const W = 1640;
  const u = W / p.width;
  const [x0, top, low] = [-560, 1180, 40 * u];
  const k = Math.min(0.95, Math.max(0.25, p.ratio));
  const foot: Point = [PIVOT[0] + k * (HUB[0] - PIVOT[0] - 130), PIVOT[1] + k * (HUB[1] - PIVOT[1])];
  const pen = p.isFound ? "" : "origin-guess";
  const head: Point = p.of === "link" ? [foot[0] - 10, 760] : [foot[0] - 50, 960];
  const tapeX = foot[0] - 150;
  return (
    <Drawing box={[x0, top, W, top + low]} label={p.label}>
      <Ground from={x0} to={x0 + W} u={u} />
      <path
        class="mid fill-paper"
        d={`${polyline([
          [-330, 620],
          [-180, 640],
          [-150, 1060],
          [470, 1060],
        ])}C830 ${-1060} 900 ${-920} 905 ${-700}`}
      />
      <path class="fine" d={straight(-330, 620, -330, 1060)} />
      <path
        class="mid fill-paper"
        d={polyline(
          [
            [-420, 0],
            [-320, 600],
            [-250, 600],
            [-150, 0],
          ],
          true,
        )}
      />
      <path class="thin" d={straight(-385, 220, -190, 220)} />
      <Text x={-285} y={640} u={u} px={14} class="soft">
        stand
      </Text>
      <path class="mid" d={straight(PIVOT[0], PIVOT[1], -160, 620)} />
      <path class="bold" d={straight(PIVOT[0], PIVOT[1], HUB[0] - 90, HUB[1])} />
      <path class="mid fill-paper" d={circlePath(PIVOT[0], PIVOT[1], 26)} />
      <path
        class="mid fill-paper"
        d={polyline(
          [
            [HUB[0] - 90, HUB[1] - R],
            [HUB[0] + 105, HUB[1] - R],
            [HUB[0] + 105, HUB[1] + R],
            [HUB[0] - 90, HUB[1] + R],
          ],
          true,
        )}
      />
      <path
        class="fine"
        d={
          straight(HUB[0] - 30, HUB[1] - R, HUB[0] - 30, HUB[1] + R) +
          straight(HUB[0] + 45, HUB[1] - R, HUB[0] + 45, HUB[1] + R)
        }
      />
      <path class="solid" d={circlePath(HUB[0] + 105, HUB[1], 3.5 * u)} />
      <Device of={p.of} foot={foot} head={head} pen={pen} />
      <path
        class="mid fill-paper"
        d={polyline(
          [
            [HUB[0] - 130, 0],
            [HUB[0] - 60, HUB[1] - R - 70],
            [HUB[0] + 60, HUB[1] - R - 70],
            [HUB[0] + 130, 0],
          ],
          true,
        )}
      />
      <path class="mid" d={straight(HUB[0], HUB[1] - R - 70, HUB[0], HUB[1] - R)} />
      <Text x={HUB[0]} y={40} u={u} px={14} class="soft halo">
        jack
      </Text>
      <DimUp y1={HUB[1]} y2={700} x={905} from1={HUB[0] + 105} from2={905} u={u} origin="measured" />
      <Balloon x={905 + 24 * u} y={590} u={u} n={1} />
      {p.of === "link" ? (
        <DimUp y1={0} y2={foot[1] + 10} x={tapeX} from1={tapeX} from2={foot[0]} u={u} origin="measured" />
      ) : (
        <DimUp y1={foot[1]} y2={head[1]} x={tapeX} from1={foot[0]} from2={head[0]} u={u} origin="measured" />
      )}
      <Balloon x={tapeX - 24 * u} y={p.of === "link" ? foot[1] / 2 : (foot[1] + head[1]) / 2} u={u} n={2} />
    </Drawing>
  );
}

function Device({ of, foot, head, pen }: { of: RatioOf; foot: Point; head: Point; pen: string }) {
  const along = (t: number, out = 0): Point => {
    const [dx, dy] = [head[0] - foot[0], head[1] - foot[1]];
    const l = Math.hypot(dx, dy);
    return [foot[0] + dx * t - (dy / l) * out, foot[1] + dy * t + (dx / l) * out];
  };
  if (of === "spring") {
    const coils = Array.from({ length: 13 }, (_, i) => along(i / 12, i === 0 || i === 12 ? 0 : i % 2 ? -62 : 62));
    return <path class={`mid ${pen}`} d={polyline(coils)} />;
  }
  if (of === "damper")
    return (
      <>
        <path
          class={`mid fill-paper ${pen}`}
          d={polyline([along(0.05, -38), along(0.55, -38), along(0.55, 38), along(0.05, 38)], true)}
        />
        <path class={`mid ${pen}`} d={polyline([along(0), along(0.05)]) + polyline([along(0.55), along(1)])} />
        <path class="solid" d={circlePath(foot[0], foot[1], 14) + circlePath(head[0], head[1], 14)} />
      </>
    );
  const barEnd = along(1);
  return (
    <>
      <path class={`mid ${pen}`} d={polyline([along(0), barEnd])} />
      <path class={`bold ${pen}`} d={polyline([barEnd, [barEnd[0] - 260, 700], [-420, 700]])} />
      <path class="solid" d={circlePath(foot[0], foot[1], 16) + circlePath(barEnd[0], barEnd[1], 16)} />
    </>
  );
}

// Device against wheel: the readings, the line, the ride height. What lies off the line was misread.
export function RatioPlot(p: {
  readings: readonly { wheel_mm: number; device_mm: number }[];
  residuals: readonly number[];
  ratio: number | null;
  rideHeight: number | null;
  width: number;
  label: string;
}) {
  const height = 260;
  const f = { left: 62, right: p.width - 14, top: 12, bottom: height - 50 };
  const X = scale(
    ...span([...p.readings.map((r) => r.wheel_mm), ...(p.rideHeight === null ? [] : [p.rideHeight])], 0.1),
    f.left,
    f.right,
  );
  const Y = scale(
    ...span(
      p.readings.map((r) => r.device_mm),
      0.12,
    ),
    f.bottom,
    f.top,
  );
  const fitted = p.readings.map((r, i) => [X(r.wheel_mm), Y(r.device_mm - (p.residuals[i] ?? 0))] as const);
  return (
    <svg class="dwg" viewBox={`0 0 ${p.width} ${height}`} role="img" aria-label={p.label}>
      <Axes frame={f} x={X} y={Y} xName="wheel, mm" yName="device, mm" xWanted={p.width > 500 ? 7 : 4} yWanted={4}>
        {p.rideHeight !== null && (
          <>
            <path class="thin centre" d={`M${X(p.rideHeight).toFixed(1)} ${f.top}V${f.bottom}`} />
            <Label x={X(p.rideHeight) + 6} y={f.bottom - 8} px={14} anchor="start" class="soft halo">
              ride height
            </Label>
          </>
        )}
        {p.ratio !== null && <path class="bold" d={through(fitted.toSorted((a, b) => a[0] - b[0]))} />}
        {p.readings.map((r, i) => (
          <circle key={i} class="mid fill-paper" cx={X(r.wheel_mm)} cy={Y(r.device_mm)} r={5} />
        ))}
      </Axes>
    </svg>
  );
}
