// What is looked at again and when, counted from the day the parts went in.
import { useAsk } from "@/api/useAsk";
import { daysSince, type FitState } from "./model";

export function Recheck({ state, put }: { state: FitState; put: (label: string, next: FitState) => void }) {
  const list = useAsk("fit/sheet", {}).answer?.result.recheck ?? [];
  const days = daysSince(state.fitted, new Date());
  const done = new Set(state.seenAgain);
  const next = list.find((c) => !done.has(c.when));
  const toggle = (when: string, isDone: boolean) =>
    put(`looked again ${when}`, {
      ...state,
      seenAgain: isDone ? [...state.seenAgain, when] : state.seenAgain.filter((w) => w !== when),
    });
  return (
    <div class="recheck">
      <p class="row">
        <label>
          Day it went in{" "}
          <input
            type="date"
            value={state.fitted ?? ""}
            onChange={(e) => put("the day it went in", { ...state, fitted: e.currentTarget.value || null })}
          />
        </label>
      </p>
      {days !== null && (
        <p role="status">
          In for {days === 1 ? "one day" : `${days} days`}.{" "}
          {next ? `Next to look again: ${next.when}.` : "Everything was looked at again."}
        </p>
      )}
      <ul>
        {list.map((c) => (
          <li key={c.when}>
            <label class="tight">
              <input
                type="checkbox"
                checked={done.has(c.when)}
                onChange={(e) => toggle(c.when, e.currentTarget.checked)}
              />
              <span>
                <b class="lettering">{c.when}:</b> {c.what}
              </span>
            </label>
          </li>
        ))}
      </ul>
    </div>
  );
}
