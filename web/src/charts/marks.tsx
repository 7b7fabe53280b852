// Before and after as marks: an open blue circle and a filled red triangle, so that colour is never alone.
// Coordinates here are pixels with y down, as in the plots.

export type Role = "before" | "after";

export function Mark({ role, x, y, size = 5 }: { role: Role; x: number; y: number; size?: number }) {
  if (role === "before") return <circle class="mid stroke-before fill-paper" cx={x} cy={y} r={size} />;
  const s = size * 1.35;
  return <path class="fill-after" d={`M${x} ${y - s}L${x + s} ${y + s * 0.75}H${x - s}Z`} />;
}

export function MarkInText({ role }: { role: Role }) {
  return (
    <svg class="mark" viewBox="0 0 16 16" aria-hidden="true">
      <Mark role={role} x={8} y={8} size={5.2} />
    </svg>
  );
}

export const strokeOf = (role: Role) => (role === "before" ? "stroke-before dashed" : "stroke-after");
