// What the person chose for this browser: units and paper. Remembered, followed in other tabs.
import { effect, signal } from "@preact/signals";
import type { System } from "./units";

export type Paper = "day" | "slate" | "sun";

function remembered<T extends string>(key: string, allowed: readonly T[], otherwise: T) {
  let stored: string | null = null;
  try {
    stored = localStorage.getItem(key);
  } catch {
    // private mode without storage: the choice lasts as long as the page
  }
  const choice = signal<T>(allowed.find((a) => a === stored) ?? otherwise);
  return choice;
}

const prefersDark = () => typeof matchMedia === "function" && matchMedia("(prefers-color-scheme: dark)").matches;
// The three countries that mostly measure cars in inches and pounds; anyone can change it with one tap.
const speaksInches = () => /-(US|LR|MM)$/i.test(navigator.language ?? "");

export const units = remembered<System>(
  "rollwright-units",
  ["metric", "imperial"],
  speaksInches() ? "imperial" : "metric",
);
export const paper = remembered<Paper>("rollwright-paper", ["day", "slate", "sun"], prefersDark() ? "slate" : "day");

export function keepSettings(root: HTMLElement): () => void {
  const keep = (key: string, value: string) => {
    try {
      localStorage.setItem(key, value);
    } catch {
      // as above
    }
  };
  return effect(() => {
    root.dataset.paper = paper.value;
    root.dataset.units = units.value;
    keep("rollwright-paper", paper.value);
    keep("rollwright-units", units.value);
  });
}
