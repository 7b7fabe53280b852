// How soon, how late, how harsh: a quick turn of the wheel, a weave, a bump. People feel these before they feel lean.
import type { ComponentType } from "preact";
import { useState } from "preact/hooks";
import { known } from "@/api/operations";
import { Ring } from "@/widgets/small";
import { MotionBump } from "./MotionBump";
import { MotionSine } from "./MotionSine";
import { MotionStep } from "./MotionStep";

const VIEWS: readonly { value: string; label: string; operation: string; sheet: ComponentType }[] = [
  { value: "step", label: "a quick turn", operation: "forecast/step", sheet: MotionStep },
  { value: "sine", label: "a weave", operation: "forecast/sine", sheet: MotionSine },
  { value: "bump", label: "a bump", operation: "forecast/bump", sheet: MotionBump },
];

export function MotionSection() {
  const views = VIEWS.filter((v) => known.value?.has(v.operation));
  const [chosen, setChosen] = useState("step");
  const view = views.find((v) => v.value === chosen) ?? views[0];
  if (!view) return null;
  const Sheet = view.sheet;
  return (
    <section class="motion" aria-label="How soon and how harsh">
      <h2>How soon, how late, how harsh?</h2>
      <Ring
        legend="What the car meets"
        choices={views.map(({ value, label }) => ({ value, label }))}
        value={view.value}
        onChange={setChosen}
      />
      <Sheet />
    </section>
  );
}
