// The ten numbers of a plain bar, to be typed over. Lengths by tape; the diameter by caliper is the one that counts:
// a tenth of a millimetre on twenty is two parts in a hundred of the rate.
import { useState } from "preact/hooks";
import { type AxleName, type BarDocument, changeBar, choose, freeName, garage } from "@/api/garage";
import { asSimple, type SimpleBar, withSimple } from "@/api/simpleBar";
import { asEstimate, type Estimate } from "@/base/estimate";
import { hrefOf } from "@/base/route";
import { type FieldSpec, NumberField } from "@/widgets/NumberField";
import { Ring } from "@/widgets/small";

const LENGTHS: readonly (FieldSpec & { key: keyof SimpleBar })[] = [
  { key: "apart_mm", name: "Between the two corners", unit: "mm", low: 200, high: 1800 },
  { key: "arm_mm", name: "From the straight to the arm’s end", unit: "mm", low: 40, high: 600 },
  { key: "splay_mm", name: "Each arm’s end stands farther out by", unit: "mm", low: -300, high: 300 },
  { key: "bend_mm", name: "Bend, radius of its middle line", unit: "mm", low: 0, high: 200 },
  { key: "bushings_mm", name: "Between the two bushings", unit: "mm", low: 60, high: 1700 },
  { key: "bushing_width_mm", name: "Width of a bushing", unit: "mm", low: 0, high: 120 },
  { key: "first_mm", name: "Outermost hole from the arm’s end", unit: "mm", low: 0, high: 200 },
  { key: "pitch_mm", name: "From hole to hole", unit: "mm", low: 5, high: 120 },
];
const DIAMETER: FieldSpec = {
  key: "outer_diameter_mm",
  name: "Diameter",
  unit: "mm",
  decimals: 1,
  low: 5,
  high: 80,
  usualPm: 0.1,
  howTo: "Caliper on bare steel, three places on the straight. Paint adds up to 0.2 mm: scrape a spot.",
};
const WALL: FieldSpec = {
  key: "wall_mm",
  name: "Wall",
  unit: "mm",
  decimals: 1,
  low: 0.5,
  high: 30,
  usualPm: 0.2,
  howTo: "At a cut end with a caliper, or from the bar’s weight: a tube weighs less than its outside suggests.",
};

export function BarNumbers({ bar, axle }: { bar: BarDocument; axle: AxleName }) {
  const [open, setOpen] = useState<string | null>(null);
  const simple = asSimple(bar)!;
  const put = (label: string, change: Partial<SimpleBar>) =>
    changeBar(axle, bar.name, label, (b) => withSimple(b, { ...asSimple(b)!, ...change }) as BarDocument);
  const rename = (wanted: string) => {
    const name = wanted.trim();
    if (!name || name === bar.name) return;
    const free = freeName(garage.value.value, name);
    const isTried = garage.value.value.after[axle].bar === bar.name;
    const setting = garage.value.value.after[axle].setting;
    changeBar(axle, bar.name, "the bar’s name", (b) => ({ ...b, name: free }));
    if (isTried) choose(axle, { bar: free, setting });
  };
  return (
    <section class="bar-numbers">
      <h2>The bar in numbers</h2>
      <div class="row">
        <span class="pick">
          <label class="note" for="bar-name">
            Called
          </label>
          <input
            id="bar-name"
            class="write"
            value={bar.name}
            maxLength={60}
            onChange={(e) => rename(e.currentTarget.value)}
          />
        </span>
        <Ring
          legend="Section"
          choices={[
            { value: "solid", label: "solid" },
            { value: "tube", label: "tube" },
          ]}
          value={simple.wall_mm === null ? "solid" : "tube"}
          onChange={(v) => put(v, { wall_mm: v === "solid" ? null : { value: 3, pm: 0.5, origin: "guess" } })}
        />
        <a class="press plain" href={hrefOf(`bars/weigh/${axle}/${encodeURIComponent(bar.name)}`)}>
          Solid or tube? Weigh it
        </a>
        <Ring
          legend="Holes at each end"
          showLegend
          choices={["1", "2", "3", "4", "5"].map((value) => ({ value, label: value }))}
          value={String(simple.holes)}
          onChange={(v) => put("number of holes", { holes: Number(v) })}
        />
      </div>
      <div class="bar-fields">
        <NumberField
          spec={DIAMETER}
          value={asEstimate(simple.outer_diameter_mm)}
          typical={null}
          isOpen={open === DIAMETER.key}
          onOpen={setOpen}
          onChange={(v) => v && put("diameter", { outer_diameter_mm: known(v) })}
        />
        {simple.wall_mm !== null && (
          <NumberField
            help={
              <a class="press" href={hrefOf(`bars/weigh/${axle}/${encodeURIComponent(bar.name)}`)}>
                Measure it: put the bar on the scales
              </a>
            }
            spec={WALL}
            value={asEstimate(simple.wall_mm)}
            typical={null}
            isOpen={open === WALL.key}
            onOpen={setOpen}
            onChange={(v) => v && put("wall", { wall_mm: known(v) })}
          />
        )}
        {LENGTHS.map((spec) => (
          <NumberField
            key={spec.key}
            spec={spec}
            value={{ value: simple[spec.key] as number, origin: "measured" }}
            typical={null}
            onChange={(v) => v && put(spec.name, { [spec.key]: v.value })}
          />
        ))}
      </div>
    </section>
  );
}

const known = (e: Estimate) => ({ value: e.value, pm: e.pm, origin: e.origin });
