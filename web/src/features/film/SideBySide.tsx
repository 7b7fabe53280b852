// Before and after at the same cone, with the lean drawn in; stills and a clip of it to keep.
import { useEffect, useRef, useState } from "preact/hooks";
import type { LogFile } from "@/api/garage";
import type { FilmRoll, Problem } from "@/api/types";
import type { Role } from "@/charts/marks";
import { Problems } from "@/widgets/Problems";
import { drawLean, partAround, save } from "./draw";
import { fetchStrip, type Strip } from "./films";
import { frameAt, timeAt } from "./model";

const PER_CONE = 16; // pictures from cone to cone: even slow slaloms move by less than they can be seen to
const WIDTH = 1600; // of the whole picture, of which the part with the car is shown

export interface FilmSide {
  role: Role;
  film: LogFile;
  roll: FilmRoll;
  cones: readonly number[];
}
interface Loaded {
  strip: Strip;
  pictures: HTMLImageElement[];
}

export function SideBySide({ sides, onPhase }: { sides: readonly FilmSide[]; onPhase: (phase: number) => void }) {
  const [loaded, setLoaded] = useState<Loaded[] | null>(null);
  const [busy, setBusy] = useState("");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [phase, setPhase] = useState(0);
  const [isPlaying, setPlaying] = useState(false);
  const canvases = useRef<(HTMLCanvasElement | null)[]>([]);
  const last = Math.max(0, sides[0]!.cones.length - 1);
  const steps = Math.max(1, last * PER_CONE);
  const key = JSON.stringify(sides.map((s) => [s.film.id, s.cones]));
  useEffect(() => {
    setLoaded(null);
    setPlaying(false);
  }, [key]);

  const timesOf = (s: FilmSide) => Array.from({ length: steps + 1 }, (_, i) => timeAt(s.cones, i / PER_CONE));
  const load = async () => {
    const stop = new AbortController();
    setProblems([]);
    const got: Loaded[] = [];
    for (const s of sides) {
      const reply = await fetchStrip(
        s.film,
        timesOf(s),
        WIDTH,
        (j) => setBusy(`${s.role}: ${j.doing} (${Math.round(100 * j.fraction)} %)`),
        stop.signal,
      );
      if (reply.problems) {
        setBusy("");
        return setProblems(reply.problems);
      }
      const pictures = await Promise.all(
        reply.strip.shots.map(async (shot) => {
          const picture = new Image();
          picture.src = shot.url;
          await picture.decode();
          return picture;
        }),
      );
      got.push({ strip: reply.strip, pictures });
    }
    setBusy("");
    setLoaded(got);
  };

  const draw = (at: number) => {
    const i = Math.round(at * PER_CONE);
    loaded?.forEach((l, k) => {
      const s = sides[k]!;
      const picture = l.pictures[Math.min(i, l.pictures.length - 1)];
      const canvas = canvases.current[k];
      if (!picture || !canvas) return;
      const time = l.strip.shots[Math.min(i, l.strip.shots.length - 1)]!.time_s;
      const frame = frameAt(s.roll.frames, time, 0.05);
      // Where the car is hidden the nearest frame in which it was seen says where to look.
      const near = frame ?? frameAt(s.roll.frames, time, 5);
      drawLean(canvas, picture, near && partAround(near), { title: s.role, frame, filmWidth: l.strip.width });
    });
  };
  useEffect(() => {
    draw(phase);
    onPhase(phase);
  }, [phase, loaded]);
  useEffect(() => {
    if (!isPlaying) return;
    // At the pace of the film before, so that both go by in its time.
    const span = timeAt(sides[0]!.cones, last) - timeAt(sides[0]!.cones, 0);
    const timer = setInterval(
      () => setPhase((old) => (old >= last - 1e-6 ? 0 : Math.min(last, old + 1 / PER_CONE))),
      (1000 * span) / steps,
    );
    return () => clearInterval(timer);
  }, [isPlaying, key]);

  // One picture of what is shown: both films side by side.
  const together = (onto: HTMLCanvasElement) => {
    const shown = canvases.current.filter((c): c is HTMLCanvasElement => c !== null).slice(0, sides.length);
    const width = shown.reduce((sum, c) => sum + c.width, 0);
    const height = Math.max(...shown.map((c) => c.height));
    if (onto.width !== width || onto.height !== height) [onto.width, onto.height] = [width, height];
    const pen = onto.getContext("2d")!;
    let x = 0;
    for (const c of shown) {
      pen.drawImage(c, x, 0);
      x += c.width;
    }
  };
  const still = () => {
    const canvas = document.createElement("canvas");
    together(canvas);
    canvas.toBlob((blob) => blob && save(blob, `lean-at-cone-${(phase + 1).toFixed(1)}.png`), "image/png");
  };
  const clip = async () => {
    const canvas = document.createElement("canvas");
    draw(0);
    together(canvas);
    const recorder = new MediaRecorder(canvas.captureStream(25), { videoBitsPerSecond: 6e6 });
    const parts: Blob[] = [];
    recorder.ondataavailable = (e) => parts.push(e.data);
    const done = new Promise((r) => {
      recorder.onstop = r;
    });
    setPlaying(false);
    recorder.start();
    const span = timeAt(sides[0]!.cones, last) - timeAt(sides[0]!.cones, 0);
    for (let i = 0; i <= steps; i++) {
      setBusy(`recording the clip (${Math.round((100 * i) / steps)} %)`);
      draw(i / PER_CONE);
      together(canvas);
      await new Promise((r) => setTimeout(r, (1000 * span) / steps));
    }
    recorder.stop();
    await done;
    setBusy("");
    draw(phase);
    save(new Blob(parts, { type: recorder.mimeType }), "lean.webm");
  };

  return (
    <section class="side-by-side" aria-label="Pictures at the same cone">
      <h2>{sides.length === 2 ? "Side by side at the same cone" : "The lean in the picture"}</h2>
      {!loaded && (
        <p class="act">
          <button type="button" onClick={load} disabled={busy !== ""}>
            Show the pictures
          </button>
        </p>
      )}
      <p aria-live="polite" class="note">
        {busy}
      </p>
      <Problems list={problems} />
      {loaded && (
        <>
          <div class={`shots n${sides.length}`}>
            {sides.map((s, k) => (
              <canvas
                key={s.role}
                ref={(c) => {
                  canvases.current[k] = c;
                }}
                role="img"
                aria-label={`The film ${s.role} at cone ${(phase + 1).toFixed(1)}, with the lines of body and tyres`}
              />
            ))}
          </div>
          <p class="note">
            The car is always shown at the same size. Solid: line of the body. Dashed: line from tyre to tyre. They are
            where the fit puts them, so they stay when a lamp is hidden; seen at a yaw they are not parallel even when
            the car is upright.
          </p>
          <div class="frame-choice">
            <label>
              cone{" "}
              <input
                type="range"
                min={0}
                max={last}
                step={1 / PER_CONE}
                value={phase}
                aria-valuetext={`cone ${(phase + 1).toFixed(1)}`}
                onInput={(e) => {
                  setPlaying(false);
                  setPhase(Number(e.currentTarget.value));
                }}
              />
            </label>
            <span class="lettering">{(phase + 1).toFixed(1)}</span>
            <span class="steps">
              <button type="button" aria-pressed={isPlaying} onClick={() => setPlaying(!isPlaying)}>
                {isPlaying ? "stop" : "run"}
              </button>
              <button type="button" onClick={still}>
                Save this picture
              </button>
              {typeof MediaRecorder !== "undefined" && (
                <button type="button" onClick={clip} disabled={busy !== ""}>
                  Save the clip
                </button>
              )}
            </span>
          </div>
        </>
      )}
    </section>
  );
}
