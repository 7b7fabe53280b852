// How it stands with keeping, said only when there is something to say: the program is away, the notebook refuses, another
// place changed the same number, or changes wait that belong to another notebook.
import { garage } from "@/api/garage";
import { bringBack, clashes, keeping, keepNow } from "@/api/keeper";
import { aside, dropAside } from "@/api/ledger";
import type { Clash } from "@/base/merge";
import { hrefOf } from "@/base/route";

export function Kept() {
  const { is, problem } = keeping.value;
  if (!garage.isSaved.value)
    return (
      <p class="not-kept" role="alert">
        This browser keeps nothing now: its store is full or switched off.{" "}
        {is === "kept" ? "The notebook has what you entered." : "What you enter lasts until the page is closed."}
      </p>
    );
  if (clashes.value.length > 0) return <Clashes list={clashes.value} />;
  if (aside.value.length > 0) return <SetAside />;
  if (is === "refused" && problem)
    return (
      <p class="not-kept" role="alert">
        The notebook takes nothing now. {problem.message} {problem.hint} What you enter stays in this browser until it
        does.{" "}
        <button type="button" onClick={() => void keepNow()}>
          Try again
        </button>
      </p>
    );
  if (is === "away")
    return (
      <p class="not-kept" role="status">
        The program is away. What you enter stays in this browser and goes to the notebook when it is back.
      </p>
    );
  return null;
}

function inWords(v: unknown): string {
  if (v === undefined || v === null) return "nothing";
  if (typeof v === "object" && "value" in v) return String((v as { value: unknown }).value);
  return typeof v === "object" ? "something else" : String(v);
}

function Clashes({ list }: { list: readonly Clash[] }) {
  const shown = list
    .slice(0, 3)
    .map((c) => `${placeInWords(c.path)}: here ${inWords(c.mine)}, there ${inWords(c.theirs)}`);
  return (
    <div class="not-kept" role="alert">
      <p>
        Changed in two places at once. What stands here counts; the other is in the history of the notebook.{" "}
        {shown.join("; ")}
        {list.length > 3 && `; and ${list.length - 3} more`}.
      </p>
      <a class="press" href={hrefOf("notebook")}>
        Look at the history
      </a>{" "}
      <button
        type="button"
        onClick={() => {
          clashes.value = [];
        }}
      >
        Leave it so
      </button>
    </div>
  );
}

// "car.front.track_mm" as people read it.
const placeInWords = (path: string) =>
  path
    .split(".")
    .slice(-2)
    .join(" ")
    .replace(/_(mm|kg|deg|percent|n_per_mm)\b/g, "")
    .replaceAll("_", " ");

function SetAside() {
  const one = aside.value[0]!;
  return (
    <div class="not-kept" role="alert">
      <p>
        Changes wait here that never reached their notebook ({one.notebook}). This is {keeping.value.file || "another"}.
      </p>
      <button
        type="button"
        onClick={() => {
          bringBack(one.garage);
          dropAside(one);
        }}
      >
        Take them into this one
      </button>{" "}
      <button type="button" onClick={() => dropAside(one)}>
        Forget them
      </button>
    </div>
  );
}
