// A slider as a ruler with an index mark. Keyboard, touch and screen reader come from the native range input.
import { useId } from "preact/hooks";
import { plain } from "@/base/format";
import { useRoom } from "@/base/room";

export function ScaleSlider(p: {
  label: string;
  term?: string;
  unit: string;
  min: number;
  max: number;
  step: number;
  value: number;
  decimals: number;
  onInput: (value: number) => void;
}) {
  const id = useId();
  const [ref, room] = useRoom<HTMLDivElement>(600);
  const pad = 22; // half the index mark: the ruler's end is where the mark can point
  const X = (v: number) => pad + ((v - p.min) / (p.max - p.min)) * (room.width - 2 * pad);
  const count = Math.round((p.max - p.min) / p.step);
  const every = room.width / count < 4 ? 2 : 1;
  // Figures at every tenth mark, or at every second or fourth of them where they would run together; whole numbers bare.
  const tens = Math.floor(count / 10);
  const figures = [1, 2, 4, 10].find((n) => (room.width * n) / Math.max(1, tens) > 44) ?? 10;
  const isWhole = Number.isInteger(Math.round(p.step * 10 * figures * 1e6) / 1e6) && Number.isInteger(p.min);
  const shown = `${plain(p.value, p.decimals)} ${p.unit}`;
  return (
    <div class="scale" ref={ref}>
      <label class="scale-head" for={id}>
        <span>
          {p.label} {p.term && <span class="term">({p.term})</span>}
        </span>
        <span class="num">{shown}</span>
      </label>
      <svg class="dwg" viewBox={`0 0 ${room.width} 34`} preserveAspectRatio="none" aria-hidden="true">
        {Array.from({ length: Math.floor(count / every) + 1 }, (_, k) => {
          const i = k * every;
          const v = p.min + i * p.step;
          const isBig = i % 10 === 0;
          return (
            <g key={i}>
              <path class={isBig ? "mid" : "fine"} d={`M${X(v).toFixed(1)} 34V${isBig ? 18 : i % 5 === 0 ? 22 : 27}`} />
              {isBig && (i / 10) % figures === 0 && (
                <text x={X(v).toFixed(1)} y="13" font-size="15" text-anchor="middle">
                  {plain(v, isWhole ? 0 : Math.min(1, p.decimals)).replace(/^0\.0$/, "0")}
                </text>
              )}
            </g>
          );
        })}
        <path class="mid" d={`M${pad} 34H${(room.width - pad).toFixed(1)}`} />
      </svg>
      <input
        id={id}
        type="range"
        min={p.min}
        max={p.max}
        step={p.step}
        value={p.value}
        aria-valuetext={shown}
        onInput={(e) => p.onInput(Number(e.currentTarget.value))}
      />
    </div>
  );
}
