/** What an import would do to each row: new, changed, same or refused, and why. Nothing is stored here. */
import { refuseApproved } from "./approved";
import { showCell } from "./cells";
import { inChunks } from "./chunks";
import { refuseAcrossFiles, refuseClashes } from "./clashes";
import { currencyDigits } from "./currency";
import { checkDraft, type Draft, type Standing } from "./draft";
import { refuseFuture } from "./future";
import { ignoringCase, NearMatches } from "./keys";
import { kindOf } from "./kinds";
import type { Place } from "./problems";
import type { KindName, RowOf } from "./rows";
import { refuseSpellings } from "./spellings";
import type {
  Column,
  ExistingRows,
  FateTotals,
  FieldChange,
  ParsedFile,
  ParsedRow,
  Preview,
  PreviewRow,
  RunOptions,
} from "./types";

/** Preview of one file against what stands. */
export async function previewImport<K extends KindName>(
  parsed: ParsedFile<K>,
  existing: ReadonlyMap<string, RowOf<K>>,
  references: ExistingRows,
  run: RunOptions = {},
): Promise<Preview<K>> {
  const standing = standingOf({ ...references, [parsed.kind]: existing });
  const { previews } = await previewKind(parsed.kind, [parsed], existing, standing, run);
  return previews[0]!;
}

/** Preview of all files of one kind together. `accepted` are the rows that will be new or changed, by key. */
export async function previewKind<K extends KindName>(
  kind: K,
  files: readonly ParsedFile<K>[],
  existing: ReadonlyMap<string, RowOf<K>>,
  standing: Standing,
  run: RunOptions = {},
): Promise<{ previews: Preview<K>[]; accepted: Map<string, RowOf<K>>; refused: Map<string, string> }> {
  const drafts: Draft[] = [];
  const looseExisting = new Map([...existing.keys()].map((k) => [ignoringCase(k), k]));
  const flat = files.flatMap((file, i) => file.rows.map((row) => ({ file: i, row })));
  await inChunks(flat, "preview", run, ({ file, row }) => {
    const { fileName, sheet } = files[file]!;
    const at = { fileName, ...(sheet === undefined ? {} : { sheet }), row: row.rowNumber };
    const draft = draftOf(kind, file, at, row, existing);
    checkDraft(kind, draft, standing, looseExisting);
    drafts.push(draft);
  });
  refuseApproved(kind, drafts, existing);
  refuseFuture(kind, drafts, run.today);
  refuseAcrossFiles(kind, drafts);
  refuseSpellings(kind, drafts, existing);
  refuseClashes(kind, drafts, existing);

  const accepted = new Map<string, RowOf<K>>();
  const refused = new Map<string, string>();
  const previews = files.map((file, i): Preview<K> => {
    const rows = drafts.filter((d) => d.file === i).map((d) => previewRow<K>(d));
    for (const row of rows) {
      if (row.key === undefined) continue;
      if (row.value) accepted.set(row.key, row.value);
      else refused.set(row.key, `${file.fileName} row ${row.rowNumber}`);
    }
    const { fileName, sheet, questions, notices } = file;
    return {
      kind,
      fileName,
      ...(sheet === undefined ? {} : { sheet }),
      rows,
      totals: totalsOf(rows, 0),
      questions,
      notices,
    };
  });
  const named = new Set(drafts.map((d) => d.parsed.key));
  const notInFile = [...existing.keys()].filter((k) => !named.has(k)).length;
  const last = previews.at(-1);
  if (last) last.totals.notInFile = notInFile;
  return { previews, accepted, refused };
}

export function standingOf(rows: ExistingRows): Standing {
  const near = new Map<KindName, NearMatches>();
  const mapOf = (kind: KindName): ReadonlyMap<string, unknown> => rows[kind] ?? new Map();
  return {
    row: (kind, key) => mapOf(kind).get(key),
    refusedAt: () => undefined,
    near(kind, key) {
      let matches = near.get(kind);
      if (!matches) {
        matches = new NearMatches(mapOf(kind).keys());
        near.set(kind, matches);
      }
      return matches.of(key);
    },
  };
}

function draftOf(
  kind: KindName,
  file: number,
  at: Place & { row: number },
  parsed: ParsedRow,
  existingRows: ReadonlyMap<string, unknown>,
): Draft {
  const existing =
    parsed.key === undefined
      ? undefined
      : (existingRows.get(parsed.key) as Record<string, unknown> | undefined);
  const merged: Record<string, unknown> = {};
  for (const column of kindOf(kind).columns) {
    if (column.isVirtual) continue;
    const isGiven = column.key in parsed.values || column.isCheckOnly;
    const value = isGiven ? parsed.values[column.key] : existing ? existing[column.key] : column.default;
    if (value !== undefined && value !== null) merged[column.key] = value;
  }
  return {
    file,
    at,
    parsed,
    ...(existing ? { existing } : {}),
    merged,
    isNew: !existing,
    changes: existing ? changesOf(kind, existing, merged, parsed.values) : [],
    problems: [...parsed.problems],
  };
}

/** Fields that differ, compared as exports write them, so that a value and its export are never "changed". */
function changesOf(
  kind: KindName,
  existing: Record<string, unknown>,
  merged: Record<string, unknown>,
  given: Record<string, unknown>,
): FieldChange[] {
  const before = currencyDigits(existing.currency);
  const after = currencyDigits(merged.currency);
  return kindOf(kind).columns.flatMap((column): FieldChange[] => {
    const { key, label } = column;
    if (column.isVirtual || column.isCheckOnly || !(key in given)) return [];
    const from = comparable(column, existing[key], before);
    const to = comparable(column, merged[key], after);
    return from === to ? [] : [{ key, label, from, to }];
  });
}

function comparable(column: Column, value: unknown, digits: number): string {
  const text = showCell(column, value, digits);
  return column.type === "text" ? text.normalize("NFC").replace(/\r\n?/g, "\n").trim() : text;
}

function previewRow<K extends KindName>(draft: Draft): PreviewRow<K> {
  const { rowNumber, key } = draft.parsed;
  const base = { rowNumber, ...(key === undefined ? {} : { key }) };
  if (draft.problems.length > 0) return { ...base, fate: "refused", changes: [], problems: draft.problems };
  const fate = draft.isNew ? "new" : draft.changes.length > 0 ? "changed" : "same";
  const value = draft.merged as unknown as RowOf<K>;
  return { ...base, fate, value, changes: draft.changes, problems: [] };
}

export function totalsOf(rows: readonly PreviewRow[], notInFile: number): FateTotals {
  const totals = { new: 0, changed: 0, same: 0, refused: 0, notInFile };
  for (const row of rows) totals[row.fate]++;
  return totals;
}
