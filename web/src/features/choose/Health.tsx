// Before anything is bought: is the car sound? Each check with how to look, why, and what its fault would do to this car.
import { useEffect, useState } from "preact/hooks";
import { ask } from "@/api/client";
import type { CarHealthResult, CarSheetInput, HealthAnswerInput } from "@/api/types";
import { unbroken } from "@/base/format";
import { Ring } from "@/widgets/small";

const STATES = [
  { value: "not_looked", label: "not looked" },
  { value: "good", label: "good" },
  { value: "faulty", label: "faulty" },
] as const;

export function Health(p: {
  car: CarSheetInput;
  answers: readonly HealthAnswerInput[];
  onAnswer: (answers: HealthAnswerInput[]) => void;
}) {
  const [result, setResult] = useState<CarHealthResult | null>(null);
  const [isOpen, setOpen] = useState(false);
  const key = JSON.stringify([p.car, p.answers]);
  useEffect(() => {
    if (!isOpen) return;
    let isCurrent = true;
    ask("car/health", { car: p.car, answers: [...p.answers], draws: 100 })
      .then((reply) => isCurrent && reply.answer && setResult(reply.answer.result))
      .catch(() => {});
    return () => {
      isCurrent = false;
    };
  }, [key, isOpen]);
  const faulty = p.answers.filter((a) => a.state === "faulty").length;
  const looked = p.answers.filter((a) => a.state !== "not_looked").length;
  return (
    <details class="health" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>
        Before you buy: is the car sound?{" "}
        <span class="note">
          {faulty > 0 ? `${faulty} to mend first` : looked > 0 ? `${looked} looked at` : "not looked at yet"}
        </span>
      </summary>
      {!result && <p aria-live="polite">looking up what each fault would do …</p>}
      {result && (
        <>
          <p class="lettering" aria-live="polite">
            {unbroken(result.meaning)}
          </p>
          <ul class="checks">
            {result.checks.map((c) => (
              <li key={c.check}>
                <Ring
                  legend={c.question}
                  showLegend
                  choices={STATES.map((s) => ({ ...s }))}
                  value={c.state}
                  onChange={(state) =>
                    p.onAnswer([
                      ...p.answers.filter((a) => a.check !== c.check),
                      { check: c.check, state, note: c.note },
                    ])
                  }
                />
                <p>
                  If ignored ({c.as_if}): {unbroken(c.effect)}
                  {c.would_mislead ? ", as much as parts are bought for." : "."}
                </p>
                <details>
                  <summary>How to look, and why</summary>
                  <p>{c.how}</p>
                  <p>{c.why}</p>
                </details>
              </li>
            ))}
          </ul>
        </>
      )}
    </details>
  );
}
