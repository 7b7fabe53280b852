// A link set to length: gap in, turns out, counted as they are done.
import { useId, useState } from "preact/hooks";
import { plain, readNumber, sentence } from "@/base/format";
import { units } from "@/base/settings";
import { fromShown, toShown, unitLabel } from "@/base/units";
import { Ring } from "@/widgets/small";
import { halfTurnsText, Turns } from "@/widgets/Turns";
import { GapCost } from "./GapCost";
import { LinkDrawing } from "./LinkDrawing";
import { type FitState, perTurn, turnsFor } from "./model";
import type { Subject } from "./subject";

export function LinkStep({
  state,
  side,
  put,
  subject,
}: {
  state: FitState;
  side: "left" | "right";
  put: (label: string, next: FitState) => void;
  subject: Subject | null;
}) {
  const gap = state.gap[side];
  const thread = { pitch: state.pitch, isBothHands: state.isBothHands };
  const { half, leftOver } = turnsFor(gap, thread);
  const done = Math.min(state.turned[side], Math.abs(half));
  const setGap = (mm: number) =>
    put(`${side} gap`, { ...state, gap: { ...state.gap, [side]: mm }, turned: { ...state.turned, [side]: 0 } });
  const say = (mm: number) =>
    sentence(mm, undefined, "mm", units.value, { decimals: units.value === "metric" ? 1 : 3 });
  return (
    <div class="link-work">
      <figure>
        <LinkDrawing gap={gap} side={side} />
        <figcaption>1 and 2 are locknuts: slacken both first. The drawing is not to scale; the number is.</figcaption>
      </figure>
      <div>
        <GapField gap={gap} onGap={setGap} />
        <div class="turn-row">
          <Turns needed={half} done={done} />
          <div aria-live="polite">
            <span class="num big">{halfTurnsText(Math.abs(half)) || "0"}</span>
            <br />
            turns {half < 0 ? "shorter" : "longer"}
            <p class="note">
              {halfTurnsText(done) || "0"} done, {halfTurnsText(Math.abs(half) - done) || "0"} to go
            </p>
            <button
              type="button"
              disabled={done >= Math.abs(half)}
              onClick={() => put("half a turn", { ...state, turned: { ...state.turned, [side]: done + 1 } })}
            >
              {done >= Math.abs(half) ? "All turns done, try the eye" : "Half a turn done"}
            </button>
          </div>
        </div>
        <p class="note">
          One turn moves {say(perTurn(thread))}.{" "}
          {Math.abs(leftOver) > 0.02 &&
            `Half turns leave ${say(Math.abs(leftOver))}: a link with two threads can stop between.`}
        </p>
        {subject && <GapCost gap={gap} side={side} state={state} subject={subject} />}
        <Thread state={state} put={put} />
      </div>
    </div>
  );
}

function GapField({ gap, onGap }: { gap: number; onGap: (mm: number) => void }) {
  const id = useId();
  const [slip, setSlip] = useState("");
  const isMetric = units.value === "metric";
  const step = isMetric ? 0.5 : 0.02;
  const shown = toShown(gap, "mm", units.value);
  const move = (d: number) => onGap(fromShown(Math.round((shown + d) / step) * step, "mm", units.value));
  return (
    <>
      <label for={id}>Gap between eye and hole; minus when the eye stands too high</label>
      <div class="gap-row">
        <button type="button" onClick={() => move(-step)} aria-label="Smaller gap">
          −
        </button>
        <input
          id={id}
          inputMode="text"
          value={plain(shown, isMetric ? 1 : 2)}
          aria-describedby={`${id}-e`}
          onFocus={(e) => e.currentTarget.select()}
          onChange={(e) => {
            const n = readNumber(e.currentTarget.value);
            const mm = n === null ? null : fromShown(n, "mm", units.value);
            if (mm === null || Math.abs(mm) > 150) return setSlip(`‘${e.currentTarget.value}’ is no gap of a link.`);
            setSlip("");
            onGap(mm);
          }}
        />
        <span class="u">{unitLabel("mm", units.value)}</span>
        <button type="button" onClick={() => move(step)} aria-label="Larger gap">
          +
        </button>
      </div>
      <p id={`${id}-e`} class="note" role={slip ? "alert" : undefined}>
        {slip}
      </p>
    </>
  );
}

// Metric pitches of the usual sizes [ISO 261]: M8 1.25, M10 1.5, M12 1.75, and the fine 1.0.
const PITCHES = [1, 1.25, 1.5, 1.75];

function Thread({ state, put }: { state: FitState; put: (label: string, next: FitState) => void }) {
  return (
    <div class="row">
      <Ring
        legend="Thread pitch, mm"
        showLegend
        choices={PITCHES.map((p) => ({ value: String(p), label: String(p) }))}
        value={String(state.pitch)}
        onChange={(v) => put("thread pitch", { ...state, pitch: Number(v) })}
      />
      <Ring
        legend="Threads"
        choices={[
          { value: "both", label: "left and right hand" },
          { value: "one", label: "one end turns" },
        ]}
        value={state.isBothHands ? "both" : "one"}
        onChange={(v) => put("threads", { ...state, isBothHands: v === "both" })}
      />
    </div>
  );
}
