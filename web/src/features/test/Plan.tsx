// Planning a fair test for the place there is: cones, speed, number of passes, and what cannot be shown there. Printed as
// the driver's card.
import { useState } from "preact/hooks";
import { garage } from "@/api/garage";
import type { TestPlanRequestInput, TestPlanResult } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { sentence, unbroken } from "@/base/format";
import { useRoom } from "@/base/room";
import { units } from "@/base/settings";
import { circlePath, straight } from "@/charts/path";
import { DimAcross, Drawing, Text } from "@/charts/pen";
import { Num, Said } from "@/widgets/Num";
import { type FieldSpec, NumberField } from "@/widgets/NumberField";
import { Problems } from "@/widgets/Problems";
import { Caution, Ring, Twin } from "@/widgets/small";

const LENGTH: FieldSpec = {
  key: "site_length_m",
  name: "Length of the place, flat and free",
  unit: "m",
  decimals: 0,
  low: 30,
  high: 2000,
};
const WIDTH: FieldSpec = { key: "site_width_m", name: "Its width", unit: "m", decimals: 0, low: 5, high: 500 };
const SURFACES = ["dry", "damp", "wet", "loose"] as const;

export function Plan() {
  const [isOpen, setOpen] = useState(false);
  const kept = (garage.value.value.work.plan as TestPlanRequestInput | undefined) ?? {};
  const put = (label: string, change: Partial<TestPlanRequestInput>) =>
    garage.change(label, (g) => ({
      ...g,
      work: { ...g.work, plan: { ...(g.work.plan as TestPlanRequestInput | undefined), ...change } },
    }));
  const request: TestPlanRequestInput = {
    site_length_m: 150,
    site_width_m: 20,
    surface: "dry",
    wanted_change_percent: 10,
    ...kept,
  };
  const asked = useAsk("test/plan", isOpen ? request : null);
  const field = (spec: FieldSpec, key: "site_length_m" | "site_width_m") => (
    <NumberField
      spec={spec}
      value={{ value: request[key]!, origin: "measured" }}
      typical={null}
      onChange={(v) => v && put(spec.name, { [key]: v.value })}
    />
  );
  return (
    <details class="twin plan" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>Plan the test: cones, speed, how many passes</summary>
      <div class="bar-fields">
        {field(LENGTH, "site_length_m")}
        {field(WIDTH, "site_width_m")}
      </div>
      <div class="row">
        <Ring
          legend="Surface"
          showLegend
          choices={SURFACES.map((value) => ({ value, label: value }))}
          value={request.surface ?? "dry"}
          onChange={(surface) => put("surface", { surface })}
        />
        <Ring
          legend="Smallest change worth knowing"
          showLegend
          choices={["5", "10", "15", "20"].map((value) => ({ value, label: `${value} %` }))}
          value={String(request.wanted_change_percent ?? 10)}
          onChange={(v) => put("wanted change", { wanted_change_percent: Number(v) })}
        />
      </div>
      <Problems list={asked.problems} />
      {asked.answer && <Planned r={asked.answer.result} />}
    </details>
  );
}

// Prints this part of the sheet alone, with the table of cones open: it is carried to the place.
function printCard() {
  const page = document.documentElement;
  const closed = [...document.querySelectorAll<HTMLDetailsElement>(".plan details:not([open])")];
  page.dataset.print = "plan";
  for (const d of closed) d.open = true;
  print();
  for (const d of closed) d.open = false;
  delete page.dataset.print;
}

function Planned({ r }: { r: TestPlanResult }) {
  return (
    <>
      <p class="lettering said-first" aria-live="polite">
        {unbroken(r.meaning)}
      </p>
      <Course r={r} />
      <button type="button" class="no-print" onClick={printCard}>
        print the driver’s card and the cone plan
      </button>
      <Twin
        summary="The cone plan: where every cone stands"
        caption="Distances along the lane from the start gate, and to the left of its middle"
        head={["cone", "along", "to the left"]}
        rows={r.cone_plan.map((c) => [
          c.number > 0 ? `${c.number}` : c.what,
          <Num key="a" of={c.along_m} unit="m" size="small" decimals={1} />,
          <Num key="s" of={c.aside_m} unit="m" size="small" decimals={1} />,
        ])}
      />
      {r.cautions.length > 0 && <Caution title="Before the first pass">{r.cautions.join(" ")}</Caution>}
      <div class="halves">
        <section>
          <h3>The order</h3>
          <ol class="notes">
            {r.order.map((o) => (
              <li key={o}>{o}</li>
            ))}
          </ol>
        </section>
        <section>
          <h3>The driver’s card</h3>
          <ul class="plain-list">
            {r.drivers_card.map((o) => (
              <li key={o}>{o}</li>
            ))}
          </ul>
          <p class="note">
            About <Said of={r.time_needed_min} unit="min" /> of driving for both setups.
          </p>
        </section>
      </div>
      {r.cannot_be_shown.length > 0 && (
        <>
          <h3>What cannot be shown there</h3>
          {r.cannot_be_shown.map((c) => (
            <div class="unclear" key={c}>
              {c}
            </div>
          ))}
        </>
      )}
      <Twin
        summary="What other numbers of passes can show"
        caption="Passes with each setup, and the smallest change of lean they show"
        head={["passes each", "smallest change"]}
        rows={r.resolution.map((x) => [
          String(x.passes),
          <Num key="c" of={x.smallest_change_percent} unit="percent" size="small" />,
        ])}
      />
    </>
  );
}

function Course({ r }: { r: TestPlanResult }) {
  const [ref, room] = useRoom<HTMLElement>(1000);
  const cones = r.cone_plan;
  const end = Math.max(1, ...cones.map((c) => c.along_m)) + 4;
  const u = (end + 4) / room.width;
  const wide = Math.max(3, ...cones.map((c) => Math.abs(c.aside_m))) + 1;
  const slalom = cones.filter((c) => c.number > 0);
  const top = wide + 8 * u;
  const low = wide + 44 * u;
  return (
    <figure ref={ref}>
      <Drawing
        box={[-4, top, end + 4, top + low]}
        label={`The course from above: ${r.cones} cones, ${sentence(r.cone_spacing_m, undefined, "m", units.value)} apart`}
      >
        <path class="fine centre" d={straight(-4, 0, end, 0)} />
        {cones.map((c) => (
          <path
            key={`${c.along_m} ${c.aside_m}`}
            class={c.number > 0 ? "solid" : "mid fill-paper"}
            d={circlePath(c.along_m, c.aside_m, Math.max(0.18, 4 * u))}
          />
        ))}
        {slalom.length > 1 && (
          <>
            <DimAcross x1={slalom[0]!.along_m} x2={slalom[1]!.along_m} y={-wide - 14 * u} from={-4 * u} u={u} />
            <Text x={slalom[1]!.along_m + 8 * u} y={-wide - 20 * u} u={u} px={17} anchor="start">
              {sentence(r.cone_spacing_m, undefined, "m", units.value)}
            </Text>
          </>
        )}
      </Drawing>
      <figcaption>
        Open rings are the gates, filled ones the slalom. Hold <Said of={r.speed_km_per_h} unit="km_per_h" />, which
        pulls <Said of={r.lateral_g} unit="g" />.
      </figcaption>
    </figure>
  );
}
