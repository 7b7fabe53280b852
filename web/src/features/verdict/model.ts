// The rows of 'forecast, then measured', and the words around them.
import type { SetupChange, VerdictResult } from "@/api/types";
import type { Interval } from "@/base/estimate";
import type { UnitKey } from "@/base/units";

export interface EffectRow {
  key: string;
  name: string;
  unit: UnitKey;
  forecast: Interval | null;
  measured: Interval | null;
  measuredWords: string; // where there is no measured number
}

// What the logs can measure is lean and its timing; the rest stands as forecast, and says so.
export function effectRows(r: VerdictResult): EffectRow[] {
  const c: SetupChange | undefined = r.forecast.changes[0];
  if (!c) return [];
  const untested = "not tested";
  return [
    {
      key: "lean",
      name: "Lean",
      unit: "percent",
      forecast: c.roll_gradient_change_percent,
      measured: r.proof?.change_percent ?? null,
      measuredWords: r.proof ? "cannot tell" : untested,
    },
    {
      key: "share",
      name: "Front axle’s part of the load shift",
      unit: "points",
      forecast: c.front_load_transfer_share_percent,
      measured: null,
      measuredWords: untested,
    },
    {
      key: "push",
      name: "Pushes wide (understeer)",
      unit: "deg_per_g",
      forecast: c.understeer_gradient_deg_per_g,
      measured: null,
      measuredWords: untested,
    },
    {
      key: "grip",
      name: "Grip in a long corner",
      unit: "g",
      forecast: c.limit_g,
      measured: null,
      measuredWords: untested,
    },
    {
      key: "bump",
      name: "One rear wheel over a bump",
      unit: "percent",
      forecast: c.one_wheel_rate_rear_change_percent,
      measured: null,
      measuredWords: untested,
    },
  ];
}

// Lean of both cars at a corner, measured where it was, forecast where not.
export function leansAt(
  r: VerdictResult,
  g: number,
): { before: Interval; after: Interval; isMeasured: boolean } | null {
  const [b, a] = r.forecast.setups;
  const scaled = (i: Interval): Interval => ({ value: i.value * g, pm: i.pm * g, low: i.low * g, high: i.high * g });
  if (r.proof?.before && r.proof.after)
    return {
      before: scaled(r.proof.before.roll_gradient_deg_per_g),
      after: scaled(r.proof.after.roll_gradient_deg_per_g),
      isMeasured: true,
    };
  if (!b || !a) return null;
  return { before: scaled(b.roll_gradient_deg_per_g), after: scaled(a.roll_gradient_deg_per_g), isMeasured: false };
}

export function heldInWords(r: VerdictResult): string {
  const score = r.proof?.forecast;
  if (!score) return "";
  return score.agrees
    ? "The forecast of lean held."
    : "The forecast of lean did not hold: the car sheet or the test needs a look.";
}

export function moneyInWords(amount: number, currency: string): string {
  return `${currency} ${Math.round(amount).toLocaleString("en-GB").replaceAll(",", "\u2009")}`.trim();
}
