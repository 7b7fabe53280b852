// 'Where does it let go?' Steady cornering from straight ahead to the limit.
import { garage } from "@/api/garage";
import { isChanged } from "@/api/setups";
import type { TurnForecast, TurnRequestInput, TurnResult } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { plain } from "@/base/format";
import { useRoom } from "@/base/room";
import { useSeen, useSettled } from "@/base/seen";
import { units } from "@/base/settings";
import { toShown, unitLabel } from "@/base/units";
import { MarkInText, type Role } from "@/charts/marks";
import { TurnCurves } from "@/charts/TurnCurves";
import { Num, Said } from "@/widgets/Num";
import { Problems } from "@/widgets/Problems";
import { Caution, Twin } from "@/widgets/small";
import { Words } from "@/widgets/Words";
import { comparison } from "./request";
import { endsFirst, gradient, gradientKnown, gripUsed, innerLoad, pointNear } from "./turn";

const ROLES: readonly Role[] = ["before", "after"];

export function TurnSection() {
  const g = garage.value.value;
  const [ref, seen] = useSeen<HTMLElement>();
  const wanted: TurnRequestInput | null = seen ? comparison(g) : null;
  const request = useSettled(wanted);
  const asked = useAsk("forecast/turn", request && { ...request, draws: 200 });
  const result = request && asked.problems.length === 0 ? (asked.answer?.result ?? null) : null;
  return (
    <section class="turn" ref={ref} id="turn">
      <h2>Where does it let go?</h2>
      <Problems list={asked.problems} />
      {result ? <Turn result={result} changed={isChanged(g)} /> : <p class="note">Cornering up to the limit …</p>}
    </section>
  );
}

function Turn({ result, changed }: { result: TurnResult; changed: boolean }) {
  const [ref, room] = useRoom<HTMLElement>(1000);
  const setups = changed ? result.setups.slice(0, 2) : result.setups.slice(0, 1);
  const system = units.value;
  const events = setups
    .flatMap((s, i) => s.events.map((e) => ({ ...e, role: ROLES[i]! })))
    .map((e, i) => ({ ...e, n: i + 1 }));
  const change = changed ? result.changes[0] : undefined;
  return (
    <>
      <p class="lettering said-first">
        <Words text={result.meaning} />
      </p>
      <div class="turn-heads">
        {setups.map((s, i) => (
          <Limit key={s.name} s={s} role={ROLES[i]!} />
        ))}
        {change && (
          <div>
            <h3>The limit changes by</h3>
            <Num of={change.limit_g} unit="g" size="big" signed />
            <p>
              Known closer than the limit itself: what is doubtful about the tyres is doubtful before and after alike.
            </p>
          </div>
        )}
      </div>
      <Caution title="Find it on paper, not on the road.">
        The limit is that of an even, dry road and a steady hand. Bumps, braking and haste bring it down. On closed
        private ground only, gently at first, if at all.
      </Caution>
      <figure ref={ref}>
        <TurnCurves
          width={room.width}
          loadUnit={unitLabel("kg", system)}
          perKg={toShown(1, "kg", system)}
          cars={setups.map((s, i) => ({
            role: ROLES[i]!,
            limit: s.limit_g,
            grip: { front: gripUsed(s, "front"), rear: gripUsed(s, "rear") },
            gradient: gradient(s),
            known: gradientKnown(s),
            inner: { front: innerLoad(s, "front"), rear: innerLoad(s, "rear") },
            events: events.filter((e) => e.role === ROLES[i]).map((e) => ({ n: e.n, g: e.lateral_g })),
          }))}
          label={setups.map((s) => `${s.name}: limit ${plain(s.limit_g.value, 2)} g, ${endsFirst(s)}`).join(". ")}
        />
        <figcaption>
          Thick lines: front axle, thin: rear. The shaded band is where the limit lies nineteen times in twenty.
          Whiskers: how well the gradient is known in gentle corners, at 4 and at 6 m/s².
        </figcaption>
      </figure>
      {events.length > 0 ? (
        <ol class="notes">
          {events.map((e) => (
            <li key={e.n}>
              <span class={e.role}>{e.role}</span>: the {e.wheel} wheel {e.what} at <Said of={e.lateral_g} unit="g" />.
            </li>
          ))}
        </ol>
      ) : (
        <p>No wheel lifts and no bump stop is met before the limit.</p>
      )}
      <TurnTable setups={setups} />
    </>
  );
}

function Limit({ s, role }: { s: TurnForecast; role: Role }) {
  return (
    <div>
      <h3 class={role}>
        <MarkInText role={role} />
        {role}
      </h3>
      <Num of={s.limit_g} unit="g" size="big" role={role} />
      <p>
        There {endsFirst(s)}. The other axle has <Said of={s.other_axle_margin_percent} unit="percent" decimals={0} />{" "}
        of its grip left, and it leans <Said of={s.roll_at_limit_deg} unit="deg" />.{" "}
        {s.drive_limit_g !== null && (
          <>
            From <Said of={s.drive_limit_g} unit="g" /> on the driven wheels cannot hold the speed: the inner one spins
            first.
          </>
        )}
      </p>
    </div>
  );
}

function TurnTable({ setups }: { setups: readonly TurnForecast[] }) {
  const system = units.value;
  const kg = (n: number) => plain(toShown(n / 9.80665, "kg", system), 0);
  const rows = setups.flatMap((s) =>
    [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2].flatMap((g) => {
      const p = pointNear(s, g);
      return p
        ? [
            [
              s.name,
              plain(p.lateral_g, 2),
              plain(p.roll_deg, 1),
              plain(p.understeer_deg_per_g, 1),
              plain(p.front_grip_used_percent, 0),
              plain(p.rear_grip_used_percent, 0),
              p.load_n.map(kg).join(" · "),
            ],
          ]
        : [];
    }),
  );
  return (
    <Twin
      caption={`Steady cornering to the left; loads front left, front right, rear left, rear right in ${unitLabel("kg", system)}`}
      head={["setup", "g", "lean, °", "pushes wide, deg/g", "front grip, %", "rear grip, %", "wheel loads"]}
      rows={rows}
    />
  );
}
