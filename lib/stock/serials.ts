/** Serials of single pieces as people type and scan them. */
import type { ItemCategory } from "@/lib/site";

/** Radios: each has a serial on its label, and what hangs where is known by it. */
export const takesSerials = (category: ItemCategory | undefined): boolean => category === "ODU";

/** As it is kept: one label is typed in capitals or not. Only A to Z are raised, as the database compares. */
export const serialOf = (typed: string): string =>
  typed.trim().replace(/[a-z]+/g, (letters) => letters.toUpperCase());

export const isSameSerial = (a: string, b: string): boolean => serialOf(a) === serialOf(b);

/** Several, typed or scanned one after another: apart by commas, blanks or lines. */
export const serialsTyped = (text: string): string[] =>
  text
    .split(/[\s,;]+/)
    .filter(Boolean)
    .map(serialOf);

/** The first place of the list whose serial stands before it already. */
export function serialAgainAt(serials: readonly string[]): { at: number; before: number } | undefined {
  for (const [at, serial] of serials.entries()) {
    const before = serials.findIndex((other) => isSameSerial(other, serial));
    if (before < at) return { at, before };
  }
  return undefined;
}
