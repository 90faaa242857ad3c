/** Rows that are right on their own and cannot stand beside each other. */
import { type Phrase, phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { showCell } from "./cells";
import type { Draft } from "./draft";
import { ignoringCase, keyFrom } from "./keys";
import { columnOf, kindOf } from "./kinds";
import { duplicateProblem } from "./parseRows";
import { problemAt } from "./problems";
import type { KindName } from "./rows";
import type { ExchangeProblem } from "./types";

/** Keys that stand in two files, or twice but for their case. Duplicates inside one file are found on parsing. */
export function refuseAcrossFiles(kind: KindName, drafts: readonly Draft[]): void {
  const byKey = new Map<string, Draft[]>();
  for (const draft of drafts) {
    if (draft.parsed.key === undefined) continue;
    const loose = ignoringCase(draft.parsed.key);
    const list = byKey.get(loose);
    if (list) list.push(draft);
    else byKey.set(loose, [draft]);
  }
  for (const list of byKey.values()) {
    if (list.length < 2) continue;
    for (const draft of list) {
      const others = list.filter(
        (d) => d !== draft && (d.file !== draft.file || d.parsed.key !== draft.parsed.key),
      );
      const other = others[0];
      if (!other) continue;
      const where = `${other.at.fileName} row ${other.at.row}`;
      draft.problems.push(duplicateProblem(kind, draft.at, draft.parsed.key!, where));
    }
  }
}

/** Rows that would share what must be unique, or disagree where they must agree, once all accepted ones stand. */
export function refuseClashes(
  kind: KindName,
  drafts: readonly Draft[],
  existing: ReadonlyMap<string, unknown>,
): void {
  const { uniques = [], agreements = [] } = kindOf(kind);
  if (uniques.length === 0 && agreements.length === 0) return;
  for (let found = true; found; ) {
    found = false;
    const live = drafts.filter((d) => d.problems.length === 0);
    const replaced = new Set(live.map((d) => d.parsed.key));
    const kept = [...existing].flatMap(([key, row]) =>
      replaced.has(key) ? [] : [{ key, row: row as Record<string, unknown> }],
    );
    for (const columns of uniques) {
      for (const { draft, others } of sharing(columns, live, kept)) {
        draft.problems.push(
          clash(
            kind,
            draft,
            columns,
            "not-unique",
            (named) => phrase('{{label}} "{{code}}" stands also at {{others}}.', { ...named, others }),
            phrase("One thing is in one place: correct the code, or book a transfer instead."),
          ),
        );
        found = true;
      }
    }
    for (const { by, columns } of agreements) {
      for (const { draft, others } of disagreeing(kind, by, columns, live, kept)) {
        const labels = columns.map((c) => columnOf(kind, c).label).join(" and ");
        draft.problems.push(
          clash(
            kind,
            draft,
            by,
            "disagrees",
            (named) =>
              phrase('{{label}} "{{code}}" has another {{labels}} at {{others}}.', {
                ...named,
                labels,
                others,
              }),
            phrase("Give all rows of it the same {{labels}}.", { labels }),
          ),
        );
        found = true;
      }
    }
  }
}

type Kept = { key: string; row: Record<string, unknown> };

function* sharing(columns: readonly string[], live: readonly Draft[], kept: readonly Kept[]) {
  for (const { draft, peers, keptPeers } of groups(columns, live, kept)) {
    const others = [...peers.filter((p) => p !== draft).map(placeOf), ...keptPeers.map((k) => `"${k.key}"`)];
    if (others.length > 0) yield { draft, others: others.slice(0, 3).join(", ") };
  }
}

function* disagreeing(
  kind: KindName,
  by: readonly string[],
  columns: readonly string[],
  live: readonly Draft[],
  kept: readonly Kept[],
) {
  const shown = (row: Record<string, unknown>) =>
    columns.map((c) => showCell(columnOf(kind, c), row[c])).join("\n");
  for (const { draft, peers, keptPeers } of groups(by, live, kept)) {
    const mine = shown(draft.merged);
    const others = [
      ...peers.filter((p) => shown(p.merged) !== mine).map(placeOf),
      ...keptPeers.filter((k) => shown(k.row) !== mine).map((k) => `"${k.key}"`),
    ];
    if (others.length > 0) yield { draft, others: others.slice(0, 3).join(", ") };
  }
}

function* groups(columns: readonly string[], live: readonly Draft[], kept: readonly Kept[]) {
  const nameOf = (row: Record<string, unknown>) =>
    columns.every((c) => row[c] !== undefined) ? keyFrom(["", ...columns], row) : undefined;
  const peersOf = new Map<string, Draft[]>();
  for (const draft of live) {
    const name = nameOf(draft.merged);
    if (name === undefined) continue;
    const list = peersOf.get(name);
    if (list) list.push(draft);
    else peersOf.set(name, [draft]);
  }
  const keptOf = new Map<string, Kept[]>();
  for (const k of kept) {
    const name = nameOf(k.row);
    if (name === undefined || !peersOf.has(name)) continue;
    keptOf.set(name, [...(keptOf.get(name) ?? []), k]);
  }
  for (const [name, peers] of peersOf) {
    for (const draft of peers) yield { draft, peers, keptPeers: keptOf.get(name) ?? [] };
  }
}

const placeOf = (d: Draft) => `${d.at.fileName} row ${d.at.row}`;

function clash(
  kind: KindName,
  draft: Draft,
  columns: readonly string[],
  rule: string,
  message: (named: { label: string; code: string }) => Phrase,
  remedy: Phrase,
): ExchangeProblem {
  const label = columns.map((c) => columnOf(kind, c).label).join(" + ");
  const value = columns.map((c) => String(draft.merged[c])).join(" + ");
  return problemAt(
    { ...draft.at, column: label },
    { rule, value, ...sentences(message({ label, code: value }), remedy) },
  );
}
