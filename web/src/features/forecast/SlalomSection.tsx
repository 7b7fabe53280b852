// The slalom driven on paper, seen from above and from behind. It runs when it is told to, never by itself.
import { useEffect, useRef, useState } from "preact/hooks";
import { drawnCar } from "@/api/carDrawn";
import { askLong } from "@/api/client";
import { garage } from "@/api/garage";
import { barsFor, carFor, isChanged, setupOf } from "@/api/setups";
import type { Problem, SlalomForecast, SlalomRequestInput, SlalomResult } from "@/api/types";
import { plain, unbroken } from "@/base/format";
import { useRoom } from "@/base/room";
import { units } from "@/base/settings";
import { LeaningCars } from "@/charts/LeaningCars";
import type { Role } from "@/charts/marks";
import { SlalomAbove } from "@/charts/SlalomAbove";
import { Num } from "@/widgets/Num";
import { Problems } from "@/widgets/Problems";
import { ScaleSlider } from "@/widgets/ScaleSlider";
import { Twin } from "@/widgets/small";
import { durationOf, hitsOf, momentAt } from "./replay";

const ROLES: readonly Role[] = ["before", "after"];

export function SlalomSection() {
  const g = garage.value.value;
  const request = requestOf();
  const key = JSON.stringify(request);
  const [found, setFound] = useState<{ key: string; result: SlalomResult | null; problems: readonly Problem[] } | null>(
    null,
  );
  const [busy, setBusy] = useState<string | null>(null);
  const giveUp = useRef<AbortController | null>(null);
  useEffect(() => () => giveUp.current?.abort(), []);
  if (!request) return null;
  const drive = async () => {
    giveUp.current?.abort();
    const own = new AbortController();
    giveUp.current = own;
    setBusy("driving");
    const reply = await askLong("forecast/slalom", request, (s) => setBusy(s.doing), own.signal).catch(() => null);
    if (!reply || own.signal.aborted) return;
    setBusy(null);
    setFound({ key, result: reply.answer?.result ?? null, problems: reply.problems ?? [] });
  };
  const isStale = found !== null && found.key !== key;
  return (
    <section class="slalom screen-only">
      <h2>The slalom, on paper</h2>
      <p>
        The same driver takes {isChanged(g) ? "both cars" : "the car"} through ten cones, as fast as every cone stands.{" "}
        {isStale && "The holes have changed since: drive it again."}
      </p>
      <p class="row">
        <button type="button" onClick={drive} disabled={busy !== null}>
          {busy ? `${busy} …` : found ? "Drive it again" : "Drive it"}
        </button>
        {busy && (
          <button
            type="button"
            class="plain"
            onClick={() => {
              giveUp.current?.abort();
              setBusy(null);
            }}
          >
            give up
          </button>
        )}
      </p>
      {found && <Problems list={found.problems} />}
      {found?.result && <Replay key={found.key} r={found.result} />}
    </section>
  );
}

function requestOf(): SlalomRequestInput | null {
  const g = garage.value.value;
  const car = carFor(g);
  if (!car) return null;
  const setups = isChanged(g)
    ? [setupOf(g.before), { ...setupOf(g.after), name: g.after.name === g.before.name ? "after" : g.after.name }]
    : [setupOf(g.before)];
  return { car, bars: barsFor(g, [g.before, g.after]), setups, draws: 0 };
}

function Replay({ r }: { r: SlalomResult }) {
  const end = durationOf(r.setups);
  const [time, setTime] = useState(Math.min(end, end * 0.45));
  const [isRunning, setRunning] = useState(false);
  const [ref, room] = useRoom<HTMLDivElement>(1222);
  useEffect(() => {
    if (!isRunning) return;
    let frame = 0;
    let last = performance.now();
    const step = (now: number) => {
      const passed = (now - last) / 1000;
      last = now;
      setTime((t) => Math.min(end, t + passed));
      frame = requestAnimationFrame(step);
    };
    frame = requestAnimationFrame(step);
    return () => cancelAnimationFrame(frame);
  }, [isRunning, end]);
  useEffect(() => {
    if (time >= end) setRunning(false);
  }, [time, end]);

  const shape = drawnCar(garage.value.value.car);
  const shown = r.setups.slice(0, 2).flatMap((s, i) => {
    const now = momentAt(s.replay, time);
    return now ? [{ s, role: ROLES[i]!, now }] : [];
  });
  const toggle = () => {
    if (!isRunning && time >= end) setTime(0);
    setRunning(!isRunning);
  };
  return (
    <div ref={ref}>
      <SlalomAbove
        shape={shape}
        width={room.width}
        cones={r.cones.map((c) => ({ x: c.x_m, y: c.y_m }))}
        lanes={shown.map(({ s, role, now }) => ({
          role,
          line: s.replay.map((m) => ({ x: m.x_m, y: m.y_m, heading: m.heading_deg })),
          now: { x: now.x_m, y: now.y_m, heading: now.heading_deg },
          hits: hitsOf(s),
        }))}
        label={`From above, ${plain(time, 1)} seconds into the run`}
      />
      <div class="slalom-behind">
        <LeaningCars
          shape={shape}
          cars={shown.map(({ role, now }) => ({ role, leanDeg: now.roll_deg }))}
          times={2}
          width={Math.min(room.width, 720)}
          system={units.value}
          label={shown.map(({ role, now }) => `${role}: leans ${plain(now.roll_deg, 1)} degrees`).join("; ")}
        />
      </div>
      <div class="travel row">
        <button type="button" onClick={toggle}>
          {isRunning ? "Stop" : "Run"}
        </button>
        <div class="slalom-time">
          <ScaleSlider
            label="Time"
            unit="s"
            min={0}
            max={Math.ceil(end)}
            step={0.1}
            decimals={1}
            value={time}
            onInput={setTime}
          />
        </div>
      </div>
      <p class="lettering said-first">{unbroken(r.meaning)}</p>
      <Numbers setups={r.setups.slice(0, 2)} />
      <p class="note">
        Seen from behind, lean drawn twice. At the stated values, without their doubts. Cones only on closed private
        ground.
      </p>
    </div>
  );
}

function Numbers({ setups }: { setups: readonly SlalomForecast[] }) {
  return (
    <Twin
      caption="The run in numbers"
      head={["setup", "speed", "time", "lean per g", "the lean comes later by"]}
      rows={setups.map((s) => [
        s.name,
        <Num key="v" of={s.speed_km_per_h.value} unit="km_per_h" size="small" decimals={1} />,
        <Num key="t" of={s.time_s.value} unit="s" size="small" />,
        <Num key="k" of={s.roll_per_lateral_deg_per_g.value} unit="deg_per_g" size="small" decimals={2} />,
        <Num key="d" of={s.roll_delay_s.value} unit="s" size="small" />,
      ])}
    />
  );
}
