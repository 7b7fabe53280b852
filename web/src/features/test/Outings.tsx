// More than one outing: other days of either side, and runs with both bars unhooked that join two days (a bridge).
import { takeFile } from "@/api/files";
import { garage } from "@/api/garage";
import { newId } from "@/base/blobs";
import { FileDrop } from "@/widgets/FileDrop";
import { Caution, Ring } from "@/widgets/small";
import { type FurtherOuting, putWork, testWork } from "./choices";

export function Outings() {
  const { further, order } = testWork(garage.value.value);
  const change = (id: string, label: string, make: (f: FurtherOuting) => Partial<FurtherOuting>) =>
    putWork(label, (w) => ({ further: w.further.map((f) => (f.id === id ? { ...f, ...make(f) } : f)) }));
  const add = () =>
    putWork("further outing", (w) => ({
      further: [
        ...w.further,
        { id: newId(), name: `outing ${w.further.length + 3}`, side: "after", unhooked: false, files: [] },
      ],
    }));
  return (
    <details class="twin outings" open={further.length > 0 || undefined}>
      <summary>Other days, runs with the bars unhooked, the order driven</summary>
      <p>
        Each further outing is weighed by its own scatter. A few runs with both bars unhooked on either day (a bridge)
        show what else changed between the days: heat, load, a phone fitted anew. Only where your car’s maker allows
        driving so.
      </p>
      {further.map((f, i) => (
        <section key={f.id} class="outing" aria-label={`Further outing ${i + 1}`}>
          <Ring
            legend={`Outing ${i + 1} belongs to the runs`}
            showLegend
            choices={[
              { value: "before", label: "before" },
              { value: "after", label: "after" },
            ]}
            value={f.side}
            onChange={(side) => change(f.id, `outing ${i + 1} side`, () => ({ side }))}
          />
          <Ring
            legend="Bars"
            showLegend
            choices={[
              { value: "fitted", label: "as on that day" },
              { value: "unhooked", label: "both unhooked" },
            ]}
            value={f.unhooked ? "unhooked" : "fitted"}
            onChange={(v) => change(f.id, `outing ${i + 1} bars`, () => ({ unhooked: v === "unhooked" }))}
          />
          <FileDrop
            label={<span>recordings of outing {i + 1}</span>}
            hint={f.files.length > 0 ? f.files.map((x) => x.name).join(", ") : "Drop the files of this outing here."}
            accept=".csv,.txt,.tsv,.gpx,.log,.gz,text/*"
            onFiles={async (files) => {
              const taken = await Promise.all(files.map(takeFile));
              change(f.id, `outing ${i + 1} log`, (now) => ({ files: [...now.files, ...taken] }));
            }}
          />
          <button
            type="button"
            class="plain"
            onClick={() =>
              putWork(`without outing ${i + 1}`, (w) => ({ further: w.further.filter((x) => x.id !== f.id) }))
            }
          >
            take outing {i + 1} away
          </button>
        </section>
      ))}
      {further.some((f) => f.unhooked) && (
        <Caution title="With the bars unhooked">
          The car leans much more and answers later. Tie the links up so that nothing can catch, drive a third slower,
          only on closed private ground, and hook and torque everything again before the way home.
        </Caution>
      )}
      <div class="row">
        <button type="button" onClick={add}>
          add an outing
        </button>
      </div>
      <label class="order-driven">
        <span>
          Order in which the recordings were driven{" "}
          <span class="note">A before, B after, one letter each; left empty, their clocks say</span>
        </span>
        <input
          class="typed"
          value={order}
          placeholder="A B B A"
          autoComplete="off"
          maxLength={60}
          onChange={(e) => putWork("order driven", () => ({ order: e.currentTarget.value.trim() }))}
        />
      </label>
    </details>
  );
}
