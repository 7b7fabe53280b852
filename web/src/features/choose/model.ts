// The wish as the person puts it, and as the program takes it.
import type { Garage } from "@/api/garage";
import type { BarSheetInput, CarSheetInput, ChooseRankRequestInput } from "@/api/types";

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
}

export const wishesOf = (g: Garage): Wishes => ({
  complaints: ["leans"],
  budget: 600,
  hours: 12,
  currency: g.bill.currency,
  ...(g.wish.choose as Partial<Wishes> | undefined),
});

export const requestOf = (car: CarSheetInput, bars: readonly BarSheetInput[], w: Wishes): ChooseRankRequestInput => ({
  car,
  bars: [...bars],
  complaints: w.complaints,
  budget_money: w.budget,
  hours_h: w.hours,
  show: 8,
});
