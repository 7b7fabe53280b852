import { render } from "preact";
import { act } from "preact/test-utils";
import { beforeEach, describe, expect, it } from "vitest";
import type { Estimate } from "@/base/estimate";
import { units } from "@/base/settings";
import { type FieldSpec, NumberField } from "./NumberField";

const SPEC: FieldSpec = { key: "track_mm", name: "Track", unit: "mm", low: 900, high: 2200, usualPm: 5 };

function show(value: Estimate | null, typical: Estimate | null = null) {
  const changes: (Estimate | null)[] = [];
  const host = document.createElement("div");
  document.body.append(host);
  act(() =>
    render(<NumberField spec={SPEC} value={value} typical={typical} isOpen onChange={(v) => changes.push(v)} />, host),
  );
  const input = host.querySelector("input")!;
  const type = (text: string) => {
    act(() => {
      input.value = text;
      input.dispatchEvent(new Event("input", { bubbles: true }));
    });
    act(() => {
      input.dispatchEvent(new FocusEvent("blur"));
    });
  };
  return { host, input, type, changes };
}

describe("a number with its doubt", () => {
  beforeEach(() => {
    units.value = "metric";
  });

  it("shows value, ± and unit, and calls itself by its name", () => {
    const { host, input } = show({ value: 1460, pm: 3, origin: "measured" });
    expect(input.value).toBe("1460");
    expect(host.querySelector(".u")!.textContent).toBe("±3 mm");
    expect(host.querySelector("label")!.textContent).toBe("Track");
    expect(host.querySelector("label")!.getAttribute("for")).toBe(input.id);
  });

  it("stands in pencil with the typical value until it is known", () => {
    const { host, input } = show(null, { value: 1500, pm: 60 });
    expect(input.value).toBe("1500");
    expect(host.querySelector(".field")!.classList.contains("pencil")).toBe(true);
  });

  it("does not change under the hand when the typical value arrives late", () => {
    const { host, input } = show(null, null);
    act(() => {
      input.dispatchEvent(new FocusEvent("focus"));
    });
    act(() =>
      render(
        <NumberField spec={SPEC} value={null} typical={{ value: 1500, pm: 60 }} isOpen onChange={() => {}} />,
        host,
      ),
    );
    expect(input.value).toBe("");
    act(() => {
      input.dispatchEvent(new FocusEvent("blur"));
    });
    expect(input.value).toBe("1500");
  });

  it("takes a typed number as measured, with the usual ±", () => {
    const { type, changes } = show(null, { value: 1500, pm: 60 });
    type("1472");
    expect(changes).toEqual([{ value: 1472, pm: 5, origin: "measured" }]);
  });

  it("keeps the ± and origin of a number that was already in ink", () => {
    const { type, changes } = show({ value: 1460, pm: 2, origin: "maker" });
    type("1461,5");
    expect(changes).toEqual([{ value: 1461.5, pm: 2, origin: "maker" }]);
  });

  it("reads inches when inches are shown", () => {
    units.value = "imperial";
    const { input, type, changes } = show({ value: 1460, pm: 2.54, origin: "measured" });
    expect(input.value).toBe("57.48"); // 1460 / 25.4 = 57.480…: 57.5 would be off by a fifth of the ±0.1 in
    type("58");
    expect(changes[0]!.value).toBeCloseTo(1473.2, 9); // 58 × 25.4, exact but for the rounding of a double
  });

  it("leaves what it cannot read where it was typed, and says why", () => {
    const { host, input, type, changes } = show({ value: 1460 });
    type("about 1450");
    expect(changes).toEqual([]);
    expect(input.value).toBe("about 1450");
    expect(input.getAttribute("aria-invalid")).toBe("true");
    expect(host.querySelector("[role=alert]")!.textContent).toContain("not one number");
  });

  it("asks about the unit when a number is out of range, in the units shown", () => {
    const { host, type, changes } = show(null);
    type("146");
    expect(changes).toEqual([]);
    expect(host.querySelector("[role=alert]")!.textContent).toContain("900 to 2200 mm");
  });

  it("goes back to not known with one tap, or when emptied", () => {
    const { host, type, changes } = show({ value: 1460 });
    const tap = [...host.querySelectorAll("button")].find((b) => b.textContent!.startsWith("I don’t know"))!;
    act(() => tap.click());
    type("");
    expect(changes).toEqual([null, null]);
  });
});
