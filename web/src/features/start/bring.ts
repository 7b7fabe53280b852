// Bringing sheets in and taking everything out as one file. What is brought is only looked at enough to know where it
// belongs; the program checks the rest when it is asked.
import type { FullBar } from "@/api/barSheet";
import { type AxleName, type BarDocument, type CarDocument, freeName, type Garage, migrate } from "@/api/garage";

export type Brought = { garage: Garage; said: string } | { refused: string };

const isRecord = (v: unknown): v is Record<string, unknown> => typeof v === "object" && v !== null && !Array.isArray(v);

export function bring(g: Garage, name: string, text: string): Brought {
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    return { refused: `${name} is not a sheet: it cannot be read as JSON.` };
  }
  if (!isRecord(document)) return { refused: `${name} holds no sheet.` };
  if (document.form === 1) {
    const whole = migrate(document);
    return whole
      ? { garage: whole, said: "Everything from the file is back." }
      : { refused: `${name} is not from this page.` };
  }
  if (document.kind === "car/1" && typeof document.name === "string") {
    return {
      garage: { ...g, isDemo: document.invented === true, car: document as CarDocument },
      said: `The car sheet of ${document.name} is here.`,
    };
  }
  if (document.kind === "bar/1") return bringBar(g, name, document as unknown as FullBar & { name?: string });
  return {
    refused: `${name} is of the kind ‘${String(document.kind ?? "none")}’. A car sheet (car/1), a bar sheet (bar/1) or a saved garage can be brought.`,
  };
}

function bringBar(g: Garage, file: string, bar: FullBar & { name?: string }): Brought {
  if (!Array.isArray(bar.centreline_right_to_left) || !Array.isArray(bar.holes) || !Array.isArray(bar.bushings)) {
    return { refused: `${file} gives the bar by tape only. Enter its ten numbers on the bars sheet instead.` };
  }
  const axle: AxleName = bar.axle ?? "rear";
  const named = { ...bar, axle, name: freeName(g, bar.name || file.replace(/\.json$/i, "")) } as BarDocument;
  return {
    garage: { ...g, bars: { ...g.bars, [axle]: [...g.bars[axle], named] } },
    said: `${named.name} is among the ${axle} bars.`,
  };
}

// Everything but the recordings, which stay in the browser.
export function everything(g: Garage): Blob {
  return new Blob([`${JSON.stringify(g, null, 1)}\n`], { type: "application/json" });
}

export function saveAs(blob: Blob, name: string) {
  const address = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}
