// The first sheet: two doors, and for someone who comes back, what to do next.
import { useState } from "preact/hooks";
import { drawnCar } from "@/api/carDrawn";
import { garage } from "@/api/garage";
import type { Problem } from "@/api/types";
import { goTo, hrefOf } from "@/base/route";
import { FileDrop } from "@/widgets/FileDrop";
import { Problems } from "@/widgets/Problems";
import { bring, everything, saveAs } from "./bring";
import { Door } from "./Door";
import { openDemo } from "./demo";
import { nextStep } from "./next";
import "./start.css";

const DEMO_SHAPE = drawnCar({ class: "front_drive_hatch", rear: { track_mm: 1460 } });

export function StartSheet() {
  const [busy, setBusy] = useState<string | null>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const g = garage.value.value;
  const next = nextStep(g);
  const demo = async () => {
    setBusy("opening the demo");
    const found = await openDemo(setBusy);
    setBusy(null);
    setProblems(found);
    if (found.length === 0) goTo("forecast");
  };
  const own = () => {
    if (!g.car || g.isDemo) {
      garage.change("a new car", (old) => ({
        ...old,
        isDemo: false,
        car: { kind: "car/1", name: "My car", class: "front_drive_hatch", drive: "front" },
        bars: { front: [], rear: [] },
        before: { ...old.before, front: { bar: null, setting: null }, rear: { bar: null, setting: null } },
        after: { ...old.after, front: { bar: null, setting: null }, rear: { bar: null, setting: null } },
        logs: { before: [], after: [] },
      }));
    }
    goTo("car");
  };
  return (
    <main class="sheet">
      {next && (
        <section class="next" aria-labelledby="next-title">
          <svg class="dwg" viewBox="0 0 44 40" aria-hidden="true">
            <path class="mid" d="M22 3L41 36H3Z" />
            <text x="22" y="31" font-size="19" text-anchor="middle">
              {next.n}
            </text>
          </svg>
          <h2 id="next-title">{next.title}</h2>
          <a class="press main go" href={hrefOf(next.room)}>
            Go on from here
          </a>
          <p>{next.why}</p>
        </section>
      )}
      <h1>Know how it will lean before you buy the bar.</h1>
      <p class="lead">Draw the car, try a bar on paper, fit it neutral, test it, then see if it was worth it.</p>
      <div class="doors">
        <button type="button" class="door" onClick={demo} disabled={busy !== null} aria-describedby="door-demo">
          <b>{busy ? `${busy.charAt(0).toUpperCase()}${busy.slice(1)} …` : "Show me the demo"}</b>
          <span id="door-demo">An invented hatchback. Every number is filled in.</span>
          <Door shape={DEMO_SHAPE} shutter={1640} known />
        </button>
        <button type="button" class="door" onClick={own} aria-describedby="door-own">
          <b>{g.car && !g.isDemo ? g.car.name : "My car"}</b>
          <span id="door-own">Start with what you know. ‘I don’t know’ is an answer: it stays in pencil.</span>
          <Door shape={g.car && !g.isDemo ? drawnCar(g.car) : DEMO_SHAPE} shutter={930} known={false} />
        </button>
      </div>
      <Problems list={problems} title="The demo did not open." />
      <InAndOut />
      <p class="note foot-note">
        Stays on this machine. Works with no internet. For your own car, on private ground, within the maker’s manual
        and your local rules.
      </p>
    </main>
  );
}

// Sheets of one's own in, everything out.
function InAndOut() {
  const [said, setSaid] = useState("");
  const take = async (files: File[]) => {
    let words: string[] = [];
    for (const file of files) {
      const result = bring(garage.value.value, file.name, await file.text());
      if ("garage" in result) garage.change(file.name, () => result.garage);
      words = [...words, "garage" in result ? result.said : result.refused];
    }
    setSaid(words.join(" "));
  };
  return (
    <details class="twin in-and-out">
      <summary>Bring a sheet, or take everything with you</summary>
      <FileDrop
        label="Bring a car or bar sheet"
        hint="The files that the command line reads too: car/1 and bar/1, or a saved garage."
        accept=".json,application/json"
        onFiles={take}
        busy={said}
      />
      <p>
        <button type="button" onClick={() => saveAs(everything(garage.value.value), "garage.json")}>
          Save everything as one file
        </button>
      </p>
    </details>
  );
}
