// Steady cornering up to the limit, made ready to draw.
import type { TurnForecast, TurnPoint } from "@/api/types";

const G = 9.80665; // m/s², newtons to the kilograms that scales would show
const AT = { gentle: 0, four: 4 / G, six: 6 / G }; // g, where the understeer gradient has its own interval [ISO 4138]

export type Curve = readonly (readonly [g: number, value: number])[];

// Past its top the curve turns back: that says nothing to a driver.
function wayUp(s: TurnForecast): TurnPoint[] {
  const turn = s.curve.findIndex((p, i) => i > 0 && p.lateral_g <= s.curve[i - 1]!.lateral_g);
  return turn < 0 ? s.curve : s.curve.slice(0, turn);
}

// The front wheels first; the inner wheels of a left turn are the left ones.
export const innerLoad = (s: TurnForecast, axle: "front" | "rear"): Curve =>
  wayUp(s).map((p) => [p.lateral_g, Math.max(0, p.load_n[axle === "front" ? 0 : 2]) / G]);
export const gripUsed = (s: TurnForecast, axle: "front" | "rear"): Curve =>
  wayUp(s).map((p) => [p.lateral_g, axle === "front" ? p.front_grip_used_percent : p.rear_grip_used_percent]);

export const gradient = (s: TurnForecast): Curve => wayUp(s).map((p) => [p.lateral_g, p.understeer_deg_per_g]);
export const gradientKnown = (s: TurnForecast) =>
  [
    { g: AT.gentle, of: s.understeer_gentle_deg_per_g },
    { g: AT.four, of: s.understeer_4_deg_per_g },
    { g: AT.six, of: s.understeer_6_deg_per_g },
  ].filter((k) => k.g <= s.limit_g.value);

// The point of the curve nearest below a g, for the table.
export function pointNear(s: TurnForecast, g: number): TurnPoint | null {
  const before = s.curve.filter((p) => p.lateral_g <= g + 1e-9);
  const last = s.curve.reduce((most, p) => Math.max(most, p.lateral_g), 0);
  if (g > last + 1e-9) return null;
  return before.reduce<TurnPoint | null>((best, p) => (best === null || p.lateral_g > best.lateral_g ? p : best), null);
}

export const endsFirst = (s: TurnForecast): string =>
  s.limited_by === "front axle"
    ? "the front lets go first: it pushes wide"
    : s.limited_by === "rear axle"
      ? "the rear lets go first: the tail comes round"
      : "it would tip over before the tyres let go";
