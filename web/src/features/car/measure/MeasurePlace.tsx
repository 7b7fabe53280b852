// Which home measurement the address asks for.
import type { AxlePath } from "../fields";
import { CgPlace } from "./CgPlace";
import type { PlaceProps } from "./MeasurePage";
import type { RatioOf } from "./model";
import { RatioPlace } from "./RatioPlace";
import { SillPlace } from "./SillPlace";
import { WeightsPlace } from "./WeightsPlace";

export function MeasurePlace({ at, ...p }: PlaceProps & { at: readonly string[] }) {
  switch (at[0]) {
    case "cg":
      return <CgPlace {...p} />;
    case "weights":
      return <WeightsPlace {...p} />;
    case "sill":
      return <SillPlace {...p} />;
    default: {
      const axle: AxlePath = at[1] === "front" ? "front" : "rear";
      const of: RatioOf = at[2] === "damper" || at[2] === "link" ? at[2] : "spring";
      return <RatioPlace key={axle + of} {...p} axle={axle} of={of} />;
    }
  }
}
