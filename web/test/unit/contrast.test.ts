// Contrast of every pair that carries meaning, from the tokens as they are shipped. Formula: relative luminance and
// contrast ratio of [WCAG 2.2, definitions]; limits 4.5 for text, 3 for lines [WCAG 2.2 §1.4.3, §1.4.11].
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const css = readFileSync("src/base/tokens.css", "utf8");

function tokensOf(paper: string): Record<string, string> {
  const block = new RegExp(`data-paper="${paper}"\\]\\s*\\{([^}]*)\\}`).exec(css)![1]!;
  return Object.fromEntries([...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{3,6})/gi)].map((m) => [m[1]!, m[2]!]));
}

function luminance(hex: string): number {
  const full = hex.length === 4 ? [...hex.slice(1)].map((c) => c + c).join("") : hex.slice(1);
  const [r, g, b] = [0, 2, 4].map((i) => {
    const c = Number.parseInt(full.slice(i, i + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

function contrast(a: string, b: string): number {
  const [x, y] = [luminance(a), luminance(b)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}

const TEXT: [string, string][] = [
  ["ink", "paper"],
  ["ink", "well"],
  ["pencil", "paper"],
  ["pencil", "well"],
  ["before", "paper"],
  ["after", "paper"],
  ["paper", "ink"],
];
const LINES: [string, string][] = [
  ["line", "paper"],
  ["dye", "paper"],
  ["dye-faint", "paper"],
  ["tape-ink", "tape"],
];

describe.each(["day", "slate", "sun"])("on %s paper", (paper) => {
  const t = tokensOf(paper);
  it.each(TEXT)("%s can be read on %s", (mark, ground) => {
    expect(contrast(t[mark]!, t[ground]!)).toBeGreaterThanOrEqual(4.5);
  });
  it.each(LINES)("%s can be seen on %s", (mark, ground) => {
    expect(contrast(t[mark]!, t[ground]!)).toBeGreaterThanOrEqual(3);
  });
});

it("knows black on white to be 21", () => {
  expect(contrast("#000", "#ffffff")).toBeCloseTo(21, 9);
});
