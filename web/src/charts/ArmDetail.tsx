// 'Detail A': the end of one arm at a larger scale, holes big enough for a thumb, the rate written at each.
import { useId } from "preact/hooks";
import { useRoom } from "@/base/room";
import { hatch, straight } from "./path";
import { Balloon, Drawing, Text } from "./pen";

export interface DetailHole {
  id: string;
  name?: string; // as written in its balloon
  rate: string; // as shown, without unit
  label: string; // the whole choice in words
}

// Holes are drawn evenly spaced, farthest from the straight (softest) at the right end.
export function ArmDetail(p: {
  holes: readonly DetailHole[]; // from nearest the straight to the arm's end
  chosen: string;
  unit: string;
  legend: string;
  onChoose: (id: string) => void;
}) {
  const name = useId();
  const [ref, room] = useRoom<HTMLDivElement>(500);
  const count = p.holes.length;
  const pitch = 35;
  const W = 60 + pitch * count;
  const u = W / room.width;
  const X = (i: number) => 42 + pitch * i;
  const end = X(count - 1) + 12;
  const top = 33 + 30 * u;
  const height = top + 33 + 48 * u;
  return (
    <div class="arm-detail" ref={ref} role="radiogroup" aria-label={p.legend}>
      <Drawing box={[-14, top, W + 8, height]} label={`${p.legend}, drawn larger`}>
        <path
          class="bold fill-paper"
          d={`M-12 15H18C26 15 26 22 34 22H${end}A22 22 0 0 0 ${end} -22H34C26 -22 26 -15 18 -15H-12`}
        />
        <path class="fine" d="M-12 15C-9 8 -15 4 -12 0S-9 -9 -12 -15" />
        <path class="fine stroke-dye" d={hatch(-10, -14.5, 28, 29, 9 * u)} />
        <path class="fine centre" d={straight(-12, 0, end + 26, 0)} />
        {p.holes.map((h, i) => {
          const x = X(i);
          const isOn = h.id === p.chosen;
          return (
            <g key={h.id}>
              {isOn ? <Bolt x={x} /> : <Hole x={x} />}
              <path class="fine" d={straight(x, isOn ? -15 : -14, x, -33) + straight(x, isOn ? 15 : 14, x, 33)} />
              <Text x={x} y={-33 - 26 * u} u={u} px={isOn ? 30 : 22} class={isOn ? "" : "soft"}>
                {h.rate}
              </Text>
              <Balloon x={x} y={33 + 13 * u} n={h.name ?? h.id} u={u} />
              {isOn && (
                <ellipse
                  class="bold"
                  cx={x}
                  cy={33 + 18 * u}
                  rx={44 * u}
                  ry={24 * u}
                  transform={`rotate(-3 ${x} ${33 + 18 * u})`}
                />
              )}
            </g>
          );
        })}
        <Text x={-12} y={-33 - 26 * u} u={u} class="soft" anchor="start">
          {p.unit}
        </Text>
        <Text x={-12} y={33 + 8 * u} u={u} class="soft" anchor="start">
          hole
        </Text>
      </Drawing>
      {p.holes.map((h, i) => (
        <label
          key={h.id}
          class="hole-target"
          style={{
            left: `${(((X(i) + 14) / (W + 8)) * 100).toFixed(2)}%`,
            width: `${((pitch / (W + 8)) * 92).toFixed(2)}%`,
          }}
        >
          <input
            type="radio"
            name={name}
            value={h.id}
            checked={h.id === p.chosen}
            aria-label={h.label}
            onChange={() => p.onChoose(h.id)}
          />
        </label>
      ))}
    </div>
  );
}

function Hole({ x }: { x: number }) {
  return (
    <>
      <circle class="mid fill-paper" cx={x} cy={0} r={8.5} />
      <path class="fine" d={straight(x - 13, 0, x + 13, 0) + straight(x, -13, x, 13)} />
    </>
  );
}

function Bolt({ x }: { x: number }) {
  const hexagon = Array.from({ length: 6 }, (_, k) => {
    const a = (k * Math.PI) / 3;
    return `${(x + 10.5 * Math.cos(a)).toFixed(2)} ${(10.5 * Math.sin(a)).toFixed(2)}`;
  });
  return (
    <>
      <circle class="thin fill-paper" cx={x} cy={0} r={14} />
      <path class="solid" d={`M${hexagon.join("L")}Z`} />
      <circle class="bolt-ring" cx={x} cy={0} r={6} />
    </>
  );
}
