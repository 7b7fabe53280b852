// 'What is this bar, by tape?' The bar on the bench, square distances, no angles.
import { holeLabel } from "@/api/barSheet";
import { writeAt } from "@/api/documents";
import { type AxleName, changeBar, freeName, garage } from "@/api/garage";
import { answered, refusedAt, refusedElsewhere, useReadings } from "@/api/readings";
import { useAsk } from "@/api/useAsk";
import { useRoom } from "@/base/room";
import { goTo } from "@/base/route";
import { circlePath, polyline, straight } from "@/charts/path";
import { Balloon, DimAcross, DimUp, Drawing, Text } from "@/charts/pen";
import { MeasureFrame } from "@/widgets/MeasureFrame";
import { Num } from "@/widgets/Num";
import { Reading } from "@/widgets/Reading";
import { Ring } from "@/widgets/small";
import { BLANK_TAPE, type TapeReadings, tapeSheet, withShape } from "./tape";
import { tidy } from "./tidy";

export function TapePlace({ axle, named }: { axle: AxleName; named: string | null }) {
  const [r, put] = useReadings<TapeReadings>(`tape-${axle}-${tidy(named ?? "new")}`, BLANK_TAPE);
  const [ref, room] = useRoom<HTMLDivElement>(700);
  const g = garage.value.value;
  const old = g.bars[axle].find((b) => b.name === named);
  const name = old?.name ?? freeName(g, r.name.trim() || `my ${axle} bar`);
  const { sheet, missing } = tapeSheet(r, name, axle);
  const asked = useAsk("bar/rate", sheet && { bar: sheet });
  const answer = sheet ? answered(asked) : null;
  const result = answer?.result ?? null;
  const number = (key: keyof TapeReadings, label: string, n: number | undefined, where: string) => (
    <Reading
      key={key}
      id={key}
      n={n}
      name={label}
      unit="mm"
      value={r[key] as number | null}
      onChange={(v) => put(label.toLowerCase(), { [key]: v })}
      problem={refusedAt(asked.problems, where)}
    />
  );
  const places = [
    "bar.tape.straight_mm",
    "bar.tape.bushing_spacing_mm",
    "bar.tape.bushing_width_mm",
    "bar.tape.bend_radius_mm",
    "bar.tape.sweep_mm",
    "bar.tape.drop_mm",
    "bar.tape.beyond_mm",
    "bar.section.outer_diameter_mm",
    "bar.section.wall_mm",
    ...r.levers.map((_, i) => `bar.tape.levers_mm[${i}]`),
  ];
  const keep = () => {
    if (!sheet || !result) return;
    const bar = withShape(sheet, result);
    if (old) changeBar(axle, old.name, "the bar by tape", (b) => ({ ...b, ...bar, settings: undefined }));
    else
      garage.change(`${axle} bar added`, (now) => {
        const isFirst = now.bars[axle].length === 0;
        const first = { bar: bar.name, setting: result.settings[0]?.id ?? null };
        const work = writeAt(now.work, `readings.tape-${axle}-new`, null);
        return {
          ...now,
          bars: { ...now.bars, [axle]: [...now.bars[axle], bar] },
          after: isFirst ? { ...now.after, [axle]: first } : now.after,
          work: writeAt(work, `readings.tape-${axle}-${tidy(bar.name)}`, r), // to be read and changed again
        };
      });
    goTo("bars");
  };
  const same =
    result?.settings.filter((s) => holeLabel(s.left_hole, "left") === holeLabel(s.right_hole, "right")) ?? [];
  return (
    <MeasureFrame
      title="What is this bar, by tape?"
      term={`${axle} bar, square distances`}
      back={{ to: "bars", name: "back to the bars" }}
      caution={null}
      meaning={result?.meaning ?? null}
      answer={answer}
      missing={missing}
      problems={refusedElsewhere(asked.problems, places)}
      uses={[]}
      extra={
        result && (
          <>
            <dl>
              {same.map((s) => (
                <>
                  <dt key={`t${s.id}`}>Hole {holeLabel(s.left_hole, "left")}, one end held</dt>
                  <dd key={`d${s.id}`}>
                    <Num of={s.rate_relative_n_per_mm} unit="n_per_mm" size="small" />
                  </dd>
                </>
              ))}
              <dt>It should weigh</dt>
              <dd>
                <Num of={result.mass_kg} unit="kg" size="small" decimals={1} />
              </dd>
            </dl>
            <button type="button" class="main" onClick={keep}>
              {old ? "Use these readings for it" : "Put it among my bars"}
            </button>
          </>
        )
      }
    >
      <div ref={ref} class="tape-art">
        <TapeDrawing r={r} width={Math.min(room.width, 720)} />
      </div>
      <p>Lay it flat. Everything is read square to the straight or along it; no angles, no length round the bend.</p>
      {!old && (
        <span class="pick">
          <label class="note" for="tape-name">
            Called
          </label>
          <input
            id="tape-name"
            class="write"
            value={r.name}
            placeholder={`my ${axle} bar`}
            maxLength={60}
            onChange={(e) => put("the bar’s name", { name: e.currentTarget.value })}
          />
        </span>
      )}
      <Ring
        legend="The arms point"
        showLegend
        choices={[
          { value: "back", label: "to the rear of the car" },
          { value: "forward", label: "to the front" },
        ]}
        value={r.isForward ? "forward" : "back"}
        onChange={(v) => put("which way the arms point", { isForward: v === "forward" })}
      />
      <div class="reading-grid">
        {number("straight", "From corner to corner, where the middles would meet", 1, "bar.tape.straight_mm")}
        {number("bushings", "From bushing to bushing, middles", 2, "bar.tape.bushing_spacing_mm")}
        {r.levers.map((v, i) => (
          <Reading
            key={i}
            id={`lever-${i}`}
            n={i === 0 ? 3 : undefined}
            name={`Hole ${i + 1} from the straight, square to it`}
            unit="mm"
            value={v}
            onChange={(x) => put(`hole ${i + 1}`, { levers: r.levers.map((old, k) => (k === i ? x : old)) })}
            problem={refusedAt(asked.problems, `bar.tape.levers_mm[${i}]`)}
          />
        ))}
        {number("sweep", "Hole 1 stands outside its corner by", 4, "bar.tape.sweep_mm")}
        {number("drop", "Hole 1 lies below the straight by", 5, "bar.tape.drop_mm")}
        {number("bend", "Bend, radius of its middle line", 6, "bar.tape.bend_radius_mm")}
        {number("beyond", "Arm left over past hole 1", undefined, "bar.tape.beyond_mm")}
        {number("bushingWidth", "Width of a bushing", undefined, "bar.tape.bushing_width_mm")}
        {number("diameter", "Diameter by caliper, on bare steel", undefined, "bar.section.outer_diameter_mm")}
        {number("wall", "Wall, if it is a tube", undefined, "bar.section.wall_mm")}
      </div>
      <button type="button" class="plain" onClick={() => put("another hole", { levers: [...r.levers, null] })}>
        Another hole
      </button>
    </MeasureFrame>
  );
}

// From above, and one arm from the side, at the readings' own proportions; what is not read yet is dotted.
function TapeDrawing({ r, width }: { r: TapeReadings; width: number }) {
  const S = r.straight ?? 860;
  const L = r.levers[0] ?? 220;
  const s = r.sweep ?? 0;
  const B = Math.min(r.bushings ?? 0.7 * S, S);
  const drop = r.drop ?? 0;
  const W = (S + 2 * Math.abs(s)) * 1.6 + 300;
  const u = W / width;
  const half = S / 2;
  const low = -70 * u - Math.abs(drop);
  const side = -60 * u - L * 0; // y of the side view's straight
  const pen = (v: number | null) => (v === null ? "origin-guess" : "");
  const holes = r.levers.map((v, i) => v ?? L * (1 - i * 0.14));
  const sideY = side - 70 * u - Math.max(0, -drop);
  return (
    <Drawing
      box={[-W / 2, L + 60 * u, W, L + 60 * u - Math.min(low, sideY - Math.max(0, drop) - 40 * u)]}
      label="The bar from above with its square distances, and one arm from the side"
    >
      <path
        class={`bold ${pen(r.straight)}`}
        d={polyline([
          [-half - s, L + 30],
          [-half, 0],
          [half, 0],
          [half + s, L + 30],
        ])}
      />
      {[-1, 1].map((k) => (
        <path
          key={k}
          class="mid fill-well"
          d={polyline(
            [
              [(k * B) / 2 - 22, -20],
              [(k * B) / 2 + 22, -20],
              [(k * B) / 2 + 22, 20],
              [(k * B) / 2 - 22, 20],
            ],
            true,
          )}
        />
      ))}
      {holes.map((v, i) => {
        const t = v / (L + 30);
        return (
          <path
            key={i}
            class="mid fill-paper"
            d={circlePath(half + s * t, v, 4.5 * u) + circlePath(-half - s * t, v, 4.5 * u)}
          />
        );
      })}
      <DimAcross
        x1={-half}
        x2={half}
        y={-44 * u}
        from={0}
        u={u}
        gap={30 * u}
        origin={r.straight === null ? "guess" : "measured"}
      />
      <Balloon x={0} y={-44 * u} u={u} n={1} />
      <DimAcross
        x1={-B / 2}
        x2={B / 2}
        y={34 * u}
        from={20}
        u={u}
        gap={30 * u}
        origin={r.bushings === null ? "guess" : "measured"}
      />
      <Balloon x={0} y={34 * u} u={u} n={2} />
      <DimUp
        y1={0}
        y2={L}
        x={half + Math.max(0, s) + 50 * u}
        from1={half}
        from2={half + s}
        u={u}
        origin={r.levers[0] === null ? "guess" : "measured"}
      />
      <Balloon x={half + Math.max(0, s) + 72 * u} y={L / 2} u={u} n={3} />
      <path class="fine" d={straight(-half, 0, -half, L + 30 * u)} />
      <DimAcross x1={Math.min(-half - s, -half)} x2={Math.max(-half - s, -half)} y={L + 30 * u} from={L} u={u} />
      <Balloon x={-half - s / 2 - 30 * u} y={L + 34 * u} u={u} n={4} />
      <Balloon x={half - 26 * u} y={22 * u} u={u} n={6} />
      <path class="mid fill-paper" d={circlePath(-L / 2, sideY, 7 * u)} />
      <path
        class={`bold ${pen(r.drop)}`}
        d={polyline([
          [-L / 2 + 7 * u, sideY],
          [L / 2, sideY - drop],
        ])}
      />
      <DimUp
        y1={sideY - drop}
        y2={sideY}
        x={L / 2 + 40 * u}
        from1={L / 2}
        from2={-L / 2}
        u={u}
        origin={r.drop === null ? "guess" : "measured"}
      />
      <Balloon x={L / 2 + 64 * u} y={sideY - drop / 2} u={u} n={5} />
      <Text x={-L / 2 - 16 * u} y={sideY - 5 * u} u={u} px={14} class="soft" anchor="end">
        an arm from the side
      </Text>
    </Drawing>
  );
}
