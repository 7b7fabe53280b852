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
import { Goals } from "./Goals";
import { Health } from "./Health";
import { COMPLAINTS, type Complaint, isDollar, requestOf, type Wishes, wishesOf } from "./model";
import { Own } from "./Own";
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
      {car && <Health car={car} answers={wishes.health} onAnswer={(health) => put("the health check", { health })} />}
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
        <Amount
          label={`What an hour of yours is worth, ${wishes.currency}`}
          value={wishes.hourWorth}
          onChange={(hourWorth) => put("the worth of an hour", { hourWorth })}
        />
      </div>
      <div class="row">
        <label class="pick">
          <span class="note">Currency</span>
          <input
            class="write amount"
            value={wishes.currency}
            maxLength={8}
            onChange={(e) => put("the currency", { currency: e.currentTarget.value.trim() || "USD", rate: null })}
          />
        </label>
        {!isDollar(wishes.currency) && (
          <Amount
            label={`One US dollar is worth, ${wishes.currency}`}
            value={wishes.rate}
            onChange={(rate) => put("the rate", { rate: rate > 0 ? rate : null })}
          />
        )}
        <fieldset class="ring">
          <legend class="unseen">Rules</legend>
          <label>
            <input
              type="checkbox"
              checked={wishes.undoable}
              onChange={(e) => put("what can be put back", { undoable: e.currentTarget.checked })}
            />
            only what can be put back
          </label>
        </fieldset>
      </div>
      {!isDollar(wishes.currency) && wishes.rate === null && (
        <p class="note">
          The typical prices are in US dollars. Say what a dollar is worth in {wishes.currency}: two currencies are
          never mixed on a guess.
        </p>
      )}
      {car && (
        <Own own={wishes.own} currency={wishes.currency} onChange={(own) => put("your own candidates", { own })} />
      )}
      {car && (
        <Weighing
          request={requestOf(car, allBars(g), wishes)}
          wishes={wishes}
          onGoals={(goals) => put("the wish", { goals })}
        />
      )}
    </main>
  );
}

function Weighing({
  request,
  wishes,
  onGoals,
}: {
  request: ChooseRankRequestInput;
  wishes: Wishes;
  onGoals: (goals: Wishes["goals"]) => void;
}) {
  const key = JSON.stringify(request);
  const [found, setFound] = useState<{
    key: string;
    answer: Answer<ChooseRankResult> | null;
    problems: readonly Problem[];
  } | null>(null);
  const [busy, setBusy] = useState<{ doing: string; fraction: number } | null>(null);
  const giveUp = useRef<AbortController | null>(null);
  useEffect(() => () => giveUp.current?.abort(), []);
  const weigh = async () => {
    giveUp.current?.abort();
    const own = new AbortController();
    giveUp.current = own;
    setBusy({ doing: "weighing", fraction: 0 });
    const reply = await askLong(
      "choose/rank",
      request,
      (s) => !own.signal.aborted && setBusy({ doing: s.doing, fraction: s.fraction }),
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
            <progress aria-label="weighed up so far" max={1} value={busy.fraction} />
            <span aria-live="polite">{busy.doing}</span>
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
          <Goals goals={found.answer.result.goals} changed={wishes.goals} onChange={onGoals} />
          <Ranking r={found.answer.result} budget={wishes.budget} />
          <Footing answer={found.answer} />
        </>
      )}
    </>
  );
}

function Amount(p: { label: string; value: number | null; onChange: (v: number) => void }) {
  return (
    <label class="pick">
      <span class="note">{p.label}</span>
      <input
        class="write amount"
        inputMode="decimal"
        value={p.value === null ? "" : String(p.value)}
        onChange={(e) => {
          const n = readNumber(e.currentTarget.value);
          if (n !== null && n >= 0 && n <= 1e6) p.onChange(n);
          else e.currentTarget.value = p.value === null ? "" : String(p.value);
        }}
      />
    </label>
  );
}
