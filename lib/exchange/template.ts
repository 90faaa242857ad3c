/** Empty files to fill in, with the header that is expected and what each column means. */
import { limitsText, readCell } from "./cells";
import { headerOf, isTextual } from "./columns";
import { guardText } from "./guard";
import { kindOf } from "./kinds";
import { EXAMPLE_MARK } from "./parseRows";
import type { KindName } from "./rows";
import type { Column } from "./types";
import { type SheetContent, writeSheets } from "./workbook";
import { type CsvOptions, encodeCsv } from "./write";

const COLUMNS_SHEET = "Columns";
const NUMERIC = /^-?\d+(\.\d+)?$/;

/** Header and one example row. The example's code begins with EXAMPLE, so that a forgotten one is not imported. */
export function templateCsv(kind: KindName, options: CsvOptions = {}): Uint8Array {
  const { columns } = kindOf(kind);
  const record = columns.map((c) => {
    const text = exampleOf(kind, c);
    if (isTextual(c)) return guardText(text);
    return options.separator === ";" && NUMERIC.test(text) ? text.replace(".", ",") : text;
  });
  return encodeCsv([columns.map((c) => headerOf(c)), record], options);
}

/** A sheet with the header, the example and drop-downs for choices; a second sheet explains every column. */
export function templateXlsx(kind: KindName): Promise<Uint8Array> {
  return templateWorkbook([kind]);
}

/** One workbook for several kinds: a sheet for each, and one that explains all columns. */
export function templateWorkbook(kinds: readonly KindName[]): Promise<Uint8Array> {
  return writeSheets([...kinds.map(dataSheet), columnsSheet(kinds)]);
}

function dataSheet(kind: KindName): SheetContent {
  const { columns, title } = kindOf(kind);
  return {
    name: title,
    columns: columns.map((c) => ({
      header: headerOf(c),
      isText: isTextual(c),
      ...(c.type === "enum" && c.choices ? { choices: c.choices } : {}),
      ...(c.type === "boolean" ? { choices: ["yes", "no"] } : {}),
    })),
    rows: [
      columns.map((c) => {
        const text = exampleOf(kind, c);
        if (text === "") return null;
        return !isTextual(c) && NUMERIC.test(text) ? Number(text) : isTextual(c) ? guardText(text) : text;
      }),
    ],
  };
}

function columnsSheet(kinds: readonly KindName[]): SheetContent {
  const heads = [
    "Sheet",
    "Column",
    "Needed",
    "Unit",
    "Values",
    "Blank means",
    "Meaning",
    "Example",
    "Other names",
  ];
  const widths = [14, 24, 10, 10, 40, 16, 60, 30, 40];
  return {
    name: COLUMNS_SHEET,
    columns: heads.map((header, i) => ({ header, isText: true, widthChars: widths[i] ?? 20 })),
    rows: kinds.flatMap((kind) =>
      kindOf(kind).columns.map((c) =>
        [
          kindOf(kind).title,
          headerOf(c),
          c.required ? "yes" : "no",
          c.unit ?? "",
          limitsText(c),
          blankMeaning(c),
          c.description,
          c.example,
          c.aliases.join(", "),
        ].map((text) => (text === "" ? null : guardText(text))),
      ),
    ),
  };
}

function blankMeaning(column: Column): string {
  if (column.default !== undefined) return defaultText(column);
  return column.required ? "not allowed" : "none";
}

/** The default as a person would type it. */
function defaultText(column: Column): string {
  if (Array.isArray(column.default)) return column.default.length === 0 ? "none" : column.example;
  if (column.type === "boolean") return column.default ? "yes" : "no";
  if (column.type === "time") return column.example;
  return String(column.default);
}

/** The first key column and every code that refers to something carry the mark. */
function exampleOf(kind: KindName, column: Column): string {
  return column.key === kindOf(kind).key[0] ? `${EXAMPLE_MARK} ${column.example}` : column.example;
}

/** Can the example of a column be read as itself? For tests. */
export function exampleReads(column: Column): boolean {
  return readCell(column, column.example, {
    style: { decimal: "point", isSure: true },
    dateOrder: undefined,
    currencyDigits: 2,
  }).ok;
}
