// To show others: a picture, a file without anything personal, and theirs held against one's own.
import { useEffect, useState } from "preact/hooks";
import { ask } from "@/api/client";
import { garage } from "@/api/garage";
import type { Answer, Problem, ShareSheetInput, VerdictCompareResult, VerdictResult } from "@/api/types";
import { sentence, unbroken } from "@/base/format";
import { units } from "@/base/settings";
import { FileDrop } from "@/widgets/FileDrop";
import { Footing, Problems } from "@/widgets/Problems";
import { hand, pictureAddress, pngOf, shareOf, svgBlob } from "./sharing";

const WORTH = { worth_it: "worth it", not_worth_it: "not worth it", cannot_tell: "cannot tell" } as const;

export function Share({ r }: { r: VerdictResult }) {
  const others = (garage.value.value.work.shares as ShareSheetInput[] | undefined) ?? [];
  const keep = (shares: ShareSheetInput[]) =>
    garage.change("what others got", (g) => ({ ...g, work: { ...g.work, shares } }));
  const [said, setSaid] = useState("");
  const png = async () => {
    const blob = await pngOf(r.picture).catch(() => null);
    if (blob) hand("verdict.png", blob);
    else setSaid("This browser cannot draw the picture as PNG; the SVG is the same.");
  };
  const take = async (files: File[]) => {
    const read = await Promise.all(files.map(async (f) => shareOf(await f.text())));
    const good = read.filter((s): s is ShareSheetInput => s !== null);
    setSaid(good.length < files.length ? `${files.length - good.length} of these are not share files.` : "");
    if (good.length > 0) keep([...others, ...good].slice(-8));
  };
  return (
    <section class="share screen-only">
      <h2>To show others</h2>
      <img class="share-picture" src={pictureAddress(r.picture)} alt={`${unbroken(r.meaning)}`} />
      <p class="row">
        <button
          type="button"
          onClick={() =>
            hand("verdict-share.json", new Blob([JSON.stringify(r.share, null, 2)], { type: "application/json" }))
          }
        >
          Share file
        </button>
        <button type="button" onClick={() => hand("verdict.svg", svgBlob(r.picture))}>
          Picture (SVG)
        </button>
        <button type="button" onClick={png}>
          Picture (PNG)
        </button>
      </p>
      <p class="note">
        In it: class of car, what was changed, lean before and after, cost, hours, ratings, the month. Not in it: names,
        notes, place, plate, files, the day.
      </p>
      <FileDrop
        label="Open another person’s share file"
        hint="It is held against yours, and stays in this browser."
        accept=".json,application/json"
        onFiles={take}
      />
      <p aria-live="polite">{said}</p>
      {others.length > 0 && <Compared mine={r.share} others={others} onForget={() => keep([])} />}
    </section>
  );
}

function Compared(p: { mine: ShareSheetInput; others: readonly ShareSheetInput[]; onForget: () => void }) {
  const [answer, setAnswer] = useState<Answer<VerdictCompareResult> | null>(null);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const key = JSON.stringify([p.mine, p.others]);
  useEffect(() => {
    let isCurrent = true;
    ask("verdict/compare", { shares: [p.mine, ...p.others] })
      .then((reply) => {
        if (!isCurrent) return;
        setAnswer(reply.answer ?? null);
        setProblems(reply.problems ?? []);
      })
      .catch(() => {});
    return () => {
      isCurrent = false;
    };
  }, [key]);
  return (
    <>
      <Problems list={problems} title="These cannot be compared." />
      {answer && (
        <>
          <p class="lettering">{unbroken(answer.result.meaning)}</p>
          <div class="table-scroll" role="region" aria-label="What others got" tabIndex={0}>
            <table>
              <thead>
                <tr>
                  <th scope="col">whose</th>
                  <th scope="col" class="n">
                    lean
                  </th>
                  <th scope="col">changed</th>
                  <th scope="col" class="n">
                    cost
                  </th>
                  <th scope="col">verdict</th>
                </tr>
              </thead>
              <tbody>
                {answer.result.shares.map((s, i) => (
                  <tr key={s.name}>
                    <td>{i === 0 ? "yours" : s.name}</td>
                    <td class="n">
                      {sentence(s.change_percent.value, s.change_percent.pm, "percent", units.value, { signed: true })}
                      {s.is_measured ? "" : " (forecast)"}
                    </td>
                    <td>{s.changed}</td>
                    <td class="n">{s.cost || "–"}</td>
                    <td>{WORTH[s.worth]}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <ul>
            {answer.result.shares.slice(1).map((s) => (
              <li key={s.name}>
                {s.name}: {unbroken(s.against_first)}.
              </li>
            ))}
          </ul>
          <button type="button" class="plain" onClick={p.onForget}>
            forget what others got
          </button>
          <Footing answer={answer} />
        </>
      )}
    </>
  );
}
