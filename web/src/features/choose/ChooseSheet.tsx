// 'What is the best use of this money?' Complaints in, every affordable combination weighed, 'nothing' and 'tyres' always
// among them.
import { useEffect, useRef, useState } from "preact/hooks";
import { askLong } from "@/api/client";
import { garage } from "@/api/garage";
import { allBars, carFor } from "@/api/setups";
import type { Answer, ChooseRankRequestInput, ChooseRankResult, Problem } from "@/api/types";
import { readNumber, unbroken } from "@/base/format";
import { hrefOf } from "@/base/route";
import { Footing, Problems } from "@/widgets/Problems";
import { COMPLAINTS, type Complaint, requestOf, type Wishes, wishesOf } from "./model";
import { Ranking } from "./Ranking";
import "./choose.css";

export function ChooseSheet() {
  const g = garage.value.value;
  const wishes = wishesOf(g);
  const put = (label: string, change: Partial<Wishes>) =>
    garage.change(label, (old) => ({ ...old, wish: { ...old.wish, choose: { ...wishesOf(old), ...change } } }));
  const toggle = (c: Complaint) =>
    put("complaints", {
      complaints: wishes.complaints.includes(c) ? wishes.complaints.filter((x) => x !== c) : [...wishes.complaints, c],
    });
  const car = carFor(g);
  return (
    <main class="sheet">
      <div class="sheet-head">
        <h1>What is worth the money?</h1>
        <p>Everything you could buy or do, ‘nothing’ among it, weighed for this car and this complaint.</p>
      </div>
      {!car && (
        <p>
          It needs a car: <a href={hrefOf("start")}>look at the demo</a> or <a href={hrefOf("car")}>describe yours</a>.
        </p>
      )}
      <fieldset class="ring complaints">
        <legend>What bothers you?</legend>
        {COMPLAINTS.map((c) => (
          <label key={c.value}>
            <input type="checkbox" checked={wishes.complaints.includes(c.value)} onChange={() => toggle(c.value)} />
            {c.label}
          </label>
        ))}
      </fieldset>
      <div class="row">
        <Amount
          label={`Money to spend, ${wishes.currency}`}
          value={wishes.budget}
          onChange={(budget) => put("the budget", { budget })}
        />
        <Amount label="Your own hours" value={wishes.hours} onChange={(hours) => put("hours", { hours })} />
      </div>
      {car && <Weighing request={requestOf(car, allBars(g), wishes)} />}
    </main>
  );
}

function Weighing({ request }: { request: ChooseRankRequestInput }) {
  const key = JSON.stringify(request);
  const [found, setFound] = useState<{
    key: string;
    answer: Answer<ChooseRankResult> | null;
    problems: readonly Problem[];
  } | null>(null);
  const [busy, setBusy] = useState<string | null>(null);
  const giveUp = useRef<AbortController | null>(null);
  useEffect(() => () => giveUp.current?.abort(), []);
  const weigh = async () => {
    giveUp.current?.abort();
    const own = new AbortController();
    giveUp.current = own;
    setBusy("weighing");
    const reply = await askLong(
      "choose/rank",
      request,
      (s) => setBusy(`${s.doing} (${Math.round(100 * s.fraction)} %)`),
      own.signal,
    ).catch(() => null);
    if (!reply || own.signal.aborted) return;
    setBusy(null);
    setFound({ key, answer: reply.answer ?? null, problems: reply.problems ?? [] });
  };
  return (
    <>
      <p class="row">
        <button type="button" class="main" onClick={weigh} disabled={busy !== null}>
          {found ? "Weigh it up again" : "Weigh it up"}
        </button>
        {busy && (
          <>
            <span aria-live="polite">{busy}</span>
            <button
              type="button"
              class="plain"
              onClick={() => {
                giveUp.current?.abort();
                setBusy(null);
              }}
            >
              give up
            </button>
          </>
        )}
      </p>
      {found && found.key !== key && <p class="note">The car or the wish has changed since: weigh it up again.</p>}
      {found && <Problems list={found.problems} />}
      {found?.answer && (
        <>
          <p class="lettering said-first">{unbroken(found.answer.result.meaning)}</p>
          <Ranking r={found.answer.result} />
          <Footing answer={found.answer} />
        </>
      )}
    </>
  );
}

function Amount(p: { label: string; value: number; onChange: (v: number) => void }) {
  return (
    <label class="pick">
      <span class="note">{p.label}</span>
      <input
        class="write amount"
        inputMode="decimal"
        value={String(p.value)}
        onChange={(e) => {
          const n = readNumber(e.currentTarget.value);
          if (n !== null && n >= 0 && n <= 1e6) p.onChange(n);
          else e.currentTarget.value = String(p.value);
        }}
      />
    </label>
  );
}
