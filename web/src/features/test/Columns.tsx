// What each column of the files was taken for, and the place to say otherwise.
import { garage } from "@/api/garage";
import type { Column, ColumnCorrectionInput } from "@/api/types";
import { putWork, testWork } from "./choices";

const WORDS: Record<Column["meaning"], string> = {
  ignored: "not used",
  time: "time",
  acceleration_x: "acceleration x",
  acceleration_y: "acceleration y",
  acceleration_z: "acceleration z",
  rate_x: "turn rate x",
  rate_y: "turn rate y",
  rate_z: "turn rate z",
  speed: "speed",
  course: "course over ground",
  latitude: "latitude",
  longitude: "longitude",
  hand_wheel: "angle of the steering wheel",
  road_wheel: "steer angle of the front wheels",
  attitude: "the phone’s own angles (not usable)",
  without_gravity: "acceleration without gravity (not usable)",
  earth_axes: "earth-fixed axes (not usable)",
};
const MEANINGS = Object.keys(WORDS) as Column["meaning"][];

export function Columns({ list }: { list: readonly Column[] }) {
  const corrections = testWork(garage.value.value).columns;
  // Several files of one shape have the same columns; each is shown once.
  const seen = new Map<string, Column>();
  for (const c of list) if (!seen.has(c.column)) seen.set(c.column, c);
  if (seen.size === 0) return null;
  const put = (c: Column, part: Partial<ColumnCorrectionInput>) =>
    putWork(`column ${c.column}`, (w) => {
      const now = w.columns.find((x) => x.column === c.column) ?? { column: c.column, meaning: c.meaning };
      return { columns: [...w.columns.filter((x) => x.column !== c.column), { ...now, ...part }] };
    });
  return (
    <details class="twin columns">
      <summary>What the columns were taken for</summary>
      <div class="table-scroll" role="region" aria-label="Columns of the recordings" tabIndex={0}>
        <table>
          <caption>Change a meaning where the guess is wrong; the answer follows.</caption>
          <thead>
            <tr>
              <th scope="col">column</th>
              <th scope="col">taken for</th>
              <th scope="col">unit</th>
              <th scope="col">why</th>
            </tr>
          </thead>
          <tbody>
            {[...seen.values()].map((c) => (
              <tr key={c.column}>
                <td class="lettering">{c.column}</td>
                <td>
                  <select
                    aria-label={`${c.column} holds`}
                    value={c.meaning}
                    onChange={(e) => put(c, { meaning: e.currentTarget.value as Column["meaning"] })}
                  >
                    {MEANINGS.map((m) => (
                      <option key={m} value={m}>
                        {WORDS[m]}
                      </option>
                    ))}
                  </select>
                </td>
                <td>
                  <input
                    class="typed short"
                    aria-label={`unit of ${c.column}`}
                    value={c.unit}
                    autoComplete="off"
                    onChange={(e) => put(c, { unit: e.currentTarget.value.trim() })}
                  />
                </td>
                <td class="note">{c.reason}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {corrections.length > 0 && (
        <button type="button" onClick={() => putWork("columns as guessed", () => ({ columns: [] }))}>
          back to the program’s guesses
        </button>
      )}
    </details>
  );
}
