// The lean drawn into a picture of the film: the line from tyre to tyre, the line of the body, and the angle between them in
// words. Light on dark, so that it can be seen on any paint; the two lines differ by dash as well as by colour.
import type { FilmFrame } from "@/api/types";
import { leanInWords } from "./model";

export interface Drawing {
  title: string; // "before"
  frame: Pick<FilmFrame, "roll_deg" | "body_line_px" | "wheel_line_px"> | null;
  filmWidth: number; // the lines count in pixels of the film
}

export function drawLean(canvas: HTMLCanvasElement, picture: CanvasImageSource, size: [number, number], d: Drawing) {
  const pen = canvas.getContext("2d");
  if (!pen) return;
  if (canvas.width !== size[0] || canvas.height !== size[1]) [canvas.width, canvas.height] = size;
  pen.drawImage(picture, 0, 0, size[0], size[1]);
  const k = size[0] / d.filmWidth;
  const thick = Math.max(1.5, size[0] / 480);
  if (d.frame) {
    line(pen, d.frame.wheel_line_px as Line, k, thick, "#ffffff", [thick * 4, thick * 3], 0.25);
    line(pen, d.frame.body_line_px as Line, k, thick, "#ffd23a", [], 0.25);
  }
  const px = Math.max(13, Math.round(size[0] / 40));
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
