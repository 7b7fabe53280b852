// The picture around a mark, six times as large, with a cross. A finger covers what it points at; here it moves the mark by a
// sixth of its own way and covers nothing.
import { useEffect, useRef } from "preact/hooks";
import type { Px } from "./model";

const SIZE = 264; // CSS pixels, square
export const ZOOM = 6;

export function Magnifier(p: {
  picture: HTMLImageElement | null;
  scale: number; // pixels of the shown picture per pixel of the film
  at: Px;
  name: string;
  onMove: (to: Px) => void;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const grip = useRef<{ x: number; y: number; at: Px } | null>(null);
  useEffect(() => {
    const pen = canvas.current?.getContext("2d");
    if (!pen || !p.picture) return;
    const side = SIZE / ZOOM; // pixels of the film
    pen.imageSmoothingEnabled = false;
    pen.fillStyle = "#888";
    pen.fillRect(0, 0, SIZE, SIZE);
    // The centre of a pixel is its place, so the picture lies half a pixel up and left.
    const [x, y] = [p.at[0] + 0.5 - side / 2, p.at[1] + 0.5 - side / 2];
    pen.drawImage(p.picture, x * p.scale, y * p.scale, side * p.scale, side * p.scale, 0, 0, SIZE, SIZE);
    for (const [colour, width] of [
      ["#000", 3],
      ["#ffd23a", 1],
    ] as const) {
      pen.strokeStyle = colour;
      pen.lineWidth = width;
      pen.beginPath();
      const c = SIZE / 2;
      for (const [dx, dy] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        pen.moveTo(c + dx * 5, c + dy * 5);
        pen.lineTo(c + dx * 40, c + dy * 40);
      }
      pen.stroke();
    }
  });
  return (
    <canvas
      ref={canvas}
      class="magnifier"
      width={SIZE}
      height={SIZE}
      role="img"
      aria-label={`The picture around ‘${p.name}’, ${ZOOM} times as large`}
      onPointerDown={(e) => {
        e.currentTarget.setPointerCapture(e.pointerId);
        grip.current = { x: e.clientX, y: e.clientY, at: p.at };
      }}
      onPointerMove={(e) => {
        const g = grip.current;
        if (!g) return;
        // The picture follows the finger under a cross that stays.
        const shown = e.currentTarget.getBoundingClientRect().width / SIZE;
        const k = ZOOM * shown;
        p.onMove([g.at[0] - (e.clientX - g.x) / k, g.at[1] - (e.clientY - g.y) / k]);
      }}
      onPointerUp={() => {
        grip.current = null;
      }}
      onPointerCancel={() => {
        grip.current = null;
      }}
    />
  );
}
