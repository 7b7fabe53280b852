// Effect against cost: every combination a mark, the best for each cost joined, with the range in which nineteen in twenty
// of the possible cars lie. The table beside it says the same.
import type { ChooseRankResult } from "@/api/types";
import { plain } from "@/base/format";
import { useRoom } from "@/base/room";
import { Axes, across, Label, through, upright } from "@/charts/plot";
import { scale } from "@/charts/scale";
import { Twin } from "@/widgets/small";
import { front } from "./model";

export function EffectCost({ r, budget }: { r: ChooseRankResult; budget: number }) {
  const [ref, room] = useRoom<HTMLElement>(640);
  const height = 340;
  const f = { left: 44, right: room.width - 18, top: 24, bottom: height - 56 };
  const dearest = Math.max(budget, ...r.choices.map((c) => c.total_cost_money), 1);
  const X = scale(0, dearest * 1.06, f.left, f.right);
  const lowest = Math.min(0, ...r.choices.map((c) => c.delivered_percent.value));
  const Y = scale(Math.min(lowest, -5), 105, f.bottom, f.top);
  const best = front(r);
  return (
    <figure ref={ref} class="effect-cost">
      <svg
        class="dwg"
        viewBox={`0 0 ${room.width} ${height}`}
        role="img"
        aria-label={`Share of the wish delivered against cost for ${r.choices.length} combinations; the best for each cost are ${best.map((c) => c.name).join(", ")}`}
      >
        <Axes
          frame={f}
          x={X}
          y={Y}
          xName={`cost, ${r.currency}`}
          yName="share of the wish, %"
          xWanted={room.width < 500 ? 4 : 6}
        >
          <path class="thin dashed" d={upright(X(budget), f.top, f.bottom)} />
          <Label x={X(budget) - 6} y={f.bottom - 8} anchor="end" class="soft halo">
            budget
          </Label>
          <path
            class="mid"
            d={through(best.map((c) => [X(c.total_cost_money), Y(c.delivered_percent.value)] as const))}
          />
          {best.map((c) => (
            <path
              key={c.name}
              class="thin"
              d={upright(
                X(c.total_cost_money),
                Y(Math.max(c.delivered_percent.low, Y.from)),
                Y(Math.min(c.delivered_percent.high, 105)),
              )}
            />
          ))}
          {r.choices.map((c) => {
            const [x, y] = [X(c.total_cost_money), Y(c.delivered_percent.value)];
            return c.is_pareto ? (
              <circle key={c.name} class="ink-fill" cx={x} cy={y} r={6} />
            ) : (
              <path key={c.name} class="thin" d={across(x - 4, x + 4, y) + upright(x, y - 4, y + 4)} />
            );
          })}
        </Axes>
      </svg>
      <figcaption>
        Discs: nothing gives more for no more money (joined). Crosses: the others. Upright lines: nineteen in twenty of
        the cars that your sheet allows.
      </figcaption>
      <Twin
        caption="Effect against cost"
        head={[
          "what",
          `cost, ${r.currency}`,
          "share of the wish",
          "even if it turns out badly",
          "regret",
          "best of all",
        ]}
        rows={r.choices.map((c) => [
          `${c.is_pareto ? "● " : ""}${c.name}`,
          plain(c.total_cost_money, 0),
          `${plain(c.delivered_percent.value, 0)} (${plain(c.delivered_percent.low, 0)} to ${plain(c.delivered_percent.high, 0)}) %`,
          `${plain(c.robust_percent, 0)} %`,
          plain(c.regret_money, 0),
          `${plain(c.chance_of_best_percent, 0)} %`,
        ])}
      />
    </figure>
  );
}
