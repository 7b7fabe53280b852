// What someone who comes back should do next, from what they have left here.
import type { Garage } from "@/api/garage";

export interface NextStep {
  n: number;
  title: string;
  why: string;
  room: string;
}

export function nextStep(g: Garage): NextStep | null {
  if (!g.car || g.isDemo) return null;
  const name = g.car.name;
  const fit = g.work.fit as { fitted?: string | null; seenAgain?: string[] } | undefined;
  if (fit?.fitted && (fit.seenAgain ?? []).length === 0)
    return {
      n: 5,
      title: `Next for ${name}: look again after the first drive`,
      why: "All torques, witness lines, links free, no rub marks. Then tick it off on sheet 5.",
      room: "fit",
    };
  const hasBar = g.bars.front.length + g.bars.rear.length > 0;
  const hasChoice = g.after.front.bar !== null || g.after.rear.bar !== null;
  if (!hasBar)
    return {
      n: 2,
      title: `Next for ${name}: describe the bar you think of`,
      why: "Its diameter, its arms and its holes. Ten minutes with a tape, or the seller’s drawing.",
      room: "bars",
    };
  if (!hasChoice)
    return {
      n: 2,
      title: `Next for ${name}: put the bar into a hole`,
      why: "Then the forecast shows what it would do, before any money is spent.",
      room: "bars",
    };
  if (g.logs.before.length === 0)
    return {
      n: 6,
      title: `Next for ${name}: measure it as it is`,
      why: "A recording before the change is the half that cannot be made up later.",
      room: "test",
    };
  if (g.logs.after.length === 0)
    return {
      n: 5,
      title: `Next for ${name}: fit it neutral, then measure again`,
      why: "Same place, same tyres, same load. The order of work is on sheet 5.",
      room: "fit",
    };
  return {
    n: 7,
    title: `Next for ${name}: see if it was worth it`,
    why: "Forecast and measurement side by side, on one page to print.",
    room: "verdict",
  };
}
