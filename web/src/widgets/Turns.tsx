// Turns of a link as a spiral with a stop at each half turn: done is thick and filled, to go is dotted.

const CENTRE = 84;
const HALF_TURNS_MAX = 12; // beyond six turns a spiral says no more than the number

export function halfTurnsText(half: number): string {
  const whole = Math.floor(half / 2);
  return half % 2 ? `${whole || ""}½` : String(whole);
}

export function Turns({ needed, done }: { needed: number; done: number }) {
  const half = Math.min(HALF_TURNS_MAX, Math.abs(needed));
  const step = 62 / Math.max(3, half); // spiral grows by this much each half turn
  const radius = (k: number) => 18 + step * k;
  const at = (k: number) => {
    const a = -Math.PI / 2 + k * Math.PI;
    return [CENTRE + radius(k) * Math.cos(a), CENTRE + radius(k) * Math.sin(a)] as const;
  };
  const arc = (from: number, to: number) => {
    const points = Array.from({ length: 25 }, (_, i) => at(from + ((to - from) * i) / 24));
    return `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}`;
  };
  return (
    <svg
      class="dwg turns"
      viewBox="0 0 168 168"
      role="img"
      aria-label={`${halfTurnsText(Math.min(done, half))} of ${halfTurnsText(half)} turns done`}
    >
      {Array.from({ length: half }, (_, k) => (
        <path key={k} class={k < done ? "bold stroke-after" : "thin origin-guess"} d={arc(k, k + 1)} />
      ))}
      {Array.from({ length: half + 1 }, (_, k) => {
        const [x, y] = at(k);
        return (
          <circle
            key={`s${k}`}
            class={k <= done && k > 0 ? "fill-after" : "thin fill-paper"}
            cx={x.toFixed(1)}
            cy={y.toFixed(1)}
            r="4.5"
          />
        );
      })}
      <path class="mid" d="M84 76l7 4v8l-7 4-7-4v-8z" />
    </svg>
  );
}
