import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { keyOf } from "@/lib/exchange/keys";
import { KIND_NAMES } from "@/lib/exchange/kinds";
import { applyMatching, matchColumns } from "@/lib/exchange/match";
import { parseRows } from "@/lib/exchange/parseRows";
import { previewImport } from "@/lib/exchange/preview";
import { readTable } from "@/lib/exchange/readTable";
import type { KindName, RowOf } from "@/lib/exchange/rows";
import { writeCsv, writeXlsx } from "@/lib/exchange/write";
import { referencesOf, rowsOf } from "./rows";

async function importBack<K extends KindName>(
  kind: K,
  bytes: Uint8Array,
  fileName: string,
  rows: readonly RowOf<K>[],
) {
  const table = await readTable(fileName, bytes);
  if (!table.ok) throw new Error(JSON.stringify(table.problems));
  const matching = matchColumns(table.value.header, kind);
  expect(matching.columns.every((c) => c.confidence === "exact")).toBe(true);
  expect(matching.unmatched).toEqual([]);
  const matched = applyMatching(table.value, kind, matching);
  if (!matched.ok) throw new Error(JSON.stringify(matched.problems));
  const parsed = await parseRows(matched.value);
  const existing = new Map(rows.map((r) => [keyOf(kind, r), r]));
  const references = referencesOf(kind, rows);
  const again = await previewImport(parsed, existing, references);
  const fresh = await previewImport(parsed, new Map(), references);
  return { again, fresh, parsed };
}

async function expectNoChange<K extends KindName>(
  kind: K,
  bytes: Uint8Array,
  fileName: string,
  rows: RowOf<K>[],
) {
  const { again, fresh, parsed } = await importBack(kind, bytes, fileName, rows);
  expect(parsed.questions).toEqual([]);
  expect(again.rows.flatMap((r) => r.problems)).toEqual([]);
  expect(again.rows.flatMap((r) => r.changes)).toEqual([]);
  expect(again.totals).toEqual({ new: 0, changed: 0, same: rows.length, refused: 0, notInFile: 0 });
  expect(fresh.rows.flatMap((r) => r.problems)).toEqual([]);
  expect(fresh.rows.map((r) => r.value)).toEqual(rows);
}

describe.each(KIND_NAMES)("%s: what was exported imports without a change", (kind) => {
  it("as CSV with a mark", () =>
    fc.assert(
      fc.asyncProperty(rowsOf(kind), async (rows) => {
        await expectNoChange(kind, writeCsv(kind, rows), "export.csv", rows);
      }),
      { numRuns: 60 },
    ));

  it("as CSV with semicolons and decimal commas, without a mark", () =>
    fc.assert(
      fc.asyncProperty(rowsOf(kind), async (rows) => {
        const bytes = writeCsv(kind, rows, { separator: ";", hasMark: false });
        await expectNoChange(kind, bytes, "export.csv", rows);
      }),
      { numRuns: 40 },
    ));

  it("as a workbook", () =>
    fc.assert(
      fc.asyncProperty(rowsOf(kind, 4), async (rows) => {
        await expectNoChange(kind, await writeXlsx(kind, rows), "export.xlsx", rows);
      }),
      { numRuns: 10 },
    ));
});
