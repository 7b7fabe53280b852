// 'How well is that known?' A value, a difference and a ratio of the same lean on one scale: what is doubtful about the
// car is doubtful before and after alike, and cancels.
import type { CompareResult } from "@/api/types";
import type { Interval } from "@/base/estimate";
import { plain } from "@/base/format";
import { useRoom } from "@/base/room";
import { across, upright } from "@/charts/plot";
import { scale } from "@/charts/scale";
import { Num } from "@/widgets/Num";

export interface Known {
  key: string;
  name: string;
  of: Interval;
  unit: "deg_per_g" | "percent";
  part: number; // ± as a part of the lean before, in per cent
  pen: string;
}

export function known(result: CompareResult): Known[] {
  const [before, after] = result.setups;
  const c = result.changes[0];
  if (!before || !after || !c) return [];
  const lean = before.roll_gradient_deg_per_g;
  const part = (i: Interval) => (100 * i.pm) / lean.value;
  return [
    {
      key: "before",
      name: "the lean, before",
      of: lean,
      unit: "deg_per_g",
      part: part(lean),
      pen: "stroke-before dashed",
    },
    {
      key: "after",
      name: "the lean, after",
      of: after.roll_gradient_deg_per_g,
      unit: "deg_per_g",
      part: part(after.roll_gradient_deg_per_g),
      pen: "stroke-after",
    },
    {
      key: "difference",
      name: "the difference",
      of: c.roll_gradient_deg_per_g,
      unit: "deg_per_g",
      part: part(c.roll_gradient_deg_per_g),
      pen: "",
    },
    {
      key: "ratio",
      name: "after against before",
      of: c.roll_gradient_change_percent,
      unit: "percent",
      part: c.roll_gradient_change_percent.pm,
      pen: "",
    },
  ];
}

export function KnownHow({ result }: { result: CompareResult }) {
  const [ref, room] = useRoom<HTMLElement>(500);
  const rows = known(result);
  const most = Math.max(...rows.map((r) => r.part));
  if (rows.length === 0 || !(most > 0)) return null;
  const width = Math.min(240, room.width * 0.4);
  const X = scale(-most, most, 8, width - 8);
  return (
    <section class="known" ref={ref}>
      <h2>How well is that known?</h2>
      <p>
        The lean itself to ±{plain(rows[0]!.part, 0)} %; how much it changes to ±{plain(rows[3]!.part, 1)} points: what
        is doubtful about the car is doubtful before and after alike.
      </p>
      <dl>
        {rows.map((r) => (
          <div key={r.key}>
            <dt>{r.name}</dt>
            <dd>
              <svg class="dwg known-bar" style={{ width: `${width}px` }} viewBox={`0 0 ${width} 26`} aria-hidden="true">
                <path class="fine" d={upright(X(0), 2, 24)} />
                <path class={`bold ${r.pen}`} d={across(X(-r.part), X(r.part), 13)} />
                <path class={`mid ${r.pen}`} d={upright(X(-r.part), 7, 19) + upright(X(r.part), 7, 19)} />
              </svg>
              <Num of={r.of} unit={r.unit} size="small" signed={r.key === "difference" || r.key === "ratio"} />
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
