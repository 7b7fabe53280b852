// The title block of the drawing is the way round: always at the foot, in thumb reach. Back, all sheets, next; the
// units and the paper; and, as on any drawing, which car and which setup the sheet shows.
import { useEffect, useRef } from "preact/hooks";
import { hrefOf } from "@/base/route";
import { type Paper, paper, units } from "@/base/settings";
import type { System } from "@/base/units";
import { Ring } from "./small";

export interface SheetName {
  room: string;
  n: number; // 0 for the start
  name: string;
  question: string;
  mark?: string; // short word on its state, in the index of sheets
}

// Taking back the last change, by its name; and making it again.
export interface Undo {
  undoLabel: string | null;
  redoLabel: string | null;
  undo: () => void;
  redo: () => void;
}

function UndoButtons({ undo: u }: { undo: Undo }) {
  return (
    <span class="undo">
      {u.undoLabel !== null && (
        <button type="button" class="plain" onClick={u.undo}>
          undo <span class="undo-what">{u.undoLabel}</span>
        </button>
      )}
      {u.redoLabel !== null && (
        <button type="button" class="plain" onClick={u.redo}>
          redo <span class="undo-what">{u.redoLabel}</span>
        </button>
      )}
    </span>
  );
}

export function TitleBlock(p: { sheets: readonly SheetName[]; here: string; car: string; setup: string; undo: Undo }) {
  const i = Math.max(
    0,
    p.sheets.findIndex((s) => s.room === p.here),
  );
  const here = p.sheets[i]!;
  const prev = p.sheets[i - 1];
  const next = p.sheets[i + 1];
  const last = p.sheets.at(-1)!.n;
  return (
    <nav class="block screen-only" aria-label="Sheets">
      <div class="cells">
        <div class="c wide-only">
          <i>Rollwright</i>
          <b>{p.car}</b>
        </div>
        <div class="c wide-only grow">
          <i>Setup on this sheet</i>
          <b class="cut">{p.setup}</b>
        </div>
        {(p.undo.undoLabel ?? p.undo.redoLabel) !== null && (
          <div class="c wide-only undo-cell">
            <UndoButtons undo={p.undo} />
          </div>
        )}
        {prev ? <Way sheet={prev} words="← back" /> : <span class="c narrow-only" />}
        <Index {...p} here={here} label={here.n ? `sheet ${here.n} of ${last}, all sheets ▴` : "all sheets ▴"} />
        {next ? <Way sheet={next} words="next →" /> : <span class="c narrow-only" />}
        <div class="c set wide-only">
          <Settings what="units" />
        </div>
        <div class="c set wide-only">
          <Settings what="paper" />
        </div>
      </div>
    </nav>
  );
}

function Way({ sheet, words }: { sheet: SheetName; words: string }) {
  return (
    <a class="c" href={hrefOf(sheet.room)}>
      <i>{words}</i>
      <b>{sheet.n ? `${sheet.n} ${sheet.name}` : sheet.name}</b>
    </a>
  );
}

function Index(p: { sheets: readonly SheetName[]; here: SheetName; label: string; undo: Undo }) {
  const ref = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    const close = (e: Event) => {
      const d = ref.current;
      if (!d?.open) return;
      if (e instanceof KeyboardEvent ? e.key === "Escape" : !d.contains(e.target as Node)) d.open = false;
    };
    addEventListener("keydown", close);
    addEventListener("pointerdown", close);
    return () => {
      removeEventListener("keydown", close);
      removeEventListener("pointerdown", close);
    };
  }, []);
  return (
    <details ref={ref}>
      <summary class="c">
        <i>{p.label}</i>
        <b>{p.here.n ? `${p.here.n} ${p.here.name}` : p.here.name}</b>
      </summary>
      <div class="index">
        <ol>
          {p.sheets.map((s) => (
            <li key={s.room}>
              <a
                href={hrefOf(s.room)}
                aria-current={s.room === p.here.room ? "page" : undefined}
                onClick={() => {
                  if (ref.current) ref.current.open = false;
                }}
              >
                <span>{s.n || ""}</span>
                <span>{s.name}</span>
                <span>{s.question}</span>
              </a>
            </li>
          ))}
        </ol>
        <div class="index-settings">
          <Settings what="units" />
          <Settings what="paper" />
          <UndoButtons undo={p.undo} />
        </div>
      </div>
    </details>
  );
}

function Settings({ what }: { what: "units" | "paper" }) {
  if (what === "units")
    return (
      <Ring<System>
        legend="Units"
        choices={[
          { value: "metric", label: "mm kg" },
          { value: "imperial", label: "in lb" },
        ]}
        value={units.value}
        onChange={(v) => {
          units.value = v;
        }}
      />
    );
  return (
    <Ring<Paper>
      legend="Paper"
      choices={[
        { value: "day", label: "day" },
        { value: "slate", label: "slate" },
        { value: "sun", label: "sun" },
      ]}
      value={paper.value}
      onChange={(v) => {
        paper.value = v;
      }}
    />
  );
}
