// A quick turn of the wheel: when the car corners, when it leans, and the time between.
import type { StepForecast, StepMoment } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { plain, unbroken } from "@/base/format";
import { useRoom } from "@/base/room";
import type { Role } from "@/charts/marks";
import { strokeOf } from "@/charts/marks";
import { Axes, Label, through, upright } from "@/charts/plot";
import { scale } from "@/charts/scale";
import { Problems } from "@/widgets/Problems";
import { Twin } from "@/widgets/small";
import { MotionRows } from "./MotionRows";
import { motionRequest } from "./motionAsk";
import { passes, stepRows } from "./motionModel";

const ROLES: readonly Role[] = ["before", "after"];

export function MotionStep() {
  const request = motionRequest();
  const quick = useAsk("forecast/step", request && { ...request, draws: 0 });
  const full = useAsk("forecast/step", request && { ...request, draws: 80 });
  const isFull = full.answer !== null && !full.isAsking;
  const result = (isFull ? full.answer : (quick.answer ?? full.answer))?.result;
  const [ref, room] = useRoom<HTMLElement>(1222);
  return (
    <>
      <Problems list={quick.problems} />
      {!result && quick.problems.length === 0 && <p class="note">Turning the wheel …</p>}
      {result && (
        <>
          <p>
            At 80 km/h the wheel is turned within a tenth of a second and held, for a corner of 0.4 g. Lean is drawn
            against the time since the wheel was half way.
          </p>
          <figure ref={ref}>
            <StepPlot setups={result.setups.slice(0, 2)} width={room.width} />
            <figcaption class="note">
              Thin lines: lateral g, scaled to end where the lean ends. Bold lines: lean. The gap between a thin and a
              bold line is the lateness you feel.
            </figcaption>
          </figure>
          <p class="lettering said-first">{unbroken(result.meaning)}</p>
          <MotionRows rows={stepRows(result)} />
          <p class="note">
            {isFull ? "The line is where it lies nineteen times in twenty." : "Working out the intervals …"}
          </p>
          <StepTwin setups={result.setups.slice(0, 2)} />
        </>
      )}
    </>
  );
}

const settled = (trace: readonly StepMoment[], of: (m: StepMoment) => number) => {
  const last = trace.at(-1);
  return last ? of(last) : 0;
};

function StepPlot({ setups, width }: { setups: readonly StepForecast[]; width: number }) {
  const isRoomy = width >= 700;
  const height = isRoomy ? 380 : 320;
  const frame = { left: isRoomy ? 58 : 42, right: width - 14, top: 16, bottom: height - 56 };
  const most = Math.max(0.5, ...setups.flatMap((s) => s.trace.map((m) => m.roll_deg)));
  const until = 1.6;
  const X = scale(-0.1, until, frame.left, frame.right);
  const Y = scale(0, most * 1.15, frame.bottom, frame.top);
  return (
    <svg
      class="dwg"
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={setups
        .map(
          (s, i) =>
            `${ROLES[i]}: the lean arrives ${plain(s.roll_rise_s.value, 2)} s after the wheel, ${plain(s.roll_delay_s.value, 2)} s after the cornering force`,
        )
        .join("; ")}
    >
      <Axes
        frame={frame}
        x={X}
        y={Y}
        xName="seconds after the wheel was half way"
        yName="lean, degrees"
        xWanted={isRoomy ? 8 : 4}
      >
        <path class="thin" d={upright(X(0), frame.top, frame.bottom)} />
        {setups.map((s, i) => {
          const role = ROLES[i]!;
          const seen = s.trace.filter((m) => m.time_s <= until);
          const lean = settled(s.trace, (m) => m.roll_deg);
          const pull = settled(s.trace, (m) => m.lateral_g) || 1;
          const [a, b] = [
            passes(s.trace, (m) => m.lateral_g, 0.9 * pull),
            passes(s.trace, (m) => m.roll_deg, 0.9 * lean),
          ];
          const y = Y(0.9 * lean);
          return (
            <g key={s.name}>
              <path
                class={`fine ${strokeOf(role)}`}
                d={through(seen.map((m) => [X(m.time_s), Y((m.lateral_g / pull) * lean)]))}
              />
              <path class={`bold ${strokeOf(role)}`} d={through(seen.map((m) => [X(m.time_s), Y(m.roll_deg)]))} />
              {a !== null && b !== null && (
                <>
                  <path
                    class={`mid ${strokeOf(role).replace("dashed", "")}`}
                    d={`M${X(a).toFixed(1)} ${(y - 7).toFixed(1)}v14m0 -7H${X(b).toFixed(1)}m0 -7v14`}
                  />
                  <Label
                    x={X(Math.max(a, b)) + 8}
                    y={y + (i === 0 ? -14 : 22)}
                    px={15}
                    anchor="start"
                    class={`${role} halo`}
                  >
                    {plain((b - a) * 1000, 0)} ms
                  </Label>
                </>
              )}
              <Label x={frame.right - 4} y={Y(lean) + (i === 0 ? -10 : 20)} px={18} anchor="end" class={`${role} halo`}>
                {role}
              </Label>
            </g>
          );
        })}
      </Axes>
    </svg>
  );
}

function StepTwin({ setups }: { setups: readonly StepForecast[] }) {
  const times = (setups[0]?.trace ?? []).filter((_, i) => i % 5 === 0 && i <= 80);
  return (
    <Twin
      caption="Lean and lateral g over time"
      head={["seconds", ...setups.flatMap((_, i) => [`lean ${ROLES[i]}, degrees`, `lateral g ${ROLES[i]}`])]}
      rows={times.map((m, k) => [
        plain(m.time_s, 2),
        ...setups.flatMap((s) => {
          const at = s.trace[k * 5];
          return at ? [plain(at.roll_deg, 2), plain(at.lateral_g, 2)] : ["", ""];
        }),
      ])}
    />
  );
}
