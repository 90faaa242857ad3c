import { readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";

/** WCAG 2.2, relative luminance and contrast ratio (success criteria 1.4.3 and 1.4.11). */
function luminance(hex: string): number {
  const channel = (at: number): number => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}
function contrast(a: string, b: string): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

const css = readFileSync(path.resolve(import.meta.dirname, "../../../app/_ui/css/tokens.css"), "utf8");
const tokens = new Map<string, { light: string; dark: string }>();
for (const [, name, light, dark] of css.matchAll(
  /--([a-z-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/g,
)) {
  tokens.set(name!, { light: light!, dark: dark! });
}

const GROUNDS = ["paper", "surface", "raised", "sunk"];
const TONES = ["petrol", "ochre", "brick", "moss", "plum", "steel"];

/** Text needs 4.5, edges of controls and the focus ring 3. */
const PAIRS: readonly [string, string, number][] = [
  ...GROUNDS.flatMap((ground): [string, string, number][] => [
    ["ink", ground, 7],
    ["quiet", ground, 4.5],
    ["edge", ground, 3],
    ["focus", ground, 3],
    ...TONES.map((tone): [string, string, number] => [tone, ground, 4.5]),
  ]),
  ...TONES.map((tone): [string, string, number] => [tone, `${tone}-wash`, 4.5]),
  ...TONES.map((tone): [string, string, number] => ["ink", `${tone}-wash`, 7]),
  ["on-petrol", "petrol", 4.5],
  ["on-brick", "brick", 4.5],
  ["on-install", "install", 4.5],
  ["bar-ink", "bar", 7],
  ["bar-quiet", "bar", 4.5],
];

describe("the palette", () => {
  it("is read from the style sheet", () => expect(tokens.size).toBeGreaterThan(25));

  for (const theme of ["light", "dark"] as const) {
    it.each(PAIRS)(`keeps %s on %s apart by %d (${theme})`, (front, ground, least) => {
      const a = tokens.get(front)?.[theme];
      const b = tokens.get(ground)?.[theme];
      expect(a, front).toBeDefined();
      expect(b, ground).toBeDefined();
      expect(contrast(a!, b!)).toBeGreaterThanOrEqual(least);
    });
  }

  it("computes contrast as the standard does: black on white is 21 to 1, #767676 on white 4.54 (WCAG)", () => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 6);
    expect(contrast("#767676", "#ffffff")).toBeCloseTo(4.54, 2);
  });
});
