// Share files in the browser: reading another person's, writing one's own, the picture as SVG and PNG.
import type { ShareSheetInput } from "@/api/types";

// What a file must be before it is sent on; what is inside is checked by the program.
export function shareOf(text: string): ShareSheetInput | null {
  try {
    const json: unknown = JSON.parse(text);
    return typeof json === "object" && json !== null && (json as { kind?: unknown }).kind === "share/1"
      ? (json as ShareSheetInput)
      : null;
  } catch {
    return null;
  }
}

export function hand(name: string, blob: Blob) {
  const url = URL.createObjectURL(blob);
  const a = document.createElement("a");
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}

export const svgBlob = (svg: string) => new Blob([svg], { type: "image/svg+xml" });

export const pictureAddress = (svg: string) => `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;

// The same picture as pixels, drawn by the browser: for places that take no SVG.
export async function pngOf(svg: string, width = 1200, height = 630): Promise<Blob | null> {
  const image = new Image(width, height);
  image.src = pictureAddress(svg);
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = height;
  canvas.getContext("2d")?.drawImage(image, 0, 0, width, height);
  return new Promise((done) => canvas.toBlob(done, "image/png"));
}
