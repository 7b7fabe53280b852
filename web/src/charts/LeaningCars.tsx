// Cars seen from behind, leaning side by side. A plumb line stays upright, the centre line leans, the protractor reads
// true degrees even where the lean is drawn larger. Below the ground, each tyre's load as an area.
import type { ComponentChildren } from "preact";
import { type System, toShown, unitLabel } from "@/base/units";
import { PIVOT, RearCar } from "./Car";
import type { CarShape } from "./carShape";
import type { Role } from "./marks";
import { arrow, at, straight } from "./path";
import { Drawing, Ground, Hatched, Plumb, Text } from "./pen";

export interface WheelLoads {
  frontLeft: number;
  frontRight: number;
  rearLeft: number;
  rearRight: number;
} // kg
export interface LeaningCar {
  role: Role;
  leanDeg: number;
  loads?: WheelLoads;
}

export function LeaningCars(p: {
  cars: readonly LeaningCar[];
  shape: CarShape;
  times: number; // how much larger than true the lean is drawn
  width: number; // on the screen, px
  system: System;
  label: string;
  showLoads?: boolean;
  showScale?: boolean;
}) {
  const { shape, times, width } = p;
  const isRoomy = width >= 700;
  const pitch = Math.max(shape.width * (isRoomy ? 1.95 : 1.24), 2100);
  const W = pitch * p.cars.length + (isRoomy ? 300 : 40);
  const u = W / width;
  const reach = shape.height + 110; // radius of the protractor above the pivot
  const heaviest = Math.max(
    1,
    ...p.cars.flatMap((c) => (c.loads ? [sum(c.loads, "Left"), sum(c.loads, "Right")] : [])),
  );
  const depth = p.showLoads ? (isRoomy ? 900 : 1000) : 0;
  const perKg = depth / heaviest;
  const top = PIVOT + reach + 46 * u;
  return (
    <Drawing box={[-W / 2, top, W, top + depth + 40 * u]} label={p.label}>
      <Ground from={-W / 2} to={W / 2} u={u} />
      {p.cars.map((car, i) => (
        <g key={car.role} transform={`translate(${(i - (p.cars.length - 1) / 2) * pitch} 0)`}>
          {p.showScale && <Protractor leanDeg={car.leanDeg} times={times} radius={reach} u={u} isRoomy={isRoomy} />}
          <RearCar
            shape={shape}
            leanDeg={car.leanDeg * times}
            inside={<path class={`thin centre stroke-${car.role}`} d={straight(0, 110, 0, PIVOT + reach - 40 * u)} />}
          />
          <LeanArc role={car.role} angle={car.leanDeg * times} radius={reach - 150} />
          <path class={`fill-${car.role}`} d={tip(car.leanDeg * times, reach, u)} />
          <Plumb x={0} top={PIVOT + reach - 6 * u} tip={250} u={u} />
          {p.showLoads && car.loads && (
            <Loads
              loads={car.loads}
              role={car.role}
              shape={shape}
              perKg={perKg}
              u={u}
              isRoomy={isRoomy}
              system={p.system}
            />
          )}
        </g>
      ))}
    </Drawing>
  );
}

const rad = Math.PI / 180;
const onArc = (angle: number, radius: number) =>
  [Math.sin(angle * rad) * radius, PIVOT + Math.cos(angle * rad) * radius] as const;
const tip = (angle: number, radius: number, u: number) => {
  const [x, y] = onArc(angle, radius);
  return arrow(x, y, Math.PI / 2 - angle * rad, u * 1.25);
};
const sum = (l: WheelLoads, side: "Left" | "Right") => l[`front${side}`] + l[`rear${side}`];

function LeanArc({ role, angle, radius }: { role: Role; angle: number; radius: number }) {
  if (Math.abs(angle) < 0.05) return null;
  const d = `M${at(...onArc(0, radius))}A${radius} ${radius} 0 0 ${angle > 0 ? 1 : 0} ${at(...onArc(angle, radius))}`;
  return <path class={`bold stroke-${role}${role === "before" ? " dashed" : ""}`} d={d} />;
}

function Protractor(p: { leanDeg: number; times: number; radius: number; u: number; isRoomy: boolean }) {
  const last = Math.max(6, Math.ceil(p.leanDeg) + 1);
  const marks: ComponentChildren[] = [];
  for (let a = -1; a <= last; a += 0.5) {
    const isWhole = a % 1 === 0;
    const d = `M${at(...onArc(a * p.times, p.radius))}L${at(...onArc(a * p.times, p.radius + (isWhole ? 11 : 6) * p.u))}`;
    marks.push(<path key={a} class={isWhole ? "thin" : "fine"} d={d} />);
    if (isWhole && a >= 0 && a % (p.isRoomy ? 2 : 6) === 0) {
      const [x, y] = onArc(a * p.times, p.radius + 17 * p.u);
      marks.push(
        <Text key={`t${a}`} x={x} y={y} u={p.u} px={14} class="soft">
          {a}°
        </Text>,
      );
    }
  }
  const arc = `M${at(...onArc(-p.times, p.radius))}A${p.radius} ${p.radius} 0 0 1 ${at(...onArc(last * p.times, p.radius))}`;
  return (
    <g>
      <path class="thin" d={arc} />
      {marks}
    </g>
  );
}

function Loads(p: {
  loads: WheelLoads;
  role: Role;
  shape: CarShape;
  perKg: number;
  u: number;
  isRoomy: boolean;
  system: System;
}) {
  const block = p.isRoomy ? 330 : 360;
  const written = (kg: number) => toShown(kg, "kg", p.system).toFixed(0);
  const size = p.isRoomy ? 20 : 16;
  const inner = (["Left", "Right"] as const).map((side) => {
    const x = ((side === "Left" ? -1 : 1) * p.shape.track) / 2;
    const front = p.loads[`front${side}`];
    const rear = Math.max(0, p.loads[`rear${side}`]);
    const [hf, hr] = [Math.max(0, front) * p.perKg, rear * p.perKg];
    // A narrow drawing has no room beside the outer wheel: there the numbers stand on their blocks.
    const isOn = !p.isRoomy && side === "Right";
    const tx = isOn ? x : x + block / 2 + 8 * p.u;
    const anchor = isOn ? "middle" : "start";
    const yf = -hf / 2 - 7 * p.u;
    const yr = Math.min(-hf - hr / 2 - 7 * p.u, yf - (size + 2) * p.u);
    const unit = p.isRoomy && side === "Right" ? ` ${unitLabel("kg", p.system)}` : "";
    return (
      <g key={side}>
        <Hatched x={x - block / 2} y={-hf} width={block} height={hf} spacing={7 * p.u} class={`stroke-${p.role}`} />
        <Hatched
          x={x - block / 2}
          y={-hf - hr}
          width={block}
          height={hr}
          spacing={7 * p.u}
          cross
          class={`stroke-${p.role}`}
        />
        <Text x={tx} y={yf} u={p.u} px={size} class="halo" anchor={anchor}>
          {written(front)}
          {unit && <tspan class="soft" font-size={14 * p.u}>{`${unit} front`}</tspan>}
        </Text>
        <Text x={tx} y={yr} u={p.u} px={size} class="halo" anchor={anchor}>
          {written(rear)}
          {unit && <tspan class="soft" font-size={14 * p.u}>{`${unit} rear`}</tspan>}
        </Text>
      </g>
    );
  });
  return <g>{inner}</g>;
}
