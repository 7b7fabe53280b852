// The key to the hatching: steps of stress with their numbers.

import { write } from "@/base/format";
import { paper, units } from "@/base/settings";
import { dyePercent, hatchSpacing, hatchWeight, USUAL_FULL } from "./stressHatch";

export function StressKey({ full = USUAL_FULL }: { full?: number }) {
  const steps = [1, 2, 3, 4, 5, 6].map((i) => (i * full) / 6);
  const isSun = paper.value === "sun";
  return (
    <div
      class="stress-key"
      role="img"
      aria-label={`Key to the hatching, from ${steps[0]} to ${steps.at(-1)} megapascal`}
    >
      {steps.map((mpa, i) => {
        let d = "";
        for (let x = -20; x < 64; x += hatchSpacing(mpa, isSun, 40, full)) d += `M${x.toFixed(1)} 22l20 -22`;
        const w = write(mpa, undefined, "mpa", units.value);
        return (
          <div key={mpa}>
            <svg class="dwg" viewBox="0 0 64 22" preserveAspectRatio="xMinYMid slice" aria-hidden="true">
              <path
                class={`${hatchWeight(mpa, full)} dye`}
                style={{ "--strength": `${dyePercent(mpa, full)}%` }}
                d={d}
              />
              <path class="thin" d="M.5 0V22H63.5V0" />
            </svg>
            {w.value}
            {i === steps.length - 1 ? ` ${w.unit}` : ""}
          </div>
        );
      })}
    </div>
  );
}
