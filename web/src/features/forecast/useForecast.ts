// Two questions for one picture: at the stated values, answered at once, so that the drawing follows the thumb; then
// with the doubts, which takes a little longer and brings the intervals.
import type { Choice, Garage } from "@/api/garage";
import { barsFor, carFor, setupOf } from "@/api/setups";
import type { CompareRequestInput, CompareResult } from "@/api/types";
import { useAsk } from "@/api/useAsk";

const DRAWS = 400;

export function useForecast(g: Garage) {
  const request = requestOf(g, g.before, g.after);
  const quick = useAsk("forecast/compare", request && { ...request, draws: 0 });
  const full = useAsk("forecast/compare", request && { ...request, draws: DRAWS });
  const isFull = full.answer !== null && !full.isAsking;
  const answer = isFull ? full.answer : (quick.answer ?? full.answer);
  return { answer, result: (answer?.result ?? null) as CompareResult | null, isFull, problems: quick.problems };
}

function requestOf(g: Garage, before: Choice, after: Choice): CompareRequestInput | null {
  const car = carFor(g);
  if (!car) return null;
  return {
    car,
    bars: barsFor(g, [before, after]),
    setups: [setupOf(before), { ...setupOf(after), name: after.name === before.name ? "after" : after.name }],
    lateral_g: 0.7,
  };
}
