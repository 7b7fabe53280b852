// The lean drawn into a picture of the film: the line from tyre to tyre, the line of the body, and the angle between them in
// words. Light on dark, so that it can be seen on any paint; the two lines differ by dash as well as by colour.
import type { FilmFrame } from "@/api/types";
import { leanInWords } from "./model";

export interface Drawing {
  title: string; // "before"
  frame: Pick<FilmFrame, "roll_deg" | "body_line_px" | "wheel_line_px"> | null;
  filmWidth: number; // the lines count in pixels of the film
}

export const SHOT: [number, number] = [800, 560];
const AROUND = 2.6; // widths of the shown part, in distances from tyre to tyre

// The part of the film that is shown: the car, always at the same size, so that two films can be compared.
export interface Part {
  x: number;
  y: number;
  width: number; // pixels of the film
}
export function partAround(frame: Pick<FilmFrame, "body_line_px" | "wheel_line_px">): Part {
  const [l, r] = frame.wheel_line_px as Line;
  const body = frame.body_line_px as Line;
  const width = AROUND * Math.hypot(r[0] - l[0], r[1] - l[1]);
  const height = (width * SHOT[1]) / SHOT[0];
  const top = Math.min(body[0][1], body[1][1]);
  const low = Math.max(l[1], r[1]);
  // The car stands somewhat below the middle, as its roof is above the marked line.
  return { x: (l[0] + r[0]) / 2 - width / 2, y: (top + low) / 2 - 0.56 * height, width };
}

export function drawLean(canvas: HTMLCanvasElement, picture: HTMLImageElement, part: Part | null, d: Drawing) {
  const pen = canvas.getContext("2d");
  if (!pen) return;
  const size = SHOT;
  if (canvas.width !== size[0] || canvas.height !== size[1]) [canvas.width, canvas.height] = size;
  const p = part ?? { x: 0, y: 0, width: d.filmWidth };
  const own = picture.naturalWidth / d.filmWidth; // pixels of the picture per pixel of the film
  const k = size[0] / p.width;
  pen.fillStyle = "#444";
  pen.fillRect(0, 0, size[0], size[1]);
  pen.drawImage(picture, p.x * own, p.y * own, p.width * own, (size[1] / k) * own, 0, 0, size[0], size[1]);
  const thick = Math.max(1.5, size[0] / 480);
  if (d.frame) {
    line(pen, shift(d.frame.wheel_line_px as Line, p), k, thick, "#ffffff", [thick * 4, thick * 3], 0.25);
    line(pen, shift(d.frame.body_line_px as Line, p), k, thick, "#ffd23a", [], 0.25);
  }
  const px = Math.max(13, Math.round(size[0] / 36));
  pen.font = `${px}px "Rollwright Lettering", sans-serif`;
  const words = d.frame
    ? `${d.title}: ${leanInWords(d.frame.roll_deg.value)} ± ${d.frame.roll_deg.pm.toFixed(1)}°`
    : `${d.title}: not followed here`;
  const wide = pen.measureText(words).width;
  pen.fillStyle = "rgba(0,0,0,0.72)";
  pen.fillRect(0, 0, wide + px, px * 1.7);
  pen.fillStyle = "#ffffff";
  pen.fillText(words, px / 2, px * 1.2);
}

type Line = [[number, number], [number, number]];
const shift = ([a, b]: Line, p: Part): Line => [
  [a[0] - p.x, a[1] - p.y],
  [b[0] - p.x, b[1] - p.y],
];

function line(
  pen: CanvasRenderingContext2D,
  [a, b]: Line,
  k: number,
  thick: number,
  colour: string,
  dash: number[],
  beyond: number,
) {
  // Drawn on beyond its ends, so that a small angle shows.
  const [dx, dy] = [(b[0] - a[0]) * beyond, (b[1] - a[1]) * beyond];
  for (const [style, width, pattern] of [
    ["rgba(0,0,0,0.7)", thick * 2.4, []],
    [colour, thick, dash],
  ] as const) {
    pen.strokeStyle = style;
    pen.lineWidth = width;
    pen.setLineDash([...pattern]);
    pen.beginPath();
    pen.moveTo((a[0] - dx) * k, (a[1] - dy) * k);
    pen.lineTo((b[0] + dx) * k, (b[1] + dy) * k);
    pen.stroke();
  }
  pen.setLineDash([]);
}

export function save(blob: Blob, name: string) {
  const url = URL.createObjectURL(blob);
  const a = document.createElement("a");
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
