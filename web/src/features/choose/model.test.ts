import { describe, expect, it } from "vitest";
import { EMPTY } from "@/api/garage";
import type { ChooseRankResult } from "@/api/types";
import { COMPLAINTS, cardsOf, isDollar, ownCandidate, requestOf, wishesOf, withGoal } from "./model";

describe("the wish", () => {
  it("starts with lean and a modest budget, and keeps what was changed", () => {
    expect(wishesOf(EMPTY).complaints).toEqual(["leans"]);
    const kept = wishesOf({ ...EMPTY, wish: { choose: { budget: 900, complaints: ["late", "leans"] } } });
    expect(kept.budget).toBe(900);
    expect(kept.hours).toBe(wishesOf(EMPTY).hours);
    expect(kept.complaints).toEqual(["late", "leans"]);
  });

  it("goes to the program with money and hours under their own names", () => {
    const r = requestOf({ kind: "car/1", name: "x" }, [], { ...wishesOf(EMPTY), budget: 500, hours: 8 });
    expect(r).toMatchObject({ budget_money: 500, hours_h: 8, complaints: ["leans"] });
  });

  it("never sends a rate that was not stated, and none where dollars are counted", () => {
    const car = { kind: "car/1", name: "x" } as const;
    const wish = wishesOf(EMPTY);
    expect(requestOf(car, [], { ...wish, currency: "€" })).not.toHaveProperty("typical_currency_rate");
    expect(requestOf(car, [], { ...wish, currency: "€", rate: 0.9 }).typical_currency_rate).toBe(0.9);
    expect(requestOf(car, [], { ...wish, currency: "USD", rate: 0.9 })).not.toHaveProperty("typical_currency_rate");
    expect(isDollar("$")).toBe(true);
  });

  it("tells the program which faults were found, and no others", () => {
    const health = [
      { check: "old_tyres", state: "faulty" },
      { check: "tired_dampers", state: "good" },
    ] as const;
    const r = requestOf({ kind: "car/1", name: "x" }, [], { ...wishesOf(EMPTY), health: [...health] });
    expect(r.known_faults).toEqual(["old_tyres"]);
  });

  it("keeps one goal for a quantity, the last one said", () => {
    const goals = withGoal([{ quantity: "lean", direction: "less", enough_percent: 15 }], {
      quantity: "lean",
      direction: "less",
      enough_percent: 20,
    });
    expect(goals).toHaveLength(1);
    expect(goals[0]!.enough_percent).toBe(20);
  });

  it("takes an own candidate in its own money, on the axles it is for", () => {
    const c = ownCandidate("springs", "a friend's", 1.2, 80, 4);
    expect(Object.keys(c.change!)).toEqual(["front", "rear"]);
    expect(c.price_money).toBe(80);
    const r = requestOf({ kind: "car/1", name: "x" }, [], { ...wishesOf(EMPTY), currency: "€", own: [c] });
    expect(r.candidates!.currency).toBe("€");
  });

  it("shows of a bar's holes the one that delivers most, and what is out of reach last", () => {
    const one = (name: string, family: string, price: number, delivered: number, is_affordable = true) => ({
      name,
      family,
      is_affordable,
      price_money: { value: price },
      delivered_percent: { value: delivered },
    });
    const cards = cardsOf({
      alone: [
        one("dear", "dear", 900, 90, false),
        one("bar 1/1", "bar", 250, 60),
        one("bar 2/2", "bar", 250, 80),
        one("free", "free", 0, 5),
      ],
    } as unknown as ChooseRankResult);
    expect(cards.map((c) => [c.of.name, c.holes])).toEqual([
      ["free", 1],
      ["bar 2/2", 2],
      ["dear", 1],
    ]);
  });

  it("offers each complaint once", () => {
    expect(new Set(COMPLAINTS.map((c) => c.value)).size).toBe(COMPLAINTS.length);
  });
});
