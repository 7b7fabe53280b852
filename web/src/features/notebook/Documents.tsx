// The list of what is kept, each with its history: look at any version, bring it back, take it off the list, put it back.
import { useState } from "preact/hooks";
import { ask } from "@/api/client";
import { keepNow } from "@/api/keeper";
import type { NotebookDocument, NotebookShowResult, Problem } from "@/api/types";
import { Problems } from "@/widgets/Problems";
import { kindInWords, moment, nameOf } from "./model";

export function Documents({ list, onChange }: { list: readonly NotebookDocument[]; onChange: () => void }) {
  return (
    <ul class="kept-list">
      {list.map((d) => (
        <OneDocument key={d.document} d={d} onChange={onChange} />
      ))}
    </ul>
  );
}

function OneDocument({ d, onChange }: { d: NotebookDocument; onChange: () => void }) {
  const [shown, setShown] = useState<NotebookShowResult | null>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [said, setSaid] = useState("");
  const look = async (version?: string) => {
    const r = await ask("notebook/show", version ? { what: d.document, version } : { what: d.document });
    setProblems(r.problems ?? []);
    if (r.answer) setShown(r.answer.result);
  };
  const act = async (what: "notebook/undo" | "notebook/remove" | "notebook/restore", version = "") => {
    const document = d.document;
    const r = await (what === "notebook/restore" ? ask(what, { document, version }) : ask(what, { document }));
    setProblems(r.problems ?? []);
    setSaid(r.answer?.result.meaning ?? "");
    if (!r.answer) return;
    await keepNow();
    if (shown) await look();
    onChange();
  };
  return (
    <li>
      <div class="kept-line">
        <span>
          <b class="lettering">{nameOf(d)}</b> <span class="note">({kindInWords(d.kind)})</span>
        </span>
        <span class="note">
          {d.removed ? "off the list since" : "changed"} {moment(d.written)}
        </span>
      </div>
      {d.other_versions > 0 && (
        <p>
          <b class="lettering">Changed in two places.</b> Both are kept. Open the history and bring back the one that
          shall count.
        </p>
      )}
      <p class="acts-row">
        {d.removed ? (
          <button type="button" onClick={() => act("notebook/undo")}>
            Put {nameOf(d)} back
          </button>
        ) : (
          <>
            <button type="button" aria-expanded={shown !== null} onClick={() => (shown ? setShown(null) : look())}>
              {d.versions === 1 ? "Look at it" : `History, ${d.versions} versions`}
            </button>
            {d.versions > 1 && (
              <button type="button" class="plain" onClick={() => act("notebook/undo")}>
                undo the last change
              </button>
            )}
            {d.kind !== "workbench/1" && (
              <button type="button" class="plain" onClick={() => act("notebook/remove")}>
                take off the list
              </button>
            )}
          </>
        )}
      </p>
      <p class="note" aria-live="polite">
        {said}
      </p>
      <Problems list={problems} />
      {shown && <History shown={shown} onLook={look} onRestore={(v) => act("notebook/restore", v)} />}
    </li>
  );
}

function History({
  shown,
  onLook,
  onRestore,
}: {
  shown: NotebookShowResult;
  onLook: (version: string) => void;
  onRestore: (version: string) => void;
}) {
  const open = shown.document.version;
  return (
    <div class="history">
      <ol reversed>
        {shown.history.toReversed().map((v) => (
          <li key={v.version}>
            <button type="button" class="plain" aria-current={v.version === open} onClick={() => onLook(v.version)}>
              {moment(v.written)}
              {v.is_latest ? ", counts now" : v.is_other ? ", from the other place" : v.removed ? ", taken off" : ""}
            </button>
            {!v.is_latest && !v.removed && (
              <button
                type="button"
                class="plain"
                aria-label={`Bring back the version of ${moment(v.written)}`}
                onClick={() => onRestore(v.version)}
              >
                bring back
              </button>
            )}
          </li>
        ))}
      </ol>
      <div class="table-scroll" role="region" aria-label={`Text of ${shown.document.name}`} tabIndex={0}>
        <pre>{shown.text}</pre>
      </div>
    </div>
  );
}
