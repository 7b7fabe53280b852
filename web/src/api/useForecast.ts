// Two questions for one picture: at the stated values, answered at once, so that the drawing follows the thumb; then
// with the doubts, which takes a little longer and brings the intervals.
import type { Garage } from "./garage";
import { barsFor, carFor, setupOf } from "./setups";
import type { CompareRequestInput } from "./types";
import { useAsk } from "./useAsk";

const DRAWS = 400;

export function useForecast(g: Garage) {
  const request = requestOf(g);
  const quick = useAsk("forecast/compare", request && { ...request, draws: 0 });
  const full = useAsk("forecast/compare", request && { ...request, draws: DRAWS });
  const isFull = full.answer !== null && !full.isAsking;
  const answer = isFull ? full.answer : (quick.answer ?? full.answer);
  return { answer, result: answer?.result ?? null, isFull, problems: quick.problems };
}

function requestOf(g: Garage): CompareRequestInput | null {
  const car = carFor(g);
  if (!car) return null;
  const after = { ...setupOf(g.after), name: g.after.name === g.before.name ? "after" : g.after.name };
  return { car, bars: barsFor(g, [g.before, g.after]), setups: [setupOf(g.before), after], lateral_g: 0.7 };
}
