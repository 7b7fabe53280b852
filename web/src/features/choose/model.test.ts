import { describe, expect, it } from "vitest";
import { EMPTY } from "@/api/garage";
import { COMPLAINTS, requestOf, wishesOf } from "./model";

describe("the wish", () => {
  it("starts with lean and a modest budget, and keeps what was changed", () => {
    expect(wishesOf(EMPTY).complaints).toEqual(["leans"]);
    const kept = wishesOf({ ...EMPTY, wish: { choose: { budget: 900, complaints: ["late", "leans"] } } });
    expect(kept.budget).toBe(900);
    expect(kept.hours).toBe(wishesOf(EMPTY).hours);
    expect(kept.complaints).toEqual(["late", "leans"]);
  });

  it("goes to the program with money and hours under their own names", () => {
    const r = requestOf({ kind: "car/1", name: "x" }, [], {
      complaints: ["leans"],
      budget: 500,
      hours: 8,
      currency: "€",
    });
    expect(r).toMatchObject({ budget_money: 500, hours_h: 8, complaints: ["leans"] });
  });

  it("offers each complaint once", () => {
    expect(new Set(COMPLAINTS.map((c) => c.value)).size).toBe(COMPLAINTS.length);
  });
});
