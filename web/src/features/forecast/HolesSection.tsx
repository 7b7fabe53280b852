// All holes at once: lean against balance, for the wish of the person, with the best named and the reason.
import { useState } from "preact/hooks";
import { type AxleName, type Choice, garage, holeInWords } from "@/api/garage";
import { allBars, carFor } from "@/api/setups";
import type { HolePoint, HolesResult } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { asEstimate } from "@/base/estimate";
import { plain, unbroken } from "@/base/format";
import { useRoom } from "@/base/room";
import { HoleMap } from "@/charts/HoleMap";
import { Num } from "@/widgets/Num";
import { Problems } from "@/widgets/Problems";
import { Pick, Ring, Twin } from "@/widgets/small";
import { barKey, type MapEntry, mapPoints } from "./model";

const WISHES = [
  { value: "less_lean_same_balance", label: "less lean, same balance" },
  { value: "less_lean", label: "less lean" },
  { value: "more_turn_in", label: "a livelier tail" },
  { value: "less_tail_happy", label: "a calmer tail" },
] as const;
const TAIL_HAPPY = 10; // points of the front's part below its part of the weight, as the program cautions
type Wish = (typeof WISHES)[number]["value"];

export function HolesSection() {
  const g = garage.value.value;
  const bars = allBars(g);
  const car = carFor(g);
  const wish = (g.wish.holes as Wish | undefined) ?? "less_lean_same_balance";
  const [withMixed, setMixed] = useState<"same" | "mixed">("same");
  const asked = useAsk("forecast/holes", car && bars.length > 0 ? { car, bars, wish } : null);
  const [ref, room] = useRoom<HTMLElement>(850);
  const result = asked.answer?.result ?? null;
  const names = (axle: AxleName) => g.bars[axle].map((b) => b.name);
  const points = result ? mapPoints(result.points, names("front"), names("rear"), withMixed === "mixed") : [];
  const key = barKey(names("front"), names("rear"));
  const share = useAsk("car/typical", car && { car }).answer?.result.car.front_weight_share_percent;
  const chosen = points.find((p) => isChoice(p.source, g.after));
  const now = points.find((p) => isChoice(p.source, g.before));
  const best = result?.best[0] ? points.find((p) => p.source === result.points[result.best[0]!.point]) : undefined;
  if (bars.length === 0) return null;
  const take = (id: string) => {
    const p = points.find((q) => q.id === id);
    if (p) putOn(p.source);
  };
  return (
    <section class="map-section">
      <div class="row">
        <h2>All holes: lean against balance</h2>
        <Pick
          label="I want"
          choices={WISHES}
          value={wish}
          onChange={(v) => garage.change("wish", (old) => ({ ...old, wish: { ...old.wish, holes: v } }))}
        />
        <Ring
          legend="Holes shown"
          choices={[
            { value: "same", label: "same both ends" },
            { value: "mixed", label: "mixed ones too" },
          ]}
          value={withMixed}
          onChange={setMixed}
        />
      </div>
      <Problems list={asked.problems} />
      {result && (
        <div class="columns">
          <figure ref={ref}>
            <HoleMap
              points={points}
              now={now?.id ?? null}
              chosen={chosen && chosen !== now ? chosen.id : null}
              proposed={best && best !== chosen && best !== now ? best.id : null}
              badBelowShare={share == null ? null : asEstimate(share)!.value - TAIL_HAPPY}
              badWhy="the tail may come round"
              width={room.width}
              onChoose={take}
              label="Lean against balance for every pair of holes; tap one to put it on this sheet"
            />
            <figcaption>
              Each point is one pair of holes, front/rear; 0 is the bar that is on the car
              {withMixed === "mixed" ? ", 1·2 is hole 1 left and 2 right" : ""}. On an upright line the balance is the
              same. Thin lines join one front or one rear hole. A cross: something speaks against it. Hatched ground:
              the rear takes so much of the load that the tail may come round when you lift off.
            </figcaption>
            {key.length > 0 && (
              <ul class="bar-key" aria-label="Which bar is which on the map">
                {key.map((k) => (
                  <li key={k.axle + k.letter}>
                    <b class="lettering">{k.letter}</b> {k.axle}: {k.bar}
                  </li>
                ))}
              </ul>
            )}
          </figure>
          <Proposal result={result} best={best} chosen={chosen} onTake={putOn} />
        </div>
      )}
      {result && <MapTable points={points} />}
    </section>
  );
}

function Proposal(p: {
  result: HolesResult;
  best: MapEntry | undefined;
  chosen: MapEntry | undefined;
  onTake: (point: HolePoint) => void;
}) {
  const { result, chosen } = p;
  return (
    <div aria-live="polite">
      <p class="lettering said-first">{unbroken(result.meaning)}</p>
      <ol class="notes">
        {result.best.map((b) => {
          const point = result.points[b.point]!;
          return (
            <li key={b.point}>
              {b.why}
              <br />
              <button type="button" class="plain" onClick={() => p.onTake(point)}>
                {point.is_now ? "leave it as it is" : holesInWords(point)}
              </button>
            </li>
          );
        })}
      </ol>
      {chosen?.isBad && (
        <div class="against-it">
          <b class="lettering">Against {chosen.id}:</b>
          {chosen.source.cautions.map((c) => (
            <p key={c}>{c}</p>
          ))}
        </div>
      )}
    </div>
  );
}

function MapTable({ points }: { points: readonly MapEntry[] }) {
  return (
    <Twin
      caption="Every pair of holes"
      head={["front/rear", "lean", "front part", "inner rear lifts at", "against it"]}
      rows={points.map((q) => [
        q.id,
        <Num key="l" of={q.source.roll_gradient_deg_per_g} unit="deg_per_g" size="small" decimals={2} />,
        <Num key="s" of={q.source.front_load_transfer_share_percent} unit="percent" size="small" />,
        `${plain(q.source.rear_wheel_lift_g.value, 2)} g`,
        q.isBad ? `${q.source.cautions.length}` : "–",
      ])}
    />
  );
}

const holesInWords = (p: HolePoint) => {
  const part = (axle: AxleName) => {
    const setting = p[`${axle}_setting`];
    return p[`${axle}_bar`] ? `${axle} hole ${holeInWords(setting)}` : `${axle} as it is`;
  };
  return `try ${part("front")}, ${part("rear")}`;
};

function isChoice(p: HolePoint, c: Choice): boolean {
  const same = (axle: AxleName) =>
    (c[axle].bar ?? "") === p[`${axle}_bar`] && (c[axle].bar === null || c[axle].setting === p[`${axle}_setting`]);
  return same("front") && same("rear");
}

function putOn(p: HolePoint) {
  const axle = (a: AxleName) =>
    p[`${a}_bar`] ? { bar: p[`${a}_bar`], setting: p[`${a}_setting`] } : { bar: null, setting: null };
  garage.change("holes", (g) => ({ ...g, after: { ...g.after, front: axle("front"), rear: axle("rear") } }));
}
