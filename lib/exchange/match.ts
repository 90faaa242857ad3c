/** Which column of a file is which column of a kind: proposed, shown, and changed by a person. */
import { ok, type Result, refused } from "@/lib/result";
import { readCell } from "./cells";
import { headerOf } from "./columns";
import { conversionFor, nameHit, plainName, unmatchedReason } from "./headerNames";
import { nearest } from "./keys";
import { columnOf, kindOf } from "./kinds";
import { type Place, problemAt } from "./problems";
import { isBlank } from "./readTable";
import type { KindName } from "./rows";
import type {
  Column,
  ColumnMatch,
  Confidence,
  ExchangeProblem,
  MatchChoice,
  MatchedColumn,
  MatchedTable,
  Matching,
  Table,
  UnmatchedColumn,
} from "./types";

const RANK: Readonly<Record<Confidence, number>> = { exact: 4, alias: 3, normalised: 2, unit: 1, chosen: 5 };

/** A pair of columns that are both there goes before any single one. */
const PAIRED = 10;

/**
 * Proposes a column for every header, surest first. "exact" is the header that exports write, "alias" another usual
 * name, "normalised" one of these but for case, spaces, punctuation or camel case, "unit" a known name with another
 * unit, which brings a conversion. A header that only resembles a name is left unmatched, with a suggestion.
 */
export function matchColumns(header: readonly string[], kind: KindName): Matching {
  const { columns } = kindOf(kind);
  const all = header.flatMap((text, index) =>
    text === ""
      ? []
      : columns.flatMap((column) => {
          const match = matchOne(text, index, column);
          return match ? [match] : [];
        }),
  );
  const partners = new Map(columns.flatMap((c) => (c.partner ? [[c.key, c.partner] as const] : [])));
  const offers = all.filter((o) => {
    const partner = partners.get(o.key);
    return partner === undefined || all.some((p) => p.key === partner && p.index !== o.index);
  });
  const rank = (o: ColumnMatch) => RANK[o.confidence] + (partners.has(o.key) ? PAIRED : 0);
  offers.sort((a, b) => rank(b) - rank(a) || a.index - b.index);
  const taken = new Map<string, ColumnMatch>();
  const placed = new Map<number, ColumnMatch>();
  for (const offer of offers) {
    if (taken.has(offer.key) || placed.has(offer.index)) continue;
    taken.set(offer.key, offer);
    placed.set(offer.index, offer);
  }
  const unmatched = header.flatMap((text, index): UnmatchedColumn[] => {
    if (placed.has(index) || text === "") return [];
    const rival = offers.find((o) => o.index === index);
    const reason = rival
      ? `"${taken.get(rival.key)?.header}" already stands for ${rival.label}`
      : unmatchedReason(text, columns);
    const suggestion = rival ? undefined : suggest(text, columns, taken);
    return [{ index, header: text, reason, ...(suggestion ? { suggestion } : {}) }];
  });
  return finished(kind, [...placed.values()], unmatched);
}

/** Changes a proposal: each choice moves a file column to another column of the kind, or leaves it out. */
export function overrideMatching(
  matching: Matching,
  header: readonly string[],
  choices: readonly MatchChoice[],
): Matching {
  let columns = [...matching.columns];
  let unmatched = [...matching.unmatched];
  for (const { index, key, unit } of choices) {
    const text = header[index];
    if (text === undefined) throw new RangeError(`the file has no column ${index + 1}`);
    columns = columns.filter((c) => c.index !== index);
    unmatched = unmatched.filter((u) => u.index !== index);
    if (key === null) {
      unmatched.push({ index, header: text, reason: "left out" });
      continue;
    }
    const column = columnOf(matching.kind, key);
    const displaced = columns.find((c) => c.key === key);
    if (displaced) {
      columns = columns.filter((c) => c.key !== key);
      unmatched.push({
        index: displaced.index,
        header: displaced.header,
        reason: `"${text}" was chosen for ${column.label}`,
      });
    }
    columns.push({
      index,
      header: text,
      key,
      label: column.label,
      confidence: "chosen",
      ...conversionFor(column, unit),
    });
  }
  const { constants } = matching;
  return { ...finished(matching.kind, columns, unmatched), ...(constants ? { constants } : {}) };
}

/**
 * Ties a matching to the table's columns. Refused when a key column is missing, when two file columns stand for one,
 * or when a price comes without its currency.
 */
export function applyMatching<K extends KindName>(
  table: Table,
  kind: K,
  matching: Matching,
): Result<MatchedTable<K>, ExchangeProblem> {
  const place = { fileName: table.fileName, sheet: table.sheet };
  if (matching.kind !== kind) throw new RangeError(`a matching for ${matching.kind} cannot read ${kind}`);
  const problems: ExchangeProblem[] = [];
  const columns = matching.columns.map((m): MatchedColumn => {
    if (m.index < 0 || m.index >= table.header.length) {
      throw new RangeError(`the file has no column ${m.index + 1}`);
    }
    const column = columnOf(kind, m.key);
    return {
      column,
      index: m.index,
      header: table.header[m.index]!,
      ...(m.conversion ? { conversion: m.conversion } : {}),
    };
  });
  const byKey = new Map<string, MatchedColumn>();
  for (const c of columns) {
    const other = byKey.get(c.column.key);
    if (other) {
      problems.push(
        problemAt(
          { ...place, column: c.header },
          {
            rule: "column-matched-twice",
            value: c.header,
            message: `"${other.header}" and "${c.header}" both stand for ${c.column.label}.`,
            remedy: "Leave one of them out.",
          },
        ),
      );
    }
    byKey.set(c.column.key, c);
  }
  const constants = readConstants(kind, place, matching.constants ?? {}, byKey, problems);
  for (const key of missingKeys(kind, new Set([...byKey.keys(), ...Object.keys(constants)]))) {
    const { label } = columnOf(kind, key);
    problems.push(
      problemAt(
        { ...place, column: label },
        {
          rule: "key-column-missing",
          message: `No column of the file stands for ${label}, which names the rows of ${kindOf(kind).title}.`,
          remedy: `Choose the column that holds it, or add one with the header "${headerOf(columnOf(kind, key))}".`,
        },
      ),
    );
  }
  const money = columns.find((c) => c.column.type === "money");
  if (money && !byKey.has("currency") && constants.currency === undefined) {
    problems.push(
      problemAt(
        { ...place, column: money.header },
        {
          rule: "price-without-currency-column",
          message: `"${money.header}" holds prices, and no column says in which currency.`,
          remedy: "Add a column Currency, or leave the price column out.",
        },
      ),
    );
  }
  if (problems.length > 0) return refused(...problems);
  return ok({ kind, table, columns, constants, notices: matchingNotices(table, matching) });
}

/** Values for all rows: read like a cell; a column of the file stands before them. */
function readConstants(
  kind: KindName,
  place: Place,
  texts: Readonly<Record<string, string>>,
  given: ReadonlyMap<string, unknown>,
  problems: ExchangeProblem[],
): Record<string, unknown> {
  const constants: Record<string, unknown> = {};
  for (const [key, text] of Object.entries(texts)) {
    if (given.has(key)) continue;
    const column = columnOf(kind, key);
    const reading = readCell(column, text, {
      style: { decimal: "point", isSure: true },
      dateOrder: undefined,
      currencyDigits: 2,
    });
    if (!reading.ok) problems.push(problemAt({ ...place, column: column.label }, reading.fault));
    else if (reading.value !== undefined) constants[key] = reading.value;
  }
  return constants;
}

/** Key columns that must be there. A side or lot that may be blank is not one of them; a weather hour has two forms. */
function missingKeys(kind: KindName, given: ReadonlySet<string>): string[] {
  const isSplitHour = kind === "weather" && given.has("date") && given.has("time");
  return kindOf(kind).key.filter(
    (key) => columnOf(kind, key).required && !given.has(key) && !(key === "startsAtMillis" && isSplitHour),
  );
}

function matchingNotices(table: Table, matching: Matching): string[] {
  const notices = [...table.notices];
  for (const m of matching.columns) {
    if (m.conversion) notices.push(`"${m.header}" is converted from ${m.conversion.text}.`);
    if (m.note) notices.push(`"${m.header}": ${m.note}.`);
  }
  for (const u of matching.unmatched) notices.push(`Column "${u.header}" is not read: ${u.reason}.`);
  table.header.forEach((text, index) => {
    if (text === "" && table.rows.some((r) => !isBlank(r.cells[index]))) {
      notices.push(`Column ${index + 1} has no header and is not read.`);
    }
  });
  return notices;
}

function finished(
  kind: KindName,
  columns: readonly ColumnMatch[],
  unmatched: readonly UnmatchedColumn[],
): Matching {
  const given = new Set(columns.map((c) => c.key));
  return {
    kind,
    columns: [...columns].sort((a, b) => a.index - b.index),
    unmatched: [...unmatched].sort((a, b) => a.index - b.index),
    missing: kindOf(kind).columns.flatMap(({ key, label, required }) =>
      given.has(key) ? [] : [{ key, label, required }],
    ),
  };
}

function matchOne(header: string, index: number, column: Column): ColumnMatch | undefined {
  const hit = nameHit(header, column);
  if (!hit) return undefined;
  return { index, header, key: column.key, label: column.label, confidence: hit.confidence, ...hit.extra };
}

function suggest(
  header: string,
  columns: readonly Column[],
  taken: ReadonlyMap<string, unknown>,
): { key: string; label: string } | undefined {
  const plain = plainName(header.replace(/\s*[([].*$/, ""));
  const names = new Map<string, Column>();
  for (const column of columns) {
    if (taken.has(column.key)) continue;
    for (const name of [column.label, ...column.aliases]) names.set(plainName(name), column);
  }
  const words = new Set(plain.split(" "));
  const hit =
    names.get(plain) ??
    names.get(nearest(plain, names.keys()) ?? "") ??
    [...names].find(([name]) => name.length > 3 && name.split(" ").every((w) => words.has(w)))?.[1];
  return hit && { key: hit.key, label: hit.label };
}
