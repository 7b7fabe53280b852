// The wish as the person puts it, and as the program takes it.
import type { Garage } from "@/api/garage";
import type {
  BarSheetInput,
  CandidateAlone,
  CandidateInput,
  CarSheetInput,
  ChooseRankRequestInput,
  ChooseRankResult,
  GoalInput,
  HealthAnswerInput,
  RankedChoice,
} from "@/api/types";

export type Complaint = NonNullable<ChooseRankRequestInput["complaints"]>[number];

export const COMPLAINTS: readonly { value: Complaint; label: string }[] = [
  { value: "leans", label: "it leans" },
  { value: "late", label: "it answers late" },
  { value: "pushes_wide", label: "it pushes wide" },
  { value: "tail_happy", label: "the tail comes round" },
  { value: "lacks_grip", label: "it lacks grip" },
  { value: "inner_wheelspin", label: "the inner wheel spins" },
  { value: "bottoms", label: "it bottoms" },
  { value: "harsh_on_one_wheel", label: "it kicks over one-wheel bumps" },
];

export interface Wishes {
  complaints: Complaint[];
  budget: number;
  hours: number;
  currency: string;
  rate: number | null; // what one US dollar is in it; typical prices are in dollars
  hourWorth: number;
  undoable: boolean;
  goals: GoalInput[]; // those the person changed
  own: CandidateInput[];
  health: HealthAnswerInput[];
}

export const wishesOf = (g: Garage): Wishes => ({
  complaints: ["leans"],
  budget: 600,
  hours: 12,
  currency: g.bill.currency,
  rate: null,
  hourWorth: 0,
  undoable: false,
  goals: [],
  own: [],
  health: [],
  ...(g.wish.choose as Partial<Wishes> | undefined),
});

export const isDollar = (currency: string) => ["$", "USD"].includes(currency.trim().toUpperCase());

export const requestOf = (car: CarSheetInput, bars: readonly BarSheetInput[], w: Wishes): ChooseRankRequestInput => ({
  car,
  bars: [...bars],
  complaints: w.complaints,
  goals: w.goals,
  currency: w.currency,
  ...(w.rate !== null && !isDollar(w.currency) ? { typical_currency_rate: w.rate } : {}),
  budget_money: w.budget,
  hours_h: w.hours,
  worth_of_an_hour_money: w.hourWorth,
  must_be_undoable: w.undoable,
  known_faults: w.health.filter((h) => h.state === "faulty").map((h) => h.check),
  ...(w.own.length > 0
    ? { candidates: { kind: "candidates/1", currency: w.currency, candidates: w.own } as const }
    : {}),
  show: 40,
});

// A goal the person changed stands for its quantity; another change of it replaces the first.
export const withGoal = (goals: readonly GoalInput[], changed: GoalInput): GoalInput[] => [
  ...goals.filter((g) => g.quantity !== changed.quantity),
  changed,
];

export const QUANTITIES: Record<GoalInput["quantity"], string> = {
  lean: "lean",
  front_share: "front axle’s part of the load shift",
  understeer: "pushing wide (understeer)",
  grip: "grip (limit)",
  delay: "delay behind the wheel",
  swing: "swing of lean in a quick weave",
  one_wheel_rate: "one-wheel bump rate",
  two_wheel_rate: "two-wheel bump rate",
  inner_wheel: "load left on the inner driven wheel",
  stop_in_corner: "cornering before a bump stop is met",
  dip: "dip that it takes",
};
export const DIRECTIONS: Record<GoalInput["direction"], string> = {
  less: "less by at least",
  more: "more by at least",
  keep: "kept within",
  no_less: "not less by more than",
  no_more: "not more by more than",
};
export const unitOfGoal = (g: GoalInput) =>
  g.quantity === "understeer" ? "deg/g" : g.quantity === "front_share" || g.quantity === "inner_wheel" ? "points" : "%";

// What a person can add by hand: one effect on one or both axles.
export const OWN_KINDS = [
  { value: "front bar", what: "bar", axles: ["front"], key: "bar_factor", label: "front bar, × stiffness" },
  { value: "rear bar", what: "bar", axles: ["rear"], key: "bar_factor", label: "rear bar, × stiffness" },
  { value: "springs", what: "springs", axles: ["front", "rear"], key: "spring_factor", label: "springs, × stiffness" },
  { value: "dampers", what: "dampers", axles: ["front", "rear"], key: "damping", label: "dampers, × damping" },
  { value: "tyres", what: "tyres", axles: ["front", "rear"], key: "grip", label: "tyres, × grip" },
] as const;
export type OwnKind = (typeof OWN_KINDS)[number]["value"];

export function ownCandidate(
  kind: OwnKind,
  name: string,
  factor: number,
  price: number | null,
  hours: number,
): CandidateInput {
  const k = OWN_KINDS.find((o) => o.value === kind)!;
  const change = Object.fromEntries(
    k.axles.map((axle) => [axle, { [k.key]: { value: factor, pm: Math.abs(factor - 1) * 0.15, origin: "maker" } }]),
  );
  return { name, what: k.what, change, price_money: price, work_h: hours, origin: "your own" };
}

// One card for each thing to buy: of a bar with several holes the one that delivers most. Cheapest first, what is out of
// reach last.
export function cardsOf(r: ChooseRankResult): { of: CandidateAlone; holes: number }[] {
  const families = new Map<string, CandidateAlone[]>();
  for (const c of r.alone) families.set(c.family, [...(families.get(c.family) ?? []), c]);
  return [...families.values()]
    .map((list) => ({
      of: list.reduce((best, c) => (c.delivered_percent.value > best.delivered_percent.value ? c : best)),
      holes: list.length,
    }))
    .sort(
      (a, b) =>
        Number(b.of.is_affordable) - Number(a.of.is_affordable) || a.of.price_money.value - b.of.price_money.value,
    );
}

// The line of the best for each cost, from nothing upwards.
export const front = (r: ChooseRankResult): RankedChoice[] =>
  r.choices.filter((c) => c.is_pareto).sort((a, b) => a.total_cost_money - b.total_cost_money);
