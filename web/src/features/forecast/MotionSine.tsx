// A weave, slow and fast: lean per g and how late it comes, against how quickly the wheel goes to and fro.
import { useAsk } from "@/api/useAsk";
import { plain, unbroken } from "@/base/format";
import { useRoom } from "@/base/room";
import { Mark, type Role, strokeOf } from "@/charts/marks";
import { Axes, Label, through } from "@/charts/plot";
import { scale, span } from "@/charts/scale";
import { Num } from "@/widgets/Num";
import { Problems } from "@/widgets/Problems";
import { Twin } from "@/widgets/small";
import { motionRequest } from "./motionAsk";
import { type SineLine, sineLines } from "./motionModel";

const ROLES: readonly Role[] = ["before", "after"];

export function MotionSine() {
  const request = motionRequest();
  const { answer, problems } = useAsk("forecast/sine", request && { ...request, draws: 100 });
  const [ref, room] = useRoom<HTMLElement>(1222);
  const result = answer?.result;
  const lines = result ? sineLines(result).slice(0, 2) : [];
  return (
    <>
      <Problems list={problems} />
      {!result && problems.length === 0 && <p class="note">Weaving …</p>}
      {result && (
        <>
          <p>
            At 60 km/h the wheel goes to and fro, from once in five seconds to twice a second. A slalom is near half a
            time a second.
          </p>
          <figure ref={ref}>
            <SinePlot lines={lines} width={room.width} />
            <figcaption class="note">Bands: where it lies nineteen times in twenty.</figcaption>
          </figure>
          <p class="lettering said-first">{unbroken(result.meaning)}</p>
          <Twin
            caption="The weave in numbers"
            head={[
              "times a second",
              ...lines.flatMap((_, i) => [`lean per g ${ROLES[i]}`, `lean later by, ms ${ROLES[i]}`]),
            ]}
            rows={(lines[0]?.points ?? []).map((p, k) => [
              plain(p.hz, 1),
              ...lines.flatMap((l) => {
                const at = l.points[k];
                return at
                  ? [<Num key={`${l.name}g`} of={at.gain} unit="deg_per_g" size="small" />, plain(at.delayMs, 0)]
                  : ["", ""];
              }),
            ])}
          />
        </>
      )}
    </>
  );
}

function SinePlot({ lines, width }: { lines: readonly SineLine[]; width: number }) {
  const isRoomy = width >= 700;
  const height = isRoomy ? 380 : 320;
  const frame = { left: isRoomy ? 58 : 42, right: width - 14, top: 16, bottom: height - 56 };
  const all = lines.flatMap((l) => l.points);
  const X = scale(0, Math.max(2, ...all.map((p) => p.hz)) * 1.02, frame.left, frame.right);
  const Y = scale(0, span([0, ...all.map((p) => p.gain.high)], 0.1)[1], frame.bottom, frame.top);
  return (
    <svg
      class="dwg"
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={lines
        .map(
          (l, i) =>
            `${ROLES[i]}: ${plain(l.points[0]?.gain.value ?? 0, 1)} degrees per g slowly, ${plain(l.points.at(-1)?.gain.value ?? 0, 1)} quickly`,
        )
        .join("; ")}
    >
      <Axes frame={frame} x={X} y={Y} xName="times a second, Hz" yName="lean, degrees per g" xWanted={isRoomy ? 8 : 4}>
        {lines.map((l, i) => {
          const role = ROLES[i]!;
          return (
            <g key={l.name}>
              <path
                class={`band-${role}`}
                d={`${through([...l.points.map((p) => [X(p.hz), Y(p.gain.high)] as const), ...[...l.points].reverse().map((p) => [X(p.hz), Y(p.gain.low)] as const)])}Z`}
              />
              <path class={`bold ${strokeOf(role)}`} d={through(l.points.map((p) => [X(p.hz), Y(p.gain.value)]))} />
              {l.points.map((p) => (
                <Mark key={p.hz} role={role} x={X(p.hz)} y={Y(p.gain.value)} />
              ))}
              {l.points[0] && (
                <Label
                  x={X(l.points[0].hz) + 6}
                  y={Y(l.points[0].gain.value) + (i === 0 ? -14 : 26)}
                  px={18}
                  anchor="start"
                  class={`${role} halo`}
                >
                  {role}
                </Label>
              )}
            </g>
          );
        })}
      </Axes>
    </svg>
  );
}
