// Where the phone lay: it corrects what the phone felt. Within a hand's breadth is good enough.
import { useState } from "preact/hooks";
import { garage } from "@/api/garage";
import type { PhonePlaceInput } from "@/api/types";
import { asEstimate } from "@/base/estimate";
import { type FieldSpec, NumberField } from "@/widgets/NumberField";
import { Ring } from "@/widgets/small";

const HEIGHT: FieldSpec = {
  key: "height_mm",
  name: "Height above the ground",
  unit: "mm",
  low: 100,
  high: 2500,
  usualPm: 100,
  howTo: "Tape from the road to the phone. On the tunnel of a hatchback it is about half a metre.",
};
const AHEAD: FieldSpec = {
  key: "ahead_mm",
  name: "Ahead of the car’s middle of weight",
  unit: "mm",
  low: -2500,
  high: 2500,
  usualPm: 150,
  howTo: "Roughly how far ahead of the gear lever; behind it is negative.",
};

export function PhonePlace({ phone }: { phone: PhonePlaceInput }) {
  const [open, setOpen] = useState<string | null>(null);
  const put = (label: string, change: Partial<PhonePlaceInput>) =>
    garage.change(label, (g) => ({
      ...g,
      work: { ...g.work, phone: { ...(g.work.phone as PhonePlaceInput | undefined), ...change } },
    }));
  return (
    <section class="phone-place">
      <h2>Where the phone lay</h2>
      <Ring
        legend="Held by"
        showLegend
        choices={[
          { value: "fixed", label: "taped or wedged to the floor" },
          { value: "holder", label: "a holder" },
          { value: "unknown", label: "not known" },
        ]}
        value={phone.mount ?? "unknown"}
        onChange={(mount) => put("phone mount", { mount })}
      />
      <div class="bar-fields">
        <NumberField
          spec={HEIGHT}
          value={asEstimate(phone.height_mm)}
          typical={null}
          isOpen={open === HEIGHT.key}
          onOpen={setOpen}
          onChange={(v) => put("phone height", { height_mm: v })}
        />
        <NumberField
          spec={AHEAD}
          value={asEstimate(phone.ahead_mm)}
          typical={null}
          isOpen={open === AHEAD.key}
          onOpen={setOpen}
          onChange={(v) => put("phone place", { ahead_mm: v })}
        />
      </div>
    </section>
  );
}
