/** Sheets of an .xlsx workbook -> rows of plain cells. */
import type ExcelJS from "exceljs";
import { type Result, refused } from "@/lib/result";
import { problemAt } from "./problems";
import type { Cell, ExchangeProblem } from "./types";
import { workbookFault } from "./zip";

export interface RawSheet {
  name: string;
  rows: { rowNumber: number; cells: Cell[] }[];
}

/**
 * Parts of a sheet that say nothing about values. Drop-downs and merges over whole columns would otherwise be
 * unrolled cell by cell.
 */
const IGNORED_NODES = [
  "dataValidations",
  "mergeCells",
  "conditionalFormatting",
  "hyperlinks",
  "drawing",
  "cols",
  "rowBreaks",
  "extLst",
];

/** Reads all visible and hidden sheets, in workbook order. */
export async function readWorkbook(
  fileName: string,
  bytes: Uint8Array,
): Promise<Result<RawSheet[], ExchangeProblem>> {
  const fault = workbookFault(bytes);
  if (fault) return refused(problemAt({ fileName }, fault));
  const { default: Excel } = await import("exceljs");
  const workbook = new Excel.Workbook();
  try {
    // exceljs types name an old Buffer; any byte array works.
    await workbook.xlsx.load(bytes as unknown as ExcelJS.Buffer, { ignoreNodes: IGNORED_NODES });
  } catch {
    // The library throws for XML that it cannot read: the file's fault, not ours. Its words would help nobody.
    return refused(
      problemAt(
        { fileName },
        {
          rule: "workbook-damaged",
          message: "The workbook cannot be read.",
          remedy: "Open it in a spreadsheet program, save it again as .xlsx, or save the sheet as CSV.",
        },
      ),
    );
  }
  return { ok: true, value: workbook.worksheets.map(readSheet) };
}

function readSheet(sheet: ExcelJS.Worksheet): RawSheet {
  const rows: RawSheet["rows"] = [];
  sheet.eachRow({ includeEmpty: false }, (row, rowNumber) => {
    const cells: Cell[] = [];
    row.eachCell({ includeEmpty: false }, (cell, columnNumber) => {
      while (cells.length < columnNumber - 1) cells.push(null);
      cells.push(plainCell(cell.value));
    });
    rows.push({ rowNumber, cells });
  });
  return { name: sheet.name, rows };
}

function plainCell(value: ExcelJS.CellValue): Cell {
  if (value === null || value === undefined) return null;
  if (typeof value === "string" || typeof value === "number" || typeof value === "boolean") return value;
  if (value instanceof Date) return value;
  if ("error" in value) {
    return { fault: `the cell shows ${value.error}`, remedy: "Correct the formula, or type the value." };
  }
  if ("richText" in value) return value.richText.map((r) => r.text).join("");
  if ("hyperlink" in value) return plainCell(value.text as ExcelJS.CellValue);
  if ("result" in value && value.result !== undefined) return plainCell(value.result as ExcelJS.CellValue);
  return {
    fault: "the cell holds a formula without a stored result",
    remedy: "Open the file in a spreadsheet program so that it calculates, save it, and import again.",
  };
}
