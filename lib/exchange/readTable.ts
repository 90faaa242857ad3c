/** A file's bytes -> a table with a header: text files (.csv, .txt, .tsv) and workbooks (.xlsx). */
import { ok, type Result, refused } from "@/lib/result";
import { parseRecords } from "./csv";
import { decode } from "./decode";
import { fileSizeProblem, MAX_COLUMNS, MAX_ROWS, type Place, problemAt } from "./problems";
import { findSeparator } from "./separator";
import type { Cell, ExchangeProblem, Table } from "./types";
import { type RawSheet, readWorkbook } from "./xlsx";

/** Bytes, or anything that knows its size before it is read (a browser's File is one). */
export type FileSource = Uint8Array | { size: number; arrayBuffer(): Promise<ArrayBuffer> };

export interface ReadTableOptions {
  /** Sheet to read; the first one when absent. */
  sheet?: string;
  /** Row of the header; the first row that is not blank when absent. */
  headerRow?: number;
}

/** Reads one table. Refused: too large, empty, header without rows, two columns of one name, not a table at all. */
export async function readTable(
  fileName: string,
  source: FileSource,
  options: ReadTableOptions = {},
): Promise<Result<Table, ExchangeProblem>> {
  const opened = await openFile(fileName, source);
  if (!opened.ok) return opened;
  if (opened.value.kind === "text") return tableOfText(fileName, opened.value.bytes, options.headerRow);
  const sheets = opened.value.sheets;
  const wanted = options.sheet?.trim().toLowerCase();
  const sheet = wanted ? sheets.find((s) => s.name.trim().toLowerCase() === wanted) : sheets[0];
  if (!sheet) {
    return refused(
      problemAt(
        { fileName },
        {
          rule: "sheet-unknown",
          value: options.sheet,
          message: `The workbook has no sheet "${options.sheet ?? ""}".`,
          remedy: `Choose one of: ${sheets.map((s) => s.name).join(", ")}.`,
        },
      ),
    );
  }
  return tableOfSheet(fileName, sheet, options.headerRow);
}

/** One sheet of a workbook, or the one table of a text file (without a sheet name). */
export interface SheetReading {
  sheet?: string;
  table: Result<Table, ExchangeProblem>;
}

/** Reads every table of a file in order. A sheet that holds no table is a reading of its own and stops no other. */
export async function readTables(
  fileName: string,
  source: FileSource,
  headerRow?: number,
): Promise<Result<SheetReading[], ExchangeProblem>> {
  const opened = await openFile(fileName, source);
  if (!opened.ok) return opened;
  if (opened.value.kind === "text") {
    const table = tableOfText(fileName, opened.value.bytes, headerRow);
    return table.ok ? ok([{ table }]) : table;
  }
  const sheets = opened.value.sheets;
  return ok(sheets.map((s) => ({ sheet: s.name, table: tableOfSheet(fileName, s, headerRow) })));
}

type Opened = { kind: "text"; bytes: Uint8Array } | { kind: "workbook"; sheets: RawSheet[] };

async function openFile(fileName: string, source: FileSource): Promise<Result<Opened, ExchangeProblem>> {
  const size = source instanceof Uint8Array ? source.byteLength : source.size;
  const tooLarge = fileSizeProblem(fileName, size);
  if (tooLarge) return refused(tooLarge);
  const bytes = source instanceof Uint8Array ? source : new Uint8Array(await source.arrayBuffer());
  const grown = fileSizeProblem(fileName, bytes.byteLength); // the stated size may be wrong
  if (grown) return refused(grown);
  if (bytes.length === 0) return refused(emptyFile({ fileName }));
  const magic = String.fromCharCode(...bytes.subarray(0, 4));
  if (magic.startsWith("PK\x03\x04")) {
    const workbook = await readWorkbook(fileName, bytes);
    if (workbook.ok && workbook.value.length === 0) return refused(emptyFile({ fileName }));
    return workbook.ok ? ok({ kind: "workbook", sheets: workbook.value }) : workbook;
  }
  if (magic === "\xd0\xcf\x11\xe0") {
    return refused(
      problemAt(
        { fileName },
        {
          rule: "file-old-workbook",
          message: "The file is a workbook of the old .xls form, or one with a password.",
          remedy: "Save it as .xlsx without a password, or as CSV.",
        },
      ),
    );
  }
  if (magic.startsWith("%PDF") || magic.startsWith("PK")) {
    return refused(
      problemAt(
        { fileName },
        {
          rule: "file-not-a-table",
          message: "The file is neither a text table nor a workbook.",
          remedy: "Save the table as CSV or .xlsx.",
        },
      ),
    );
  }
  return ok({ kind: "text", bytes });
}

function tableOfText(
  fileName: string,
  bytes: Uint8Array,
  headerRow?: number,
): Result<Table, ExchangeProblem> {
  const { text, encoding, hasMark } = decode(bytes);
  const { separator, skipsFirstLine } = findSeparator(text);
  const { records, fault } = parseRecords(text, separator);
  if (fault) return refused(problemAt({ fileName, row: fault.row }, fault));
  const rows = records.map((cells, i) => ({
    rowNumber: i + 1,
    cells: cells.map((c): Cell => (c === "" ? null : c)),
  }));
  if (skipsFirstLine) rows.shift();
  const notices: string[] = [];
  if (encoding === "windows-1252") {
    notices.push("The file is not UTF-8; it was read as Windows-1252. Check accents and special characters.");
  } else if (encoding !== "utf-8" && !hasMark) {
    notices.push("The file was read as UTF-16, found by its zero bytes.");
  }
  const table = tableOf({ fileName }, rows, headerRow, notices);
  return table.ok ? ok({ ...table.value, source: "csv", encoding, separator }) : table;
}

function tableOfSheet(fileName: string, sheet: RawSheet, headerRow?: number): Result<Table, ExchangeProblem> {
  const table = tableOf({ fileName, sheet: sheet.name }, sheet.rows, headerRow, []);
  return table.ok ? ok({ ...table.value, source: "xlsx" }) : table;
}

function tableOf(
  place: Place,
  allRows: readonly { rowNumber: number; cells: readonly Cell[] }[],
  headerRow: number | undefined,
  notices: readonly string[],
): Result<Omit<Table, "source">, ExchangeProblem> {
  const rows = allRows.filter((r) => r.cells.some((c) => !isBlank(c)));
  const at = headerRow === undefined ? 0 : rows.findIndex((r) => r.rowNumber === headerRow);
  const head = rows[at];
  if (!head) {
    return refused(
      rows.length === 0
        ? emptyFile(place)
        : problemAt(place, {
            rule: "header-row-blank",
            value: headerRow,
            message: `Row ${headerRow} was named as the header and is blank.`,
            remedy: "Name the row that holds the column names.",
          }),
    );
  }
  const header = head.cells.map(headerText);
  while (header.at(-1) === "") header.pop();
  const problems = headerProblems({ ...place, row: head.rowNumber }, header);
  if (problems.length > 0) return refused(...problems);
  const body = rows.slice(at + 1);
  if (body.length === 0) {
    return refused(
      problemAt(place, {
        rule: "file-header-only",
        message: "The table has a header and no rows below it.",
        remedy: "Fill in at least one row below the header.",
      }),
    );
  }
  if (body.length > MAX_ROWS) {
    return refused(
      problemAt(place, {
        rule: "too-many-rows",
        value: body.length,
        message: `The table has ${body.length.toLocaleString("en")} rows; at most ${MAX_ROWS.toLocaleString("en")} can be read.`,
        remedy: "Split it into several files with the same header; they can be imported together.",
      }),
    );
  }
  return ok({ ...place, headerRow: head.rowNumber, header, rows: body, notices });
}

function headerProblems(place: Place, header: readonly string[]): ExchangeProblem[] {
  if (header.length > MAX_COLUMNS) {
    return [
      problemAt(place, {
        rule: "too-many-columns",
        value: header.length,
        message: `The header has ${header.length} columns; at most ${MAX_COLUMNS} can be read.`,
        remedy: "Delete the columns that are not needed.",
      }),
    ];
  }
  const control = header.some((h) => /[^\P{Cc}\t\n\r]/u.test(h));
  if (control) {
    return [
      problemAt(place, {
        rule: "file-not-a-table",
        message: "The header holds control characters: the file is no text table.",
        remedy: "Save the table as CSV or .xlsx.",
      }),
    ];
  }
  const first = new Map<string, number>();
  const problems: ExchangeProblem[] = [];
  header.forEach((name, i) => {
    if (name === "") return;
    const plain = name.toLowerCase();
    const before = first.get(plain);
    if (before === undefined) {
      first.set(plain, i);
      return;
    }
    problems.push(
      problemAt(
        { ...place, column: name },
        {
          rule: "header-duplicate",
          value: name,
          message: `Columns ${before + 1} and ${i + 1} are both named "${name}".`,
          remedy: "Rename or delete one of them, so that it is clear which one counts.",
        },
      ),
    );
  });
  return problems;
}

function headerText(cell: Cell): string {
  if (cell === null || cell instanceof Date || typeof cell === "object") return "";
  return String(cell).normalize("NFC").replace(/\s+/g, " ").trim();
}

/** Blank = nothing, or white space only. */
export function isBlank(cell: Cell | undefined): boolean {
  return cell === null || cell === undefined || (typeof cell === "string" && cell.trim() === "");
}

function emptyFile(place: Place): ExchangeProblem {
  return problemAt(place, {
    rule: "file-empty",
    message: place.sheet ? "The sheet is empty." : "The file is empty.",
    remedy: "Start from the template: it has the header that is expected.",
  });
}
