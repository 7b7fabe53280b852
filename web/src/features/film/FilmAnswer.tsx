// What the films say: the answer first, lean over time with its band, the cones, what spoiled it.
import { useEffect, useRef, useState } from "preact/hooks";
import type { FilmRoll, TestVideoResult } from "@/api/types";
import { MarkInText, type Role } from "@/charts/marks";
import { Num, Said } from "@/widgets/Num";
import { type FlagKind, Flags, Twin } from "@/widgets/small";
import { type FilmLine, FilmPlot } from "./FilmPlot";

export function FilmAnswer(p: { result: TestVideoResult; lines: readonly FilmLine[]; at: number | null }) {
  const { result: r, lines } = p;
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(700);
  useEffect(() => {
    const look = new ResizeObserver(([e]) => e && setWidth(Math.max(300, Math.round(e.contentRect.width))));
    if (box.current) look.observe(box.current);
    return () => look.disconnect();
  }, []);
  const flags = lines.flatMap((l) =>
    l.film.flags.map((f) => ({
      key: l.role + f.code,
      kind: (f.is_serious ? "out" : "mind") as FlagKind,
      text: lines.length > 1 ? `${l.role}: ${f.text}` : f.text,
    })),
  );
  return (
    <>
      <section class="film-answer" aria-live="polite">
        <p class="lettering said-first">{r.meaning}</p>
        {r.change && (
          <>
            <Num of={r.change.change_percent} unit="percent" size="hero" signed />
            <p class="note">
              change of lean at equal time from cone to cone{r.change.is_certain ? "" : "; it may be nothing"}
            </p>
          </>
        )}
        <div class={lines.length === 2 ? "both" : ""}>
          {lines.map((l) => (
            <OneFilm key={l.role} role={l.role} film={l.film} />
          ))}
        </div>
      </section>
      <figure ref={box}>
        <FilmPlot
          lines={lines}
          width={width}
          at={p.at}
          label={`Lean over time, ${lines.map((l) => l.role).join(" and ")}; the same numbers are in the tables`}
        />
        <figcaption>
          Lean of the body against the road; the band is 95 % for the shape. The zero of the whole line is known to{" "}
          {lines.map((l) => `± ${l.film.zero_pm_deg.toFixed(2)}° (${l.role})`).join(", ")}: lean from side to side, lean
          per g and the change do not need it.
        </figcaption>
      </figure>
      <Twin
        caption="Lean at each cone"
        summary="Every cone as a table"
        head={["cone", "time", "peak lean", "side to side, half", "lateral g"]}
        rows={lines.flatMap((l) =>
          l.film.cones.map((c, i) => [
            `${l.role} ${i + 1}, passed on its ${c.is_left ? "left" : "right"}`,
            `${c.time_s.toFixed(2)} s`,
            <Num key="p" of={c.peak_deg} unit="deg" size="small" signed />,
            <Num key="s" of={c.swing_deg} unit="deg" size="small" />,
            c.lateral_g === null ? "–" : <Num key="g" of={c.lateral_g} unit="g" size="small" decimals={2} signed />,
          ]),
        )}
      />
      {lines.map((l) => (
        <Twin
          key={l.role}
          caption={`Lean over time, ${l.role}`}
          summary={`Lean over time as a table (${l.role})`}
          head={["time", "lean", "± of the shape"]}
          rows={thinned(l.film).map((f) => [
            `${f.time_s.toFixed(2)} s`,
            <Num key="r" of={f.roll_deg} unit="deg" size="small" signed />,
            `${(1.96 * f.standard_error_deg).toFixed(2)}°`,
          ])}
        />
      ))}
      <h2>What the films are like</h2>
      <Flags list={flags.length > 0 ? flags : [{ key: "clean", kind: "good", text: "Nothing spoiled the films." }]} />
      <Twin
        caption="What the films are like"
        summary="Size, frames, camera"
        head={["film", "picture", "coding", "frames", "car, tyre to tyre", "yaw up to", "camera"]}
        rows={lines.map(({ role, film: { quality: q } }) => [
          role,
          `${q.width_px} × ${q.height_px}${q.turned_deg ? `, turned by ${q.turned_deg}°` : ""}`,
          q.coding,
          `${q.frames_followed} of ${q.frames} followed, ${q.dropped_frames} dropped`,
          `${q.largest_car_width_px} to ${q.smallest_car_width_px} px`,
          `${q.largest_yaw_deg.toFixed(0)}°`,
          q.camera_moved ? "moved; taken out" : q.camera_is_known ? "stood still" : "not known",
        ])}
      />
    </>
  );
}

// A table of thousands of rows helps nobody: ten a second.
const thinned = (film: FilmRoll) => {
  let last = Number.NEGATIVE_INFINITY;
  return film.frames.filter((f) => {
    if (f.time_s - last < 0.099) return false;
    last = f.time_s;
    return true;
  });
};

function OneFilm({ role, film }: { role: Role; film: FilmRoll }) {
  return (
    <div>
      <p class={role}>
        <MarkInText role={role} /> {role}
      </p>
      {film.mean_swing_deg ? (
        <p>
          <Num of={film.mean_swing_deg} unit="deg" size="big" role={role} />{" "}
          <span class="note">to each side at the cones</span>
        </p>
      ) : (
        <p class="note">No swings stand out from the noise.</p>
      )}
      {film.roll_gradient_deg_per_g && (
        <p class="note">
          Lean per lateral g <Said of={film.roll_gradient_deg_per_g} unit="deg_per_g" />
        </p>
      )}
      {film.log?.text && <p class="note">{film.log.text}</p>}
      {film.cone_time_s && <p class="note">{film.cone_time_s.value.toFixed(2)} s from cone to cone</p>}
    </div>
  );
}
