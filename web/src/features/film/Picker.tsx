// Marks on one frame of a film: choose the frame, point, put right under the magnifier, move to the corner.
import { useEffect, useRef, useState } from "preact/hooks";
import { askLong } from "@/api/client";
import type { LogFile } from "@/api/garage";
import type { Problem } from "@/api/types";
import type { Role } from "@/charts/marks";
import { Problems } from "@/widgets/Problems";
import { Ring } from "@/widgets/small";
import { fetchStrip, type Strip, sendFilm } from "./films";
import { Magnifier } from "./Magnifier";
import { type Marked, missing, moveMark, nextToMark, type Px, planOf, sheetOf, type Wheels } from "./model";

interface Shown {
  strip: Strip;
  time: number;
  picture: HTMLImageElement;
}

export function Picker(p: {
  role: Role;
  film: LogFile;
  marked: Marked;
  car: { trackMm: number | null; focalMm: number | null };
  onChange: (label: string, m: Marked) => void;
}) {
  const [shown, setShown] = useState<Shown | null>(null);
  const [wanted, setWanted] = useState(p.marked.time_s);
  const [busy, setBusy] = useState("");
  const [said, setSaid] = useState("");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [active, setActive] = useState<string>(nextToMark(p.marked) ?? "lamp left");

  // A drag or a run of arrow keys is one change of the garage: kept here until the hand is off or has rested.
  const [draft, setDraft] = useState<{ label: string; marked: Marked } | null>(null);
  const newest = useRef(draft);
  newest.current = draft;
  const marked = draft?.marked ?? p.marked;
  const flush = () => {
    if (!newest.current) return;
    p.onChange(newest.current.label, newest.current.marked);
    newest.current = null;
    setDraft(null);
  };
  useEffect(() => {
    if (!draft) return;
    const timer = setTimeout(flush, 400);
    return () => clearTimeout(timer);
  }, [draft]);
  useEffect(() => () => flush(), []);

  useEffect(() => {
    const stop = new AbortController();
    setBusy("fetching the picture");
    fetchStrip(p.film, [wanted], 4096, (s) => !stop.signal.aborted && setBusy(progress(s)), stop.signal)
      .then(async (reply) => {
        if (stop.signal.aborted) return;
        setBusy("");
        if (reply.problems) return setProblems(reply.problems);
        setProblems([]);
        const shot = reply.strip.shots[0]!;
        const picture = new Image();
        picture.src = shot.url;
        await picture.decode();
        if (!stop.signal.aborted) setShown({ strip: reply.strip, time: shot.time_s, picture });
      })
      .catch(() => {});
    return () => stop.abort();
  }, [p.film.id, wanted]);

  const plan = planOf(marked.wheels);
  const strip = shown?.strip;
  const size = { width: strip?.width ?? 1, height: strip?.height ?? 1 };
  const put = (to: Px) => {
    if (!shown) return;
    // Marks belong to one frame: another frame begins anew.
    const base = Math.abs(marked.time_s - shown.time) > 1e-4 ? { ...marked, at: {}, sd: {} } : marked;
    newest.current = {
      label: `${p.role} film: ${active}`,
      marked: moveMark({ ...base, time_s: shown.time }, active, to, size),
    };
    setDraft(newest.current);
  };
  const isHere = shown !== null && Math.abs(marked.time_s - shown.time) < 1e-4;
  const at = isHere ? marked.at[active] : undefined;
  const go = (by: number) => setWanted(Math.min(strip?.duration ?? 0, Math.max(0, (shown?.time ?? wanted) + by)));
  const snap = async () => {
    flush();
    const stop = new AbortController();
    setBusy("looking for the corners");
    const ready = await sendFilm(p.film, () => {}, stop.signal);
    const reply = ready.problems
      ? { problems: ready.problems, answer: undefined }
      : await askLong("test/marks", { film: ready.film, marks: sheetOf(marked, p.car) }, () => {}, stop.signal);
    setBusy("");
    if (reply.problems) return setProblems(reply.problems);
    setProblems([]);
    const next: Marked = { ...marked, at: { ...marked.at }, sd: { ...marked.sd } };
    for (const m of reply.answer.result.sheet.marks) {
      next.at[m.name] = m.px;
      if (m.sd_px != null) next.sd[m.name] = m.sd_px;
    }
    setSaid(reply.answer.result.meaning);
    p.onChange(`${p.role} film: marks to corners`, next);
  };
  const lack = missing(marked);
  const lacked = useRef<string[]>([]); // when the hand came down
  return (
    <section class="picker" aria-label={`Marks on the film ${p.role}`} onFocusOut={flush}>
      <div class="frame-choice">
        <label>
          frame at{" "}
          <input
            type="range"
            min={0}
            max={strip?.duration ?? 1}
            step={0.02}
            value={shown?.time ?? wanted}
            aria-valuetext={`${(shown?.time ?? wanted).toFixed(2)} seconds`}
            onChange={(e) => setWanted(Number(e.currentTarget.value))}
          />
        </label>
        <span class="lettering">{(shown?.time ?? wanted).toFixed(2)} s</span>
        <span class="steps">
          {(
            [
              ["−1 s", -1],
              ["−1 frame", -1 / (strip?.rate || 30)],
              ["+1 frame", 1 / (strip?.rate || 30)],
              ["+1 s", 1],
            ] as const
          ).map(([words, by]) => (
            <button key={words} type="button" onClick={() => go(by)} disabled={!shown}>
              {words}
            </button>
          ))}
        </span>
      </div>
      <p class="note">Choose a frame in which the car is near, sharp and straight. All marks go on this one frame.</p>
      <Ring
        legend="Marks at the wheels"
        showLegend
        choices={[
          { value: "tyre_contact" as Wheels, label: "where the tyres meet the road" },
          { value: "wheel_centre" as Wheels, label: "wheel centres" },
        ]}
        value={marked.wheels}
        onChange={(wheels) => p.onChange(`${p.role} film: wheels`, { ...marked, wheels })}
      />
      <div class="mark-list" role="group" aria-label="Which mark to put">
        {plan.map((m) => (
          <button
            key={m.name}
            type="button"
            class={marked.at[m.name] && isHere ? "has" : ""}
            aria-pressed={active === m.name}
            onClick={() => setActive(m.name)}
          >
            {marked.at[m.name] && isHere ? "✓ " : m.isNeeded ? "○ " : ""}
            {m.name}
            {!m.isNeeded && <small> may be left out</small>}
          </button>
        ))}
      </div>
      <p class="hint lettering">{plan.find((m) => m.name === active)?.hint}</p>
      <div class="mark-place">
        <Frame
          shown={shown}
          marked={isHere ? marked : null}
          active={active}
          plan={plan.map((m) => m.name)}
          onPut={(to, when) => {
            if (when === "down") lacked.current = lack;
            put(to);
            if (when !== "up") return;
            // The hand is off: the next one that is needed is to be put.
            flush();
            const next = lacked.current.includes(active) ? lacked.current.find((n) => n !== active) : undefined;
            if (next) setActive(next);
          }}
        />
        <div class="fine">
          {shown && at ? (
            <>
              <Magnifier
                picture={shown.picture}
                scale={shown.picture.naturalWidth / size.width}
                at={at}
                name={active}
                onMove={put}
              />
              <div class="nudges" role="group" aria-label={`Move ‘${active}’ by half a pixel`}>
                {(
                  [
                    ["←", "left", -0.5, 0],
                    ["↑", "up", 0, -0.5],
                    ["↓", "down", 0, 0.5],
                    ["→", "right", 0.5, 0],
                  ] as const
                ).map(([arrow, words, dx, dy]) => (
                  <button key={words} type="button" aria-label={words} onClick={() => put([at[0] + dx, at[1] + dy])}>
                    {arrow}
                  </button>
                ))}
              </div>
              <p class="note">
                {active}: {at[0].toFixed(1)}, {at[1].toFixed(1)} px
                {marked.sd[active] ? `, at its corner ± ${(2 * marked.sd[active]!).toFixed(1)} px` : ""}
              </p>
            </>
          ) : (
            <p class="note">Point at ‘{active}’ in the picture; its magnifier appears here.</p>
          )}
        </div>
      </div>
      <p class="act">
        <button type="button" disabled={lack.length > 0 || !isHere || busy !== ""} onClick={snap}>
          Move the marks to their corners
        </button>
      </p>
      <p aria-live="polite" class="note">
        {busy ||
          said ||
          (lack.length > 0 ? `Still to mark: ${lack.join(", ")}.` : "All marks that are needed are there.")}
      </p>
      <Problems list={problems} title="This film or these marks do not do." />
    </section>
  );
}

const progress = (s: { fraction: number; doing: string }) => `${s.doing} (${Math.round(100 * s.fraction)} %)`;

function Frame(p: {
  shown: Shown | null;
  marked: Marked | null;
  active: string;
  plan: readonly string[];
  onPut: (to: Px, when: "down" | "move" | "up") => void;
}) {
  const box = useRef<HTMLDivElement>(null);
  const isDown = useRef(false);
  const { shown } = p;
  if (!shown) return <div class="film-frame empty" />;
  const { width, height } = shown.strip;
  const place = (e: PointerEvent): Px => {
    const r = box.current!.getBoundingClientRect();
    return [((e.clientX - r.left) / r.width) * width - 0.5, ((e.clientY - r.top) / r.height) * height - 0.5];
  };
  const own = p.marked?.at[p.active];
  return (
    <div
      ref={box}
      class="film-frame"
      tabIndex={0}
      role="group"
      aria-label={`The frame at ${shown.time.toFixed(2)} s. Arrow keys move ‘${p.active}’, with Shift by ten pixels; Enter begins in the middle.`}
      onPointerDown={(e) => {
        isDown.current = true;
        box.current!.setPointerCapture(e.pointerId);
        p.onPut(place(e), "down");
      }}
      onPointerMove={(e) => isDown.current && p.onPut(place(e), "move")}
      onPointerUp={(e) => {
        if (isDown.current) p.onPut(place(e), "up");
        isDown.current = false;
      }}
      onPointerCancel={() => {
        isDown.current = false;
      }}
      onKeyDown={(e) => {
        const by = e.shiftKey ? 10 : 0.5;
        const step: Record<string, Px> = {
          ArrowLeft: [-by, 0],
          ArrowRight: [by, 0],
          ArrowUp: [0, -by],
          ArrowDown: [0, by],
        };
        const d = step[e.key];
        if (d) p.onPut(own ? [own[0] + d[0], own[1] + d[1]] : [width / 2 + d[0], height / 2 + d[1]], "move");
        else if (e.key === "Enter" && !own) p.onPut([width / 2, height / 2], "move");
        else return;
        e.preventDefault();
      }}
    >
      <img src={shown.picture.src} alt="" draggable={false} />
      <svg viewBox={`-0.5 -0.5 ${width} ${height}`} aria-hidden="true">
        {p.plan.map((name) => {
          const at = p.marked?.at[name];
          if (!at) return null;
          const r = width / (name === p.active ? 60 : 90);
          const d = `M${at[0] - r} ${at[1]}H${at[0] - r / 4}M${at[0] + r / 4} ${at[1]}H${at[0] + r}M${at[0]} ${at[1] - r}V${at[1] - r / 4}M${at[0]} ${at[1] + r / 4}V${at[1] + r}`;
          return (
            <g key={name}>
              <path class="halo-line" d={d} />
              <path class={name === p.active ? "mark-line on" : "mark-line"} d={d} />
            </g>
          );
        })}
      </svg>
    </div>
  );
}
