// The bar in space with its holes to tap, each at the end of a leader so that a thumb can tell them apart. Where the
// browser cannot draw in 3-D the flat drawing says the same.
import { useEffect, useRef, useState } from "preact/hooks";
import { useRoom } from "@/base/room";
import { paper } from "@/base/settings";
import { BarFlat, type BarFlatProps, type BarPicture } from "./BarFlat";
import { nearest, sampleLine, twisted, type Vec3 } from "./barLine";
import { type Placed, spread } from "./spread";
import { USUAL_FULL } from "./stressHatch";
import type { ThreeBar } from "./threeBar";

export interface Bar3DProps extends BarFlatProps {
  travel: number; // mm each end is drawn moved, opposite ways; larger than life
  onChoose: (side: "left" | "right", id: string) => void;
}

export function Bar3D(p: Bar3DProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const three = useRef<ThreeBar | null>(null);
  const [ref, room] = useRoom<HTMLDivElement>(800);
  const [places, setPlaces] = useState<Placed[]>([]);
  const [state, setState] = useState<"loading" | "ready" | "flat">("loading");
  const paperNow = paper.value;

  useEffect(() => {
    let isGone = false;
    import("./threeBar")
      .then(({ ThreeBar }) => {
        if (isGone || !canvas.current) return;
        three.current = new ThreeBar(canvas.current);
        setState("ready");
      })
      .catch(() => setState("flat"));
    return () => {
      isGone = true;
      three.current?.close();
      three.current = null;
    };
  }, []);

  const put = () => {
    const t = three.current;
    if (!t || !canvas.current) return;
    const box = { width: canvas.current.clientWidth, height: canvas.current.clientHeight };
    const holes = shapeOf(p.bar, p.travel, p.chosen).holes;
    setPlaces(
      spread(
        p.bar.holes.map((h, i) => ({ group: h.side, ...t.place(holes[i]!) })),
        box,
      ),
    );
  };

  useEffect(() => {
    const t = three.current;
    if (state !== "ready" || !t || !canvas.current) return;
    const drawn = shapeOf(p.bar, p.travel, p.chosen);
    t.draw({
      line: drawn.line,
      shape: drawn.shape,
      radiusAt: () => Math.max(9, p.bar.diameter / 2),
      stressAt: p.stressAt ?? null,
      fullMpa: p.fullMpa ?? USUAL_FULL,
      bushings: p.bar.bushings,
      colours: coloursOf(canvas.current),
    });
    put();
  }, [state, p.bar, p.chosen.left, p.chosen.right, p.travel, p.stressAt, room.width, paperNow]);

  if (state === "flat") return <BarFlat {...p} />;
  const dragged = (dx: number, dy: number) => {
    three.current?.turn(dx, dy);
    put();
  };
  return (
    <div class="bar-3d" ref={ref} {...dragging(dragged)}>
      <canvas ref={canvas} role="img" aria-label={p.label} />
      {state === "ready" && <HoleButtons {...p} places={places} width={room.width} />}
    </div>
  );
}

function HoleButtons(p: Bar3DProps & { places: readonly Placed[] }) {
  return (
    <>
      <svg class="leaders" aria-hidden="true">
        {p.places.map((q, i) => (
          <g key={i}>
            <path class="thin" d={`M${q.x.toFixed(1)} ${q.y.toFixed(1)}L${q.atX.toFixed(1)} ${q.atY.toFixed(1)}`} />
            <circle class="solid" cx={q.atX.toFixed(1)} cy={q.atY.toFixed(1)} r="2.6" />
          </g>
        ))}
      </svg>
      {p.bar.holes.map((h, i) => {
        const q = p.places[i];
        if (!q) return null;
        const isOn = h.id === p.chosen[h.side];
        return (
          <button
            key={h.side + h.id}
            type="button"
            class="hole"
            style={{ left: `${q.x.toFixed(1)}px`, top: `${q.y.toFixed(1)}px` }}
            aria-pressed={isOn ? "true" : "false"}
            aria-label={`${h.label ?? h.id}: hole at the ${h.side} end`}
            onClick={() => p.onChoose(h.side, h.id)}
          >
            <span>{h.label ?? h.id}</span>
          </button>
        );
      })}
    </>
  );
}

function shapeOf(bar: BarPicture, travel: number, chosen: { left: string; right: string }) {
  const line = sampleLine(bar.corners, 8);
  const ys = bar.bushings.map((b) => b.point[1]);
  const levers = bar.holes.filter((h) => h.id === chosen[h.side]).map((h) => Math.hypot(h.point[0], h.point[2]));
  const ends: [number, number] = ys.length >= 2 ? [Math.min(...ys), Math.max(...ys)] : [-100, 100];
  const shape = twisted(line, ends, Math.asin(Math.max(-0.6, Math.min(0.6, travel / Math.max(60, ...levers)))));
  const holes = bar.holes.map((h): Vec3 => shape[nearest(line, h.point)]!);
  return { line, shape, holes };
}

function coloursOf(element: Element) {
  const css = getComputedStyle(element);
  const get = (name: string) => css.getPropertyValue(name).trim() || "#888";
  return {
    paper: get("--paper"),
    ink: get("--ink"),
    dye: get("--dye"),
    faint: get("--dye-faint"),
    line: get("--line"),
  };
}

// Turning by drag with mouse or finger; the picture also stands well without it.
function dragging(onMove: (dx: number, dy: number) => void) {
  let last: { x: number; y: number } | null = null;
  return {
    onPointerDown: (e: PointerEvent) => {
      if (!(e.target as Element).closest("button")) last = { x: e.clientX, y: e.clientY };
    },
    onPointerMove: (e: PointerEvent) => {
      if (!last || e.buttons === 0) {
        last = null;
        return;
      }
      onMove(e.clientX - last.x, e.clientY - last.y);
      last = { x: e.clientX, y: e.clientY };
    },
    onPointerUp: () => {
      last = null;
    },
  };
}
