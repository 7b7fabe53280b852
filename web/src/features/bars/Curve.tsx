// 'At large travel': the force of the link against its travel, as the bar really bends, beside the straight line of its
// rate.
import { useState } from "preact/hooks";
import { withAllSettings } from "@/api/barSheet";
import type { BarDocument } from "@/api/garage";
import type { BarCurveRequestInput, BarSettingCurve } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { useRoom } from "@/base/room";
import { units } from "@/base/settings";
import { toShown, unitLabel } from "@/base/units";
import { Axes, across, Label, through, upright } from "@/charts/plot";
import { scale, span } from "@/charts/scale";
import { Num } from "@/widgets/Num";
import { Footing, Problems } from "@/widgets/Problems";
import { Ring, Twin } from "@/widgets/small";
import { Words } from "@/widgets/Words";

type Motion = NonNullable<BarCurveRequestInput["motion"]>;

export function Curve({ bar, setting, isOpen: opened }: { bar: BarDocument; setting: string | null; isOpen: boolean }) {
  const [isOpen, setOpen] = useState(opened);
  const [motion, setMotion] = useState<Motion>("roll");
  const [ref, room] = useRoom<HTMLElement>(800);
  const request: BarCurveRequestInput | null =
    isOpen && setting ? { bar: withAllSettings(bar), settings: [setting], motion, most_mm: 60, step_mm: 5 } : null;
  const asked = useAsk("bar/curve", request);
  const curve = request && asked.problems.length === 0 ? asked.answer?.result.settings[0] : undefined;
  return (
    <details class="twin curve" open={opened} onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>At large travel</summary>
      <Ring<Motion>
        legend="What moves"
        choices={[
          { value: "roll", label: "one up, one down" },
          { value: "one_wheel_left", label: "left wheel alone" },
          { value: "one_wheel_right", label: "right wheel alone" },
        ]}
        value={motion}
        onChange={setMotion}
      />
      <Problems list={asked.problems} />
      {curve && (
        <>
          <p class="lettering said-first">
            <Words text={asked.answer!.result.meaning} />
          </p>
          <figure ref={ref}>
            <ForceCurve curve={curve} side={motion === "one_wheel_right" ? "right" : "left"} width={room.width} />
            <figcaption>
              Solid: as it bends. Dashed: straight on at its rate at small travel.
              {curve.travel_at_yield_mm !== null && " Beyond the upright line the steel would take a set."}
            </figcaption>
          </figure>
          <CurveTable curve={curve} />
          <Footing answer={asked.answer} />
        </>
      )}
    </details>
  );
}

function ForceCurve({ curve, side, width }: { curve: BarSettingCurve; side: "left" | "right"; width: number }) {
  const system = units.value;
  const height = width >= 640 ? 360 : 300;
  const f = { left: 64, right: width - 16, top: 14, bottom: height - 52 };
  const mm = (v: number) => toShown(v, "mm", system);
  const n = (v: number) => toShown(v, "n", system);
  const points = curve.points.map(
    (q) => [mm(q.travel_mm), n(side === "left" ? q.force_left_n : q.force_right_n)] as const,
  );
  const most = Math.max(...curve.points.map((q) => Math.abs(q.travel_mm)));
  const straightAt = (travel: number) => n(curve.linear_rate_n_per_mm * travel);
  const X = scale(
    ...span(
      points.map((q) => q[0]),
      0.04,
    ),
    f.left,
    f.right,
  );
  const Y = scale(...span([...points.map((q) => q[1]), straightAt(-most), straightAt(most)], 0.06), f.bottom, f.top);
  const yields = curve.travel_at_yield_mm;
  return (
    <svg class="dwg" viewBox={`0 0 ${width} ${height}`} role="img" aria-label="Force of the link against its travel">
      <Axes
        frame={f}
        x={X}
        y={Y}
        xName={`travel of the link, ${unitLabel("mm", system)}`}
        yName={`force, ${unitLabel("n", system)}`}
        xWanted={width >= 640 ? 8 : 4}
      >
        <path class="thin" d={across(f.left, f.right, Y(0)) + upright(X(0), f.top, f.bottom)} />
        <path
          class="thin dashed"
          d={through([
            [X(mm(-most)), Y(straightAt(-most))],
            [X(mm(most)), Y(straightAt(most))],
          ])}
        />
        <path class="bold" d={through(points.map(([x, y]) => [X(x), Y(y)]))} />
        {yields !== null && (
          <>
            <path class="mid" d={upright(X(mm(yields)), f.top, f.bottom) + upright(X(mm(-yields)), f.top, f.bottom)} />
            <Label x={X(mm(yields)) - 6} y={f.bottom - 10} anchor="end" class="halo">
              yields
            </Label>
          </>
        )}
      </Axes>
    </svg>
  );
}

function CurveTable({ curve }: { curve: BarSettingCurve }) {
  return (
    <Twin
      caption={`Setting ${curve.id}: link forces on the bar, up positive`}
      head={["travel", "left link", "right link", "highest stress"]}
      rows={curve.points.map((q) => [
        <Num key="t" of={q.travel_mm} unit="mm" size="small" />,
        <Num key="l" of={q.force_left_n} unit="n" size="small" />,
        <Num key="r" of={q.force_right_n} unit="n" size="small" />,
        <Num key="s" of={q.stress_mpa} unit="mpa" size="small" />,
      ])}
    />
  );
}
