// The wish in numbers, as the complaints ask for it, to be changed by whoever knows better.
import type { GoalInput } from "@/api/types";
import { plain, readNumber } from "@/base/format";
import { DIRECTIONS, QUANTITIES, unitOfGoal, withGoal } from "./model";

export function Goals(p: {
  goals: readonly GoalInput[];
  changed: readonly GoalInput[];
  onChange: (goals: GoalInput[]) => void;
}) {
  const enough = (g: GoalInput) =>
    (g.quantity === "understeer" ? g.enough_understeer_deg_per_g : g.enough_percent) ?? 0;
  const set = (g: GoalInput, change: Partial<GoalInput>) => p.onChange(withGoal(p.changed, { ...g, ...change }));
  const setEnough = (g: GoalInput, n: number) =>
    set(g, g.quantity === "understeer" ? { enough_understeer_deg_per_g: n } : { enough_percent: n });
  const now = (g: GoalInput) => p.changed.find((c) => c.quantity === g.quantity) ?? g;
  return (
    <details class="goals">
      <summary>The wish in numbers, and how much each weighs</summary>
      <ul>
        {p.goals.map(now).map((g) => (
          <li key={g.quantity} class="row">
            <span>
              {QUANTITIES[g.quantity]} {DIRECTIONS[g.direction]}
            </span>
            <Small
              label={`${QUANTITIES[g.quantity]}: how much is enough, ${unitOfGoal(g)}`}
              after={unitOfGoal(g)}
              value={enough(g)}
              most={500}
              onChange={(n) => n > 0 && setEnough(g, n)}
            />
            <Small
              label={`${QUANTITIES[g.quantity]}: weight`}
              before="weight"
              value={g.weight ?? 1}
              most={100}
              onChange={(weight) => set(g, { weight })}
            />
          </li>
        ))}
      </ul>
      {p.changed.length > 0 && (
        <button type="button" class="plain" onClick={() => p.onChange([])}>
          as the complaints ask
        </button>
      )}
    </details>
  );
}

function Small(p: {
  label: string;
  before?: string;
  after?: string;
  value: number;
  most: number;
  onChange: (n: number) => void;
}) {
  const shown = plain(p.value, p.value < 1 ? 2 : 1);
  return (
    <span>
      {p.before && <span class="note">{p.before} </span>}
      <input
        class="write amount"
        inputMode="decimal"
        aria-label={p.label}
        value={shown}
        onChange={(e) => {
          const n = readNumber(e.currentTarget.value);
          if (n !== null && n >= 0 && n <= p.most) p.onChange(n);
          else e.currentTarget.value = shown;
        }}
      />
      {p.after && <span class="note"> {p.after}</span>}
    </span>
  );
}
