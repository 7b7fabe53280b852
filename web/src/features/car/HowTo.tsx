// How to measure a number at home: a drawing of where the tape goes, and the way to the sheet that takes the readings.
import type { DrawnCar } from "@/api/carDrawn";
import { measuredAt } from "@/base/places";
import { hrefOf } from "@/base/route";
import { RearCar, SideCar } from "@/charts/Car";
import { sideView } from "@/charts/carSide";
import { circlePath, polyline, straight } from "@/charts/path";
import { CentreOfGravity, DimAcross, DimUp, Drawing, Ground, Leader, Text } from "@/charts/pen";

const WIDTH = 340; // px; help is as wide as its fold

export function HowTo({ fieldKey, shape }: { fieldKey: string; shape: DrawnCar }) {
  const to = measuredAt(fieldKey);
  const isOwnPlace = !to.at.startsWith("car/number/");
  return (
    <>
      <div class="how-to">
        <Sketch of={fieldKey.replace(/^(front|rear)\./, "")} shape={shape} />
      </div>
      {isOwnPlace && (
        <a class="press" href={hrefOf(to.at)}>
          Measure it: {to.name.charAt(0).toLowerCase() + to.name.slice(1)}
        </a>
      )}
      {fieldKey.endsWith("bar_rate_per_side_n_per_mm") && (
        <a class="press" href={hrefOf("bars/hang")}>
          Or hang weights on the bar
        </a>
      )}
    </>
  );
}

function Sketch({ of, shape }: { of: string; shape: DrawnCar }) {
  switch (of) {
    case "wheelbase_mm":
    case "mass_kg":
    case "front_weight_share_percent":
    case "cg_height_mm":
      return <FromTheSide of={of} shape={shape} />;
    case "spring_rate_n_per_mm":
    case "wheel_rate_n_per_mm":
      return <Coil />;
    case "bar_rate_per_side_n_per_mm":
      return <HungBar />;
    default:
      return <FromBehind of={of} shape={shape} />;
  }
}

function FromTheSide({ of, shape }: { of: string; shape: DrawnCar }) {
  const side = sideView(shape);
  const W = side.length + 500;
  const u = W / WIDTH;
  const scales = of === "mass_kg" ? [side.frontAxle, side.rearAxle] : of === "wheelbase_mm" ? [] : [side.frontAxle];
  const pad = (x: number) =>
    polyline(
      [
        [x - 260, -80],
        [x - 260, 0],
        [x + 260, 0],
        [x + 260, -80],
      ],
      true,
    );
  const tilt = of === "cg_height_mm" ? -9 : 0;
  const low = 46 * u;
  return (
    <Drawing
      box={[-250, shape.height + 40 + (tilt ? 480 : 0), W, shape.height + 40 + (tilt ? 480 : 0) + low]}
      label={
        of === "wheelbase_mm"
          ? "Tape from hub middle to hub middle"
          : of === "cg_height_mm"
            ? "Rear axle on stands, scales under the front wheels"
            : of === "mass_kg"
              ? "All wheels on the scale"
              : "Only the front wheels on the scale"
      }
    >
      <g transform="translate(0 80)">
        <Ground from={-250} to={W - 250} u={u} />
      </g>
      {scales.map((x) => (
        <path key={x} class="mid fill-well" d={pad(x)} />
      ))}
      {tilt !== 0 && (
        <path
          class="mid"
          d={polyline(
            [
              [side.rearAxle - 220, -80],
              [side.rearAxle - 110, 390],
              [side.rearAxle + 110, 390],
              [side.rearAxle + 220, -80],
            ],
            true,
          )}
        />
      )}
      <g transform={tilt ? `rotate(${tilt} ${side.frontAxle} ${-side.tyreRadius})` : undefined}>
        <SideCar view={side} />
        {of === "cg_height_mm" && <CentreOfGravity x={side.frontAxle + 0.4 * shape.wheelbase} y={540} u={u} px={8} />}
      </g>
      {of === "wheelbase_mm" && (
        <DimAcross x1={side.frontAxle} x2={side.rearAxle} y={side.tyreRadius} from={side.tyreRadius} u={u} isLit />
      )}
    </Drawing>
  );
}

function FromBehind({ of, shape: c }: { of: string; shape: DrawnCar }) {
  const W = c.width + 1500;
  const u = W / WIDTH;
  const right = c.track / 2;
  const tyre = 98;
  return (
    <Drawing
      box={[-W / 2, c.height + 60, W, c.height + 60 + 44 * u]}
      label={LABEL[of] ?? "Where to measure, from behind"}
    >
      <Ground from={-W / 2} to={W / 2} u={u} />
      <RearCar shape={c} />
      {of === "track_mm" && (
        <DimAcross x1={-right - tyre} x2={right - tyre} y={-22 * u} from={0} u={u} origin="measured" isLit />
      )}
      {/ratio/.test(of) && (
        <>
          <DimUp
            y1={305}
            y2={680}
            x={c.width / 2 + 220}
            from1={right + tyre}
            from2={c.width / 2}
            u={u}
            origin="measured"
            isLit
          />
          <path class="bold" d={straight(right - 420, 330, right - 70, 305)} />
          <path class="mid" d={straight(right - 230, 320, right - 250, 700)} />
          <DimUp
            y1={320}
            y2={700}
            x={right - 340}
            from1={right - 230}
            from2={right - 250}
            u={u}
            origin="measured"
            isLit
          />
        </>
      )}
      {of === "tyre.vertical_rate_n_per_mm" && (
        <DimUp y1={0} y2={305} x={c.width / 2 + 220} from1={right} from2={right + tyre} u={u} origin="measured" isLit />
      )}
      {(of === "bump_stop_gap_mm" || of === "droop_travel_mm") && (
        <DimUp
          y1={305}
          y2={660}
          x={c.width / 2 + 220}
          from1={right + tyre}
          from2={c.width / 2}
          u={u}
          origin="measured"
          isLit
        />
      )}
      {of === "roll_centre_height_mm" && (
        <>
          <path
            class="thin origin-typical"
            d={straight(right, 0, -right * 0.6, 170) + straight(-right, 0, right * 0.6, 170)}
          />
          <path class="solid" d={circlePath(0, 106, 3.4 * u)} />
          <Leader
            points={[
              [c.width / 2 + 240, c.height * 0.7],
              [0, 106],
            ]}
            u={u}
          />
          <Text x={c.width / 2 + 240} y={c.height * 0.74} u={u} px={15}>
            roll centre
          </Text>
        </>
      )}
    </Drawing>
  );
}

const LABEL: Record<string, string> = {
  track_mm: "Tape on the ground, from the inner edge of one tyre to the outer edge of the other",
  spring_motion_ratio: "One tape from hub to arch, one along the spring",
  bar_motion_ratio: "One tape from hub to arch, one at the link",
  "tyre.vertical_rate_n_per_mm": "Tape from the ground to the hub, with and without a known load",
  roll_centre_height_mm:
    "Lines from the tyres’ middle on the ground to the arms’ centres of turning cross at the roll centre",
};

function Coil() {
  const u = 1000 / WIDTH;
  const coils = Array.from({ length: 13 }, (_, i) => [i % 2 ? 330 : -30, 80 + i * 62] as const);
  return (
    <Drawing box={[-340, 930, 1000, 930]} label="A coil spring: wire, diameter of the coil, and the free coils counted">
      <path class="bold" d={straight(-60, 70, 360, 70) + straight(-60, 830, 360, 830)} />
      <path class="bold" d={polyline(coils)} />
      <DimAcross x1={-30} x2={330} y={880} from={830} u={u} isLit />
      <Text x={150} y={895} u={u} px={15} class="halo">
        coil, middle to middle
      </Text>
      <Leader
        points={[
          [430, 500],
          [320, 390],
        ]}
        u={u}
      />
      <Text x={440} y={510} u={u} px={15} anchor="start">
        wire
      </Text>
      <Text x={440} y={250} u={u} px={15} anchor="start">
        count free coils
      </Text>
    </Drawing>
  );
}

function HungBar() {
  const u = 1300 / WIDTH;
  return (
    <Drawing
      box={[-120, 520, 1300, 560]}
      label="One end of the bar held, weights hung on the other, and a ruler beside its hole"
    >
      <path
        class="bold"
        d={polyline([
          [0, 430],
          [160, 260],
          [820, 260],
          [1000, 430],
        ])}
      />
      <path
        class="mid"
        d={
          straight(230, 210, 290, 310) +
          straight(290, 210, 230, 310) +
          straight(690, 210, 750, 310) +
          straight(750, 210, 690, 310)
        }
      />
      <path class="mid" d={straight(-60, 450, 60, 450) + straight(-60, 470, 60, 470)} />
      <Text x={0} y={480} u={u} px={15}>
        held
      </Text>
      <path class="thin" d={straight(1000, 430, 1000, 180)} />
      <path
        class="mid fill-well"
        d={polyline(
          [
            [930, 180],
            [1070, 180],
            [1090, 20],
            [910, 20],
          ],
          true,
        )}
      />
      <Text x={1000} y={80} u={u} px={15}>
        kg
      </Text>
      <DimUp y1={430} y2={380} x={1110} from1={1000} from2={1000} u={u} isLit />
    </Drawing>
  );
}
