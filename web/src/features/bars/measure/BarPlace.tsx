// Which measurement of which bar the address asks for.
import type { AxleName, BarDocument } from "@/api/garage";
import { HangPlace } from "./HangPlace";
import { TapePlace } from "./TapePlace";
import { WeighPlace } from "./WeighPlace";

export interface BarPlaceProps {
  bar: BarDocument;
  axle: AxleName;
}
export const BAR_PLACES = ["weigh", "hang", "tape"];

export function BarPlace(p: { what: string; axle: AxleName; bar: BarDocument | null; named: string | null }) {
  if (p.what === "tape" || !p.bar) return <TapePlace axle={p.axle} named={p.named} />;
  return p.what === "weigh" ? <WeighPlace bar={p.bar} axle={p.axle} /> : <HangPlace bar={p.bar} axle={p.axle} />;
}
