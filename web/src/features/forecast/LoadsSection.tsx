// 'And with a load, and in the wet?' The cases side by side, on one scale.
import { drawnCar } from "@/api/carDrawn";
import { garage } from "@/api/garage";
import { isChanged } from "@/api/setups";
import type { SetupForecast } from "@/api/types";
import { useAsk } from "@/api/useAsk";
import { useSeen, useSettled } from "@/base/seen";
import { SideCar } from "@/charts/Car";
import type { CarShape, Stroke } from "@/charts/carShape";
import { sideView } from "@/charts/carSide";
import { circlePath, polyline } from "@/charts/path";
import { Drawing, Ground } from "@/charts/pen";
import { span } from "@/charts/scale";
import { Whiskers } from "@/charts/Whiskers";
import { Said } from "@/widgets/Num";
import { Problems } from "@/widgets/Problems";
import { Reading } from "@/widgets/Reading";
import { Ring } from "@/widgets/small";
import { type CaseId, cases, type Loads, loadsOf, wheelbaseOf, withCases } from "./loads";
import { comparison } from "./request";

const FIGURES = [
  { name: "Lean", term: "roll gradient", unit: "deg_per_g", of: (s: SetupForecast) => s.roll_gradient_deg_per_g },
  { name: "Limit", unit: "g", of: (s: SetupForecast) => s.limit_g },
  {
    name: "Front’s part of the load shift",
    unit: "percent",
    of: (s: SetupForecast) => s.front_load_transfer_share_percent,
  },
] as const;

export function LoadsSection() {
  const g = garage.value.value;
  const [ref, seen] = useSeen<HTMLElement>();
  const loads = loadsOf(g);
  const list = cases(loads, wheelbaseOf(g.car));
  const both = seen ? comparison(g) : null;
  const request = useSettled(both && withCases(both, list));
  const asked = useAsk("forecast/compare", request && { ...request, draws: 200, lateral_g: 0.5 });
  const result = request && asked.problems.length === 0 ? (asked.answer?.result ?? null) : null;
  const per = isChanged(g) ? 2 : 1;
  const put = (label: string, change: Partial<Loads>) =>
    garage.change(label, (old) => ({ ...old, wish: { ...old.wish, loads: { ...loadsOf(old), ...change } } }));
  const shape = drawnCar(g.car);
  const right = result && result.setups.length === per * list.length ? result : null;
  return (
    <section class="loads" ref={ref} id="loads">
      <h2>And with a load, and in the wet?</h2>
      <div class="row">
        <Reading
          id="passenger"
          name="Passenger"
          unit="kg"
          value={loads.passenger}
          low={1}
          high={400}
          onChange={(v) => put("passenger", { passenger: v ?? 75 })}
        />
        <Reading
          id="boot"
          name="In the boot"
          unit="kg"
          value={loads.boot}
          low={1}
          high={1500}
          onChange={(v) => put("load in the boot", { boot: v ?? 80 })}
        />
        <Ring
          legend="You sit on the"
          showLegend
          choices={[
            { value: "left", label: "left" },
            { value: "right", label: "right" },
          ]}
          value={loads.driverSide}
          onChange={(driverSide) => put("driver’s side", { driverSide })}
        />
      </div>
      <Problems list={asked.problems} />
      <table class="cases">
        <caption class="unseen">Load cases side by side</caption>
        <thead>
          <tr class="cases-head">
            <th scope="col">case</th>
            {FIGURES.map((f) => (
              <th scope="col" key={f.name}>
                {f.name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {list.map((k, i) => (
            <tr class="case" key={k.id}>
              <th scope="row">
                <CaseDrawing id={k.id} name={k.name} shape={shape} share={loads} />
                <b class="lettering">{k.name}</b>
              </th>
              {FIGURES.map((f) => {
                const all = right ? right.setups.map(f.of) : [];
                const [before, after] = right
                  ? [f.of(right.setups[i * per]!), per === 2 ? f.of(right.setups[i * per + 1]!) : null]
                  : [null, null];
                return (
                  <td key={f.name} class="case-figure">
                    <span class="case-name">{f.name}</span>
                    {before ? (
                      <>
                        <Whiskers
                          before={before}
                          after={after}
                          range={span(
                            all.flatMap((x) => [x.low, x.high]),
                            0.06,
                          )}
                        />
                        <span class="note">
                          <Said of={before} unit={f.unit} />
                          {after && (
                            <>
                              {" → "}
                              <Said of={after} unit={f.unit} />
                            </>
                          )}
                        </span>
                      </>
                    ) : (
                      "…"
                    )}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="note">
        One scale down each column. The passenger and the boot are beside what was aboard when the car was weighed. Wet:
        grip a quarter lower, give or take, by tyre and road.
      </p>
    </section>
  );
}

function CaseDrawing({ id, name, shape, share }: { id: CaseId; name: string; shape: CarShape; share: Loads }) {
  const side = sideView(shape);
  const W = side.length + 200;
  const u = W / 150;
  const [xf, L] = [side.frontAxle, shape.wheelbase];
  const seat = (x: number) =>
    circlePath(x, 0.8 * shape.height, 110) +
    `M${x - 150} ${-0.42 * shape.height}h320l-60 ${-0.26 * shape.height}h-200Z`;
  const bag = (0.5 + 0.5 * Math.min(1, share.boot / 150)) * 380;
  const rain: Stroke = {
    pen: "thin",
    d: Array.from({ length: 9 }, (_, i) => `M${i * (W / 9)} ${-shape.height - 260 + (i % 3) * 90}l-60 170`).join(""),
  };
  return (
    <Drawing
      box={[-100, shape.height + (id === "wet" ? 300 : 40), W, shape.height + (id === "wet" ? 300 : 40) + 10 * u]}
      label={`The car, ${name}`}
      class="case-art"
    >
      <Ground from={-100} to={W - 100} u={u} />
      <SideCar view={side} />
      <path class="mid fill-paper" d={seat(xf + 0.53 * L)} />
      {id === "two_up" && <path class="solid" d={seat(xf + 0.53 * L + 60)} />}
      {id === "boot" && (
        <path
          class="solid"
          d={polyline(
            [
              [xf + 1.08 * L - bag / 2, 0.44 * shape.height],
              [xf + 1.08 * L + bag / 2, 0.44 * shape.height],
              [xf + 1.08 * L + bag / 2, 0.44 * shape.height + bag * 0.8],
              [xf + 1.08 * L - bag / 2, 0.44 * shape.height + bag * 0.8],
            ],
            true,
          )}
        />
      )}
      {id === "wet" && <path class={rain.pen} d={rain.d} />}
    </Drawing>
  );
}
