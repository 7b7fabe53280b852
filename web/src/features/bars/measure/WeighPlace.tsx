// 'Is it hollow?' The wall of a bar from its weight.

import { middleOf } from "@/api/barSheet";
import { changeBar } from "@/api/garage";
import { answered, asMeasured, isOnSheet, refusedAt, refusedElsewhere, useReadings } from "@/api/readings";
import { useAsk } from "@/api/useAsk";
import { asEstimate, type Estimate } from "@/base/estimate";
import { sentence } from "@/base/format";
import { useRoom } from "@/base/room";
import { units } from "@/base/settings";
import { circlePath, straight } from "@/charts/path";
import { DimAcross, Drawing, Leader, Text } from "@/charts/pen";
import { MeasureFrame } from "@/widgets/MeasureFrame";
import { Num } from "@/widgets/Num";
import { Reading } from "@/widgets/Reading";
import type { BarPlaceProps } from "./BarPlace";
import { BLANK_WEIGH, type WeighReadings, weighRequest } from "./model";
import { tidy } from "./tidy";

export function WeighPlace({ bar, axle }: BarPlaceProps) {
  const [r, put] = useReadings<WeighReadings>(`weigh-${tidy(bar.name)}`, BLANK_WEIGH);
  const [ref, room] = useRoom<HTMLDivElement>(420);
  const { request, missing } = weighRequest(r, bar);
  const asked = useAsk("bar/weigh", request);
  const answer = request ? answered(asked) : null;
  const result = answer?.result ?? null;
  const now = asEstimate(bar.section.wall_mm as Estimate | number | null);
  const diameter = middleOf(bar.section.outer_diameter_mm) ?? 20;
  const setWall = (wall: Estimate | null) =>
    changeBar(axle, bar.name, "wall", (b) => ({ ...b, section: { ...b.section, wall_mm: wall } }));
  const isHollow = result !== null && !result.is_likely_solid;
  return (
    <MeasureFrame
      title="Is it hollow?"
      term="wall from the weight"
      back={{ to: "bars", name: "back to the bars" }}
      caution={null}
      meaning={result?.meaning ?? null}
      answer={answer}
      missing={missing}
      problems={refusedElsewhere(asked.problems, ["mass_kg", "extra_mass_kg", "length_mm"])}
      uses={
        isHollow
          ? [
              {
                name: "Wall",
                unit: "mm",
                of: result.wall_mm,
                now,
                isUsed: isOnSheet(now, result.wall_mm),
                sheet: "the bar sheet",
                onUse: () => setWall(asMeasured(result.wall_mm)),
              },
            ]
          : []
      }
      extra={
        result && (
          <>
            {!isHollow && (
              <button type="button" class="main" disabled={now === null} onClick={() => setWall(null)}>
                {now === null ? "Solid on the bar sheet" : "Use this: solid"}
              </button>
            )}
            <dl>
              <dt>Its rate against a solid one</dt>
              <dd>
                <Num of={result.rate_share_percent} unit="percent" size="small" />
              </dd>
              <dt>A solid one would weigh</dt>
              <dd>
                <Num of={result.solid_mass_kg} unit="kg" size="small" decimals={2} />
              </dd>
              <dt>Length along the bends</dt>
              <dd>
                <Num of={result.length_mm} unit="mm" size="small" />
              </dd>
            </dl>
          </>
        )
      }
    >
      <div ref={ref} class="section-art">
        <Section
          diameter={diameter}
          wall={isHollow ? result.wall_mm : null}
          isSolid={result?.is_likely_solid ?? false}
          width={Math.min(room.width, 420)}
        />
      </div>
      <p>
        A kitchen or luggage scale is good enough. Take off links, collars and rubber, or say what they weigh. Diameter
        and shape come from this bar’s sheet; a string laid along it is better for the length.
      </p>
      <div class="reading-grid">
        <Reading
          id="mass"
          name="The bar weighs"
          unit="kg"
          value={r.mass}
          onChange={(mass) => put("what the bar weighs", { mass })}
          problem={refusedAt(asked.problems, "mass_kg")}
        />
        <Reading
          id="massPm"
          name="The scale is sure to ±"
          unit="kg"
          value={r.massPm}
          low={0.001}
          high={5}
          onChange={(v) => put("scale’s ±", { massPm: v ?? 0.05 })}
        />
        <Reading
          id="extra"
          name="Of that, not bar: collars, rubber, links"
          unit="kg"
          value={r.extra}
          onChange={(extra) => put("what is not bar", { extra })}
          problem={refusedAt(asked.problems, "extra_mass_kg")}
        />
        <Reading
          id="length"
          name="Length by a string along the bends, if taken"
          unit="mm"
          value={r.length}
          onChange={(length) => put("length by string", { length })}
          problem={refusedAt(asked.problems, "length_mm")}
        />
      </div>
    </MeasureFrame>
  );
}

// The bar cut through, at its own proportions; the band is where the inside may be.
function Section(p: {
  diameter: number;
  wall: { value: number; low: number; high: number } | null;
  isSolid: boolean;
  width: number;
}) {
  const R = p.diameter / 2;
  const W = R * 5.4;
  const u = W / p.width;
  const inner = (wall: number) => Math.max(0, R - wall);
  return (
    <Drawing
      box={[-W / 2, R * 1.25, W, R * 2.5 + 50 * u]}
      label={
        p.wall
          ? "The bar cut through, with its wall"
          : p.isSolid
            ? "The bar cut through, solid"
            : "The bar cut through, its inside not known"
      }
    >
      <clipPath id="bar-cut">
        <path d={`${circlePath(0, 0, R)}${p.wall ? circlePath(0, 0, inner(p.wall.value)) : ""}`} clip-rule="evenodd" />
      </clipPath>
      {(p.wall || p.isSolid) && (
        <path
          class="fine"
          clip-path="url(#bar-cut)"
          d={Array.from({ length: 60 }, (_, i) => straight(-R * 2 + i * 8 * u, -R, -R * 2 + i * 8 * u + 2 * R, R)).join(
            "",
          )}
        />
      )}
      <path class="bold" d={circlePath(0, 0, R)} />
      {p.wall ? (
        <>
          <path class="mid" d={circlePath(0, 0, inner(p.wall.value))} />
          <path class="thin dotted" d={circlePath(0, 0, inner(p.wall.low)) + circlePath(0, 0, inner(p.wall.high))} />
          <Leader
            points={[
              [R * 1.5, R * 0.8],
              [R - p.wall.value / 2, 0],
            ]}
            u={u}
            origin="measured"
          />
          <Text x={R * 1.55} y={R * 0.82} u={u} px={17} anchor="start">
            {`wall ${sentence(p.wall.value, undefined, "mm", units.value, { decimals: units.value === "metric" ? 1 : 2 })}`}
          </Text>
        </>
      ) : (
        !p.isSolid && (
          <>
            <path class="thin origin-guess" d={circlePath(0, 0, R * 0.62)} />
            <Text x={0} y={-8 * u} u={u} px={28} class="soft">
              ?
            </Text>
          </>
        )
      )}
      <DimAcross x1={-R} x2={R} y={-R - 22 * u} from={-R * 0.2} u={u} origin="measured" />
      <Text x={0} y={-R - 44 * u} u={u} px={15}>
        {sentence(p.diameter, undefined, "mm", units.value, { decimals: units.value === "metric" ? 1 : 2 })}
      </Text>
    </Drawing>
  );
}
