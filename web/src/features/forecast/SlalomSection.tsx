// The slalom driven on paper, seen from above and from behind. It runs when it is told to, never by itself.
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { drawnCar } from "@/api/carDrawn";
import { askLong } from "@/api/client";
import { garage } from "@/api/garage";
import { barsFor, carFor, isChanged, setupOf } from "@/api/setups";
import type { Problem, SlalomRequestInput, SlalomResult } from "@/api/types";
import { plain, unbroken } from "@/base/format";
import { useRoom } from "@/base/room";
import { units } from "@/base/settings";
import { LeaningCars } from "@/charts/LeaningCars";
import type { Role } from "@/charts/marks";
import { SlalomAbove } from "@/charts/SlalomAbove";
import { Num } from "@/widgets/Num";
import { Problems } from "@/widgets/Problems";
import { ScaleSlider } from "@/widgets/ScaleSlider";
import { Ring, Twin } from "@/widgets/small";
import { MotionDelay } from "./MotionDelay";
import { durationOf, hitsOf, momentAt } from "./replay";

const ROLES: readonly Role[] = ["before", "after"];

type Course = "slalom" | "lane_change";
const COURSES: readonly { value: Course; label: string; words: string }[] = [
  { value: "slalom", label: "a slalom", words: "seven cones, 18 m apart" },
  { value: "lane_change", label: "a lane change", words: "the lane change of ISO 3888-2" },
];
const PACES = [
  { value: "1", label: "true" },
  { value: "0.25", label: "a quarter" },
  { value: "0.1", label: "a tenth" },
] as const;

export function SlalomSection() {
  const g = garage.value.value;
  const [course, setCourse] = useState<Course>("slalom");
  const request = requestOf(course);
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
      <h2>Among the cones, on paper</h2>
      <p>
        The same driver takes {isChanged(g) ? "both cars" : "the car"} through{" "}
        {COURSES.find((c) => c.value === course)?.words}, as fast as every cone stands.{" "}
        {isStale && "The question has changed since: drive it again."}
      </p>
      <Ring legend="The course" choices={COURSES} value={course} onChange={setCourse} />
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

function requestOf(course: Course): SlalomRequestInput | null {
  const g = garage.value.value;
  const car = carFor(g);
  if (!car) return null;
  const setups = isChanged(g)
    ? [setupOf(g.before), { ...setupOf(g.after), name: g.after.name === g.before.name ? "after" : g.after.name }]
    : [setupOf(g.before)];
  return { car, bars: barsFor(g, [g.before, g.after]), setups, course };
}

function Replay({ r }: { r: SlalomResult }) {
  const end = durationOf(r.setups);
  const [time, setTime] = useState(Math.min(end, end * 0.45));
  const [isRunning, setRunning] = useState(false);
  const [pace, setPace] = useState<(typeof PACES)[number]["value"]>("1");
  const [ref, room] = useRoom<HTMLDivElement>(1222);
  useEffect(() => {
    if (!isRunning) return;
    let frame = 0;
    let last = performance.now();
    const step = (now: number) => {
      const passed = (now - last) / 1000;
      last = now;
      setTime((t) => Math.min(end, t + passed * Number(pace)));
      frame = requestAnimationFrame(step);
    };
    frame = requestAnimationFrame(step);
    return () => cancelAnimationFrame(frame);
  }, [isRunning, end, pace]);
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
      <Ring legend="Pace of the replay" showLegend choices={PACES} value={pace} onChange={setPace} />
      <MotionDelay runs={shown} time={time} width={room.width} />
      <p class="note">
        This moment, close up. Thin: how hard the corner pulls. Bold: the lean, drawn to the same height. Where the bold
        line runs behind the thin one, the body is late.
      </p>
      <p class="lettering said-first">{unbroken(r.meaning)}</p>
      <Numbers r={r} />
      <p class="note">
        Seen from behind, lean drawn twice. The drawing is at the stated values; the table has the doubts. Cones only on
        closed private ground.
      </p>
    </div>
  );
}

function Numbers({ r }: { r: SlalomResult }) {
  const setups = r.setups.slice(0, 2);
  return (
    <>
      {setups.map(
        (s, i) =>
          s.trouble && (
            <p key={s.name} class="note">
              {ROLES[i]}: {s.clean ? "a little faster, and " : ""}
              {s.trouble}.
            </p>
          ),
      )}
      <Twin
        caption="The run in numbers"
        head={["setup", "speed", "time", "lean per g", "the lean comes later by"]}
        rows={[
          ...setups.map((s) => [
            s.name,
            <Num key="v" of={s.speed_km_per_h} unit="km_per_h" size="small" />,
            <Num key="t" of={s.time_s} unit="s" size="small" />,
            <Num key="k" of={s.roll_per_lateral_deg_per_g} unit="deg_per_g" size="small" />,
            <Num key="d" of={s.roll_delay_s} unit="s" size="small" />,
          ]),
          ...r.changes
            .slice(0, 1)
            .map((c) => [
              "difference",
              <Num key="v" of={c.speed_km_per_h} unit="km_per_h" size="small" signed />,
              <Num key="t" of={c.time_s} unit="s" size="small" signed />,
              <Num key="k" of={c.roll_per_lateral_percent} unit="percent" size="small" signed />,
              "",
            ]),
        ]}
      />
      <Twin
        caption="Cone by cone"
        summary="Cone by cone"
        head={["cone", ...setups.flatMap((_, i) => [`lean ${ROLES[i]}`, `lateral g ${ROLES[i]}`, `room ${ROLES[i]}`])]}
        rows={(setups[0]?.passes ?? []).map((_, k) => [
          String(k + 1),
          ...setups.flatMap<ComponentChildren>((s) => {
            const q = s.passes[k];
            return q
              ? [
                  <Num key={`${s.name}l`} of={q.roll_deg} unit="deg" size="small" />,
                  <Num key={`${s.name}g`} of={q.lateral_g} unit="g" size="small" />,
                  <Num key={`${s.name}c`} of={q.clearance_mm} unit="mm" size="small" />,
                ]
              : ["", "", ""];
          }),
        ])}
      />
    </>
  );
}
