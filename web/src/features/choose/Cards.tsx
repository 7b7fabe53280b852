// What could be bought alone, as cards on a line of money with the budget marked.
import type { ChooseRankResult } from "@/api/types";
import { plain } from "@/base/format";
import { useRoom } from "@/base/room";
import { across, Label, upright } from "@/charts/plot";
import { scale, ticks } from "@/charts/scale";
import { cardsOf } from "./model";

export function Cards({ r, budget }: { r: ChooseRankResult; budget: number }) {
  const [ref, room] = useRoom<HTMLElement>(640);
  const list = cardsOf(r);
  if (list.length === 0) return null;
  const row = 20;
  const top = 30;
  const height = top + row * list.length + 34;
  const most = Math.max(budget * 1.15, ...list.map(({ of: c }) => c.price_money.high));
  const X = scale(0, most, 34, room.width - 16);
  return (
    <section>
      <h2>On the line of your budget</h2>
      <figure ref={ref}>
        <svg
          class="dwg"
          viewBox={`0 0 ${room.width} ${height}`}
          role="img"
          aria-label={`Price ranges of ${list.length} things you could buy, budget ${r.currency} ${plain(budget, 0)}`}
        >
          {ticks(0, most, room.width < 500 ? 4 : 7).map((v) => (
            <g key={v}>
              <path class="grid" d={upright(X(v), top - 6, height - 30)} />
              <Label x={X(v)} y={height - 10} class="soft">
                {plain(v, 0)}
              </Label>
            </g>
          ))}
          <path class="mid" d={upright(X(budget), top - 8, height - 30)} />
          <Label x={X(budget)} y={top - 12} class="halo">
            budget
          </Label>
          {list.map(({ of: c }, i) => {
            const y = top + row * i + 10;
            return (
              <g key={c.name}>
                <path class="thin" d={across(X(Math.max(c.price_money.low, 0)), X(c.price_money.high), y)} />
                <circle class="ink-fill" cx={X(c.price_money.value)} cy={y} r={5} />
                <Label x={16} y={y + 5} class="soft">
                  {i + 1}
                </Label>
              </g>
            );
          })}
        </svg>
        <figcaption>
          Dot: usual price, {r.currency}, with what it also causes. Line: the trade’s range. The numbers are those of
          the cards.
        </figcaption>
      </figure>
      <ol class="cards">
        {list.map(({ of: c, holes }) => (
          <li key={c.name} class={c.is_affordable ? "" : "out-of-reach"}>
            <b class="lettering">{c.name}</b>
            {holes > 1 && <span class="note">the best of its {holes} settings for this wish</span>}
            <span>
              {c.has_price
                ? `${r.currency} ${plain(Math.max(c.price_money.low, 0), 0)} to ${plain(c.price_money.high, 0)}`
                : "no price yet"}
              , {plain(c.work_h.value, 1)} h
            </span>
            <span>
              alone: {plain(c.delivered_percent.value, 0)} % of the wish, {plain(c.probability_percent, 0)} in 100 for
              all of it
            </span>
            {c.also_causes.length > 0 && <span>also causes: {c.also_causes.join(", ")}</span>}
            {c.needs.length > 0 && <span>needs: {c.needs.join(", ")}</span>}
            <span class="note">
              {c.is_affordable ? "" : "beyond your budget, hours or rules; "}
              {c.can_be_undone ? "can be put back" : "cannot be put back"}
            </span>
            <details>
              <summary>Where this comes from</summary>
              <p>{c.origin}</p>
              {c.notes && <p>{c.notes}</p>}
            </details>
          </li>
        ))}
      </ol>
    </section>
  );
}
