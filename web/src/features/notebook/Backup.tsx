// Everything out as one file, another notebook in, and a look at every page.
import { useState } from "preact/hooks";
import { ask, askLong, upload } from "@/api/client";
import { keepNow } from "@/api/keeper";
import type { NotebookCheckResult, Problem } from "@/api/types";
import { FileDrop } from "@/widgets/FileDrop";
import { Problems } from "@/widgets/Problems";
import { Flags } from "@/widgets/small";
import { size } from "./model";

export function Backup({ onChange }: { onChange: () => void }) {
  const [busy, setBusy] = useState("");
  const [said, setSaid] = useState("");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [check, setCheck] = useState<NotebookCheckResult | null>(null);
  const doing = async (words: string, work: () => Promise<{ problems?: Problem[] | undefined }>) => {
    setBusy(words);
    setSaid("");
    setProblems([]);
    const r = await work();
    setBusy("");
    setProblems(r.problems ?? []);
  };
  const exportAll = () =>
    doing("writing everything into one file", async () => {
      const r = await ask("notebook/export", {});
      if (r.answer) {
        const link = document.createElement("a");
        link.href = `./api/files/${r.answer.result.file}`;
        link.download = `rollwright-${new Date().toISOString().slice(0, 10)}.tar`;
        link.click();
        setSaid(r.answer.result.meaning);
      }
      return r;
    });
  const importOne = (files: File[]) =>
    doing(`taking in ${files[0]!.name}`, async () => {
      const sent = await upload(files[0]!, files[0]!.name);
      if ("problems" in sent) return sent;
      const r = await askLong(
        "notebook/import",
        { file: { file: sent.file.file, name: files[0]!.name } },
        (s) => setBusy(s.doing),
        new AbortController().signal,
      );
      if (r.answer) {
        const { meaning, lost } = r.answer.result;
        setSaid([meaning, ...r.answer.warnings.map((w) => w.text), ...lost].join(" "));
        await keepNow();
        onChange();
      }
      return r;
    });
  const lookOver = () =>
    doing("looking at every page", async () => {
      const r = await ask("notebook/check", {});
      setCheck(r.answer?.result ?? null);
      return r;
    });
  return (
    <div class="backup">
      <p class="acts-row">
        <button type="button" onClick={exportAll}>
          Save everything as one file
        </button>
        <button type="button" onClick={lookOver}>
          Check the notebook
        </button>
      </p>
      <FileDrop
        label="Take in another notebook"
        hint="A file saved here or on the phone, or a notebook file itself, a damaged one too. What is here stays; what is new is added."
        accept=".tar,.garage,application/x-tar"
        onFiles={importOne}
        busy={busy}
      />
      <p aria-live="polite">{said}</p>
      {check && (
        <Flags
          list={[
            { key: "meaning", kind: check.is_sound ? "good" : "mind", text: check.meaning },
            ...check.findings.map((text) => ({ key: text, kind: "mind" as const, text })),
            {
              key: "size",
              kind: "good" as const,
              text: `The file takes ${size(check.file_bytes)} and holds recordings of ${size(check.log_bytes)}.`,
            },
          ]}
        />
      )}
      <Problems list={problems} />
    </div>
  );
}
