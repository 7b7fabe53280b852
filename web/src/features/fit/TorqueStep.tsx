// Every fastener in its order: the maker's figure wins and stands beside the computed one; a figure that only makes sense
// in another unit is asked about; a tick when it is tight and marked.
import { useState } from "preact/hooks";
import { useAsk } from "@/api/useAsk";
import { plain, readNumber } from "@/base/format";
import { units } from "@/base/settings";
import { fromShown, toShown, unitLabel } from "@/base/units";
import { Said } from "@/widgets/Num";
import { Problems } from "@/widgets/Problems";
import { Pick } from "@/widgets/small";
import { type BoltState, boltsOf, FASTENERS, type FitState } from "./model";

// Sizes usual at bars, links and wheels; coarse ones without their pitch [ISO 261].
const THREADS = ["", "M6", "M8", "M8x1", "M10", "M10x1.25", "M12", "M12x1.25", "M12x1.5", "M14x1.5"];
type Grade = NonNullable<BoltState["grade"]>;

export function TorqueStep({ state, put }: { state: FitState; put: (label: string, next: FitState) => void }) {
  const bolts = boltsOf(state);
  const asked = useAsk("fit/bolts", bolts.length > 0 ? { bolts } : null);
  const r = asked.problems.length === 0 ? asked.answer?.result : undefined;
  const set = (name: string, change: BoltState) =>
    put(name.toLowerCase(), { ...state, bolts: { ...state.bolts, [name]: { ...state.bolts[name], ...change } } });
  return (
    <div class="torques">
      <ul>
        {FASTENERS.map((name) => {
          const b = state.bolts[name] ?? {};
          const line = r?.bolts.find((l) => l.name === name);
          return (
            <li key={name}>
              <b class="lettering">{name}</b>
              <span class="torque-fields">
                <Pick
                  label={`Thread of ${name.toLowerCase()}`}
                  choices={THREADS.map((t) => ({ value: t, label: t || "not known" }))}
                  value={b.thread ?? ""}
                  onChange={(thread) => set(name, { thread })}
                />
                <Pick<Grade>
                  label={`Class of ${name.toLowerCase()}`}
                  choices={(["8.8", "10.9", "12.9"] as const).map((g) => ({ value: g, label: g }))}
                  value={b.grade ?? "8.8"}
                  onChange={(grade) => set(name, { grade })}
                />
                <MakersFigure name={name} value={b.maker} onChange={(maker) => set(name, { maker: maker ?? 0 })} />
                <label class="tight">
                  <input
                    type="checkbox"
                    checked={b.isTight ?? false}
                    onChange={(e) => set(name, { isTight: e.currentTarget.checked })}
                  />
                  tight and marked
                </label>
              </span>
              {line && (
                <p>
                  Tighten to <Said of={line.torque_nm} unit="nm" />
                  {line.is_makers && (
                    <>
                      {" "}
                      (computed would be <Said of={line.computed_nm} unit="nm" />)
                    </>
                  )}
                  : {line.note}.
                </p>
              )}
            </li>
          );
        })}
      </ul>
      <Problems list={asked.problems} title="Look at this figure again." />
    </div>
  );
}

function MakersFigure(p: { name: string; value: number | undefined; onChange: (nm: number | null) => void }) {
  const [slip, setSlip] = useState("");
  const shown = p.value ? plain(toShown(p.value, "nm", units.value), 0) : "";
  const label = `Maker’s figure for ${p.name.toLowerCase()}, ${unitLabel("nm", units.value)}`;
  return (
    <label class="pick">
      <span class="note">{label}</span>
      <input
        inputMode="decimal"
        value={shown}
        onFocus={(e) => e.currentTarget.select()}
        onChange={(e) => {
          const text = e.currentTarget.value.trim();
          if (text === "") {
            setSlip("");
            return p.onChange(null);
          }
          const n = readNumber(text);
          const nm = n === null ? null : fromShown(n, "nm", units.value);
          if (nm === null || nm <= 0 || nm > 1000) return setSlip(`‘${text}’ is no torque.`);
          setSlip("");
          p.onChange(nm);
        }}
      />
      {slip && <span role="alert">{slip}</span>}
    </label>
  );
}
