/** Which kind of thing a table holds, from its name and its header. */

import { plainName } from "./headerNames";
import { KIND_NAMES, kindOf } from "./kinds";
import { matchColumns } from "./match";
import type { KindName } from "./rows";
import type { Table } from "./types";

/** Share of a kind's needed columns that a header must have when nothing but the header speaks for the kind. */
const ENOUGH = 0.75;

/** The kind whose title is the sheet's or file's name, e.g. `Crew members` or `2027-03 hops.csv`. */
export function kindNamed(name: string): KindName | undefined {
  const words = ` ${plainName(name.replace(/\.(csv|txt|tsv|xlsx)$/i, ""))} `;
  // Longest first: "weather places" before "places".
  return [...KIND_NAMES]
    .sort((a, b) => b.length - a.length)
    .find((kind) => words.includes(` ${plainName(kindOf(kind).title)} `));
}

/**
 * The kind of a table. The sheet's or file's name says it, unless the header lacks the needed columns of that kind and
 * has those of another. Without a name the header must fit one kind better than any other. undefined = ask.
 */
export function guessKind(table: Pick<Table, "fileName" | "sheet" | "header">): KindName | undefined {
  const named = (table.sheet && kindNamed(table.sheet)) || kindNamed(table.fileName);
  if (named && fitOf(table.header, named) > 0) return named;
  const scores = KIND_NAMES.map((kind) => ({ kind, score: fitOf(table.header, kind) })).sort(
    (a, b) => b.score - a.score,
  );
  const [first, second] = scores;
  const isClear = first !== undefined && first.score > 0 && first.score > (second?.score ?? 0);
  return isClear ? first.kind : named;
}

/** Matched columns less unmatched ones; 0 when too few of the needed ones are there. */
function fitOf(header: readonly string[], kind: KindName): number {
  const matching = matchColumns(header, kind);
  const needed = kindOf(kind).columns.filter((c) => c.required);
  const given = new Set(matching.columns.map((c) => c.key));
  const share = needed.filter((c) => given.has(c.key)).length / Math.max(1, needed.length);
  if (share < ENOUGH) return 0;
  return Math.max(0, matching.columns.length - matching.unmatched.length) + share;
}

/** The kind whose needed columns a header has the most of, and those it lacks; undefined when it has none of any. */
export function nearestKind(header: readonly string[]): { kind: KindName; missing: string[] } | undefined {
  let best: { kind: KindName; missing: string[]; share: number } | undefined;
  for (const kind of KIND_NAMES) {
    const needed = kindOf(kind).columns.filter((c) => c.required);
    const given = new Set(matchColumns(header, kind).columns.map((c) => c.key));
    const missing = needed.filter((c) => !given.has(c.key)).map((c) => c.label);
    const share = 1 - missing.length / Math.max(1, needed.length);
    if (share > (best?.share ?? 0)) best = { kind, missing, share };
  }
  return best && { kind: best.kind, missing: best.missing };
}
