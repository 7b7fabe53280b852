// Shows one sheet at a time, and the title block that leads round.
import type { ComponentType } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { garage, setupInWords } from "@/api/garage";
import { route } from "@/base/route";
import { TitleBlock } from "@/widgets/TitleBlock";
import { Kept } from "./Kept";
import { KIT, RECORD, ROOMS } from "./rooms";

export function App() {
  const room = [...ROOMS, RECORD, KIT].find((r) => r.room === route.value) ?? ROOMS[0]!;
  const [shown, setShown] = useState<{ room: string; Sheet: ComponentType } | null>(null);
  const [failed, setFailed] = useState(false);
  const isFirst = useRef(true);
  const g = garage.value.value;

  useEffect(() => {
    let isGone = false;
    setFailed(false);
    room
      .load()
      .then((Sheet) => !isGone && setShown({ room: room.room, Sheet }))
      .catch(() => !isGone && setFailed(true));
    document.title = room.n ? `${room.name} · Rollwright` : "Rollwright";
    return () => {
      isGone = true;
    };
  }, [room]);

  useEffect(() => {
    // Ctrl+Z takes back the last change of the sheets; inside a field it stays the field's own.
    const keys = (e: KeyboardEvent) => {
      if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== "z") return;
      if (
        e.target instanceof HTMLElement &&
        e.target.matches("input:not([type=radio]):not([type=range]):not([type=checkbox]), textarea")
      )
        return;
      e.preventDefault();
      if (e.shiftKey) garage.redo();
      else garage.undo();
    };
    addEventListener("keydown", keys);
    return () => removeEventListener("keydown", keys);
  }, []);

  // A new sheet starts at its top, and the reader of a screen hears its title.
  useEffect(() => {
    if (!shown) return;
    if (isFirst.current) {
      isFirst.current = false;
      return;
    }
    scrollTo(0, 0);
    const title = document.querySelector<HTMLElement>("main h1");
    title?.setAttribute("tabindex", "-1");
    title?.focus({ preventScroll: true });
  }, [shown]);

  return (
    <>
      {failed ? <Unreachable /> : shown ? <shown.Sheet /> : <main class="sheet" aria-busy="true" />}
      <Kept />
      <TitleBlock
        undo={{
          undoLabel: garage.undoLabel.value,
          redoLabel: garage.redoLabel.value,
          undo: garage.undo,
          redo: garage.redo,
        }}
        sheets={room === KIT || room === RECORD ? [...ROOMS, room] : ROOMS}
        here={room.room}
        car={g.car?.name ?? "no car yet"}
        setup={g.car ? setupInWords(g.after) : "–"}
      />
    </>
  );
}

function Unreachable() {
  return (
    <main class="sheet">
      <h1>The program has stopped.</h1>
      <p>
        What you entered is kept in this browser. Start it again with ‘rollwright serve’ and load this page once more.
      </p>
      <button type="button" class="main" onClick={() => location.reload()}>
        Load again
      </button>
    </main>
  );
}
