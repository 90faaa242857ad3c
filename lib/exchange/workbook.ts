/** Plain cells -> the bytes of an .xlsx workbook. */

export type SheetCell = string | number | Date | null;

export interface SheetColumn {
  header: string;
  /** Has the text format, so that a code such as 007 keeps its zeros when somebody edits the sheet. */
  isText: boolean;
  widthChars?: number;
  /** Offered as a drop-down below the header. */
  choices?: readonly string[];
}

export interface SheetContent {
  name: string;
  columns: readonly SheetColumn[];
  rows: readonly (readonly SheetCell[])[];
}

const TEXT_FORMAT = "@";
const DATE_FORMAT = "yyyy-mm-dd";
/** Rows of a template that get drop-downs. */
const CHOICE_ROWS = 1000;
/** Longest list that a drop-down may hold inline, characters (limit of the file format, from memory). */
const CHOICE_MAX_CHARS = 255;
/** Stands in the file's properties: a pure function has no clock, and equal rows should give like files. */
const WRITTEN_AT = new Date(Date.UTC(2000, 0, 1));

/** Part of exceljs that its types leave out. */
type AddValidation = (range: string, rule: { type: "list"; allowBlank: boolean; formulae: string[] }) => void;

export async function writeSheets(sheets: readonly SheetContent[]): Promise<Uint8Array> {
  const { default: Excel } = await import("exceljs");
  const workbook = new Excel.Workbook();
  workbook.created = WRITTEN_AT;
  workbook.modified = WRITTEN_AT;
  for (const content of sheets) {
    const sheet = workbook.addWorksheet(content.name, { views: [{ state: "frozen", ySplit: 1 }] });
    sheet.columns = content.columns.map((c) => ({
      width: c.widthChars ?? Math.min(40, Math.max(10, c.header.length + 2)),
      style: c.isText ? { numFmt: TEXT_FORMAT } : {},
    }));
    sheet.addRow(content.columns.map((c) => xmlSafe(c.header))).font = { bold: true };
    for (const cells of content.rows) {
      const row = sheet.addRow(cells.map((c) => (typeof c === "string" ? xmlSafe(c) : c)));
      cells.forEach((c, i) => {
        if (c instanceof Date) row.getCell(i + 1).numFmt = DATE_FORMAT;
      });
    }
    content.columns.forEach((c, i) => {
      const list = c.choices?.join(",") ?? "";
      if (list === "" || list.length > CHOICE_MAX_CHARS) return;
      // One rule for the whole stretch; setting it cell by cell would make thousands of blank cells.
      const { dataValidations } = sheet as unknown as { dataValidations: Record<"add", AddValidation> };
      const letter = sheet.getColumn(i + 1).letter;
      dataValidations.add(`${letter}2:${letter}${CHOICE_ROWS}`, {
        type: "list",
        allowBlank: true,
        formulae: [`"${list}"`],
      });
    });
  }
  return new Uint8Array(await workbook.xlsx.writeBuffer());
}

/** Characters that XML cannot hold, and CR, which it would turn into LF, as the file format's `_xHHHH_` escapes. */
function xmlSafe(text: string): string {
  const escaped = text.replace(/_(?=x[0-9A-Fa-f]{4}_)/g, "_x005F_");
  return escaped.replace(
    /[^\P{Cc}\t\n]/gu,
    (c) => `_x${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}_`,
  );
}
