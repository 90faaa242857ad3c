/** Rows of a kind -> CSV or a workbook that imports without a change. */

import { showCell } from "./cells";
import { headerOf, isTextual } from "./columns";
import { csvText } from "./csv";
import { currencyDigits } from "./currency";
import { guardText } from "./guard";
import { kindOf } from "./kinds";
import type { KindName, RowOf } from "./rows";
import type { Column } from "./types";
import { type SheetCell, writeSheets } from "./workbook";

export interface CsvOptions {
  /** Starts with the UTF-8 byte order mark, by which spreadsheet programs know the encoding; default true. */
  hasMark?: boolean;
  /** With ";" numbers get a decimal comma, as spreadsheet programs of those locales expect; default ",". */
  separator?: "," | ";";
}

/** CSV by RFC 4180 (CRLF, UTF-8). Text cells are guarded against formulas; numbers stay numbers. */
export function writeCsv<K extends KindName>(
  kind: K,
  rows: readonly RowOf<K>[],
  options: CsvOptions = {},
): Uint8Array {
  const separator = options.separator ?? ",";
  const { columns } = kindOf(kind);
  const records = [
    columns.map((c) => guardText(headerOf(c))),
    ...rows.map((row) => csvRecord(kind, cellsOfRow(kind, row), separator === ";")),
  ];
  return encodeCsv(records, options);
}

/** Text cells of one record, as `writeCsv` writes them. */
export function csvRecord(
  kind: KindName,
  cells: Readonly<Record<string, unknown>>,
  hasDecimalComma: boolean,
): string[] {
  const digits = currencyDigits(cells.currency);
  return kindOf(kind).columns.map((c) => {
    const text = showCell(c, cells[c.key], digits);
    if (isTextual(c)) return guardText(text);
    return hasDecimalComma && isNumeric(c) ? text.replace(".", ",") : text;
  });
}

export function encodeCsv(records: readonly (readonly string[])[], options: CsvOptions = {}): Uint8Array {
  const mark = options.hasMark === false ? "" : "\uFEFF";
  return new TextEncoder().encode(mark + csvText(records, options.separator ?? ","));
}

/** Any table of a screen as CSV: strings are guarded, numbers stay numbers, null is blank. */
export function writeTableCsv(
  header: readonly string[],
  rows: readonly (readonly (string | number | null)[])[],
  options: CsvOptions = {},
): Uint8Array {
  const field = (value: string | number | null) => {
    if (value === null) return "";
    if (typeof value === "string") return guardText(value);
    return options.separator === ";" ? String(value).replace(".", ",") : String(value);
  };
  return encodeCsv([header.map(guardText), ...rows.map((row) => row.map(field))], options);
}

/** Any table of a screen as a workbook, under the same guard. */
export function writeTableXlsx(
  name: string,
  header: readonly string[],
  rows: readonly (readonly (string | number | null)[])[],
): Promise<Uint8Array> {
  const guarded = (cell: string | number | null) => (typeof cell === "string" ? guardText(cell) : cell);
  return writeSheets([
    {
      name,
      columns: header.map((text, i) => ({
        header: guardText(text),
        isText: rows.some((row) => typeof row[i] === "string"),
      })),
      rows: rows.map((row) => row.map(guarded)),
    },
  ]);
}

/** A workbook of one sheet. Numbers and dates are real ones, text cells have the text format and the same guard. */
export function writeXlsx<K extends KindName>(kind: K, rows: readonly RowOf<K>[]): Promise<Uint8Array> {
  return writeWorkbook([{ kind, rows }]);
}

export type SheetOfRows = { [K in KindName]: { kind: K; rows: readonly RowOf<K>[] } }[KindName];

/** A workbook with one sheet per kind, named by the kind's title: a whole programme in one file. */
export function writeWorkbook(
  parts: readonly { kind: KindName; rows: readonly unknown[] }[],
): Promise<Uint8Array> {
  return writeSheets(
    parts.map(({ kind, rows }) => {
      const { columns, title } = kindOf(kind);
      return {
        name: title,
        columns: columns.map((c) => ({ header: headerOf(c), isText: isTextual(c) })),
        rows: rows.map((row) => {
          const cells = cellsOfRow(kind, row as RowOf<KindName>);
          const digits = currencyDigits(cells.currency);
          return columns.map((c) => sheetCell(c, cells[c.key], digits));
        }),
      };
    }),
  );
}

/** The cells of a stored row, virtual columns included. */
export function cellsOfRow<K extends KindName>(kind: K, row: RowOf<K>): Readonly<Record<string, unknown>> {
  return kindOf(kind).unfold?.(row) ?? (row as unknown as Record<string, unknown>);
}

export function isNumeric(column: Column): boolean {
  return column.type === "number" || column.type === "integer" || column.type === "money";
}

export function sheetCell(column: Column, value: unknown, digits: number): SheetCell {
  if (value === undefined || value === null) return null;
  if (column.type === "number" || column.type === "integer") return value as number;
  if (column.type === "money") return Number(showCell(column, value, digits));
  if (column.type === "date") return new Date(`${value as string}T00:00:00Z`);
  const text = showCell(column, value, digits);
  return isTextual(column) ? guardText(text) : text;
}
