/** The key that names a row of a kind, and the spellings that look like it. */
import { kindOf } from "./kinds";
import type { KindName, RowOf } from "./rows";

/**
 * Key of a row: the code itself, or the parts joined by "/" (with "/" and "\" inside a part escaped). A blank part is
 * empty, e.g. `MW-101//survey` for a gate that holds the whole hop.
 */
export function keyOf<K extends KindName>(kind: K, row: RowOf<K>): string {
  return keyFrom(kindOf(kind).key, row as unknown as Record<string, unknown>);
}

/** Key from any record that holds the columns named. */
export function keyFrom(columns: readonly string[], values: Readonly<Record<string, unknown>>): string {
  if (columns.length === 1) return part(values[columns[0]!]);
  return columns.map((c) => part(values[c]).replace(/[\\/]/g, "\\$&")).join("/");
}

const part = (value: unknown) => (value === undefined || value === null ? "" : String(value));

export const ignoringCase = (key: string) => key.toLowerCase();

/** What two keys have in common when they differ in case, spaces or punctuation only. */
export function looseKey(key: string): string {
  return key.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "");
}

/** Codes searched one by one at most; beyond that only spelling variants are found. */
const SEARCH_MAX = 300;

/** Suggests the code that a wrong one may have meant. Answers are kept: the same wrong code stands in many rows. */
export class NearMatches {
  readonly #codes: readonly string[];
  readonly #loose = new Map<string, string>();
  readonly #answers = new Map<string, string | undefined>();

  constructor(codes: Iterable<string>) {
    this.#codes = [...codes];
    for (const code of this.#codes) this.#loose.set(looseKey(code), code);
  }

  /** The nearest code: a spelling variant, else the one within a third of its length (at most 2) of edits. */
  of(code: string): string | undefined {
    const variant = this.#loose.get(looseKey(code));
    if (variant !== undefined) return variant;
    if (this.#answers.has(code)) return this.#answers.get(code);
    if (this.#answers.size >= SEARCH_MAX) return undefined;
    const answer = nearest(code, this.#codes);
    this.#answers.set(code, answer);
    return answer;
  }
}

/** The one of `candidates` with fewest edits to `text`, within a third of its length and at most 2; first of equals. */
export function nearest(text: string, candidates: Iterable<string>): string | undefined {
  const most = Math.min(2, Math.floor(text.length / 3));
  let best: string | undefined;
  let bestEdits = most + 1;
  for (const candidate of candidates) {
    if (Math.abs(candidate.length - text.length) >= bestEdits) continue;
    const edits = editsBetween(text.toLowerCase(), candidate.toLowerCase());
    if (edits < bestEdits) {
      best = candidate;
      bestEdits = edits;
    }
  }
  return best;
}

/** Insertions, deletions, replacements and swaps of neighbours (optimal string alignment distance). */
export function editsBetween(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let edits = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        edits = Math.min(edits, before[j - 2]! + 1);
      }
      row.push(edits);
    }
    before = last;
    last = row;
  }
  return last[b.length]!;
}
