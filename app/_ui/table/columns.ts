import type { ReactNode } from "react";

/** What a column may hold for sorting, filtering, grouping and export. Dates as `YYYY-MM-DD`. */
export type CellValue = string | number | boolean | null | undefined;

export type ColumnKind = "text" | "number" | "date" | "yes/no";

/** How a column can be narrowed: by ticking values, or by a range of numbers or dates. */
export type ColumnFilterKind = "choice" | "range";

/** One column, in the words of a page rather than of the table library. */
export interface Column<Row> {
  id: string;
  /** English, as the code says it: the table says it in the reader's language, the export keeps it. */
  header: string;
  /** Plain value: sorted, filtered, grouped, searched and exported. */
  value: (row: Row) => CellValue;
  /** A sentence in the reader's language where the value is one in English: what is searched instead. */
  said?: (row: Row) => string | null;
  /** How it looks; the formatted value when left out. */
  cell?: (row: Row) => ReactNode;
  kind?: ColumnKind;
  /**
   * The values are words of ours, not a company's: cells, ticks and groups say them in the reader's language. As a
   * record: what is said for each value.
   */
  isSaid?: boolean | Readonly<Record<string, string>>;
  /** Shown with the header and in the export's head. */
  unit?: string;
  /** Decimals of a number. */
  digits?: number;
  filter?: ColumnFilterKind;
  /** May rows be grouped by it? Columns filtered by choice may, unless this says false. */
  groupable?: boolean;
  sortable?: boolean;
  /** Group heads show the sum of this column. */
  sums?: boolean;
  /** Width in px; the columns share what is left over in proportion. */
  width?: number;
  /** The column that names the row: first, sticky, and the title of its card. Default: the first column. */
  isRowHeader?: boolean;
  /** Hidden until someone chooses it. */
  startsHidden?: boolean;
  /** A sentence that explains the column; shown on the header. */
  hint?: string;
  /** On a card: beside the title, in the body, or left out. */
  onCard?: "beside title" | "body" | "left out";
}

const WIDTH: Readonly<Record<ColumnKind, number>> = { text: 168, number: 104, date: 152, "yes/no": 88 };

export function widthOf<Row>(column: Column<Row>): number {
  return column.width ?? WIDTH[column.kind ?? "text"];
}

export function alignOf<Row>(column: Column<Row>): "start" | "end" {
  return column.kind === "number" ? "end" : "start";
}

/** The row-naming column: the one marked, else the first. */
export function rowHeaderOf<Row>(columns: readonly Column<Row>[]): Column<Row> | undefined {
  return columns.find((column) => column.isRowHeader) ?? columns[0];
}

export function canGroup<Row>(column: Column<Row>): boolean {
  return column.groupable ?? column.filter === "choice";
}

/** A value's name for the reader; for a column of our own words in their language. */
export const namedValue = <Row>(column: Column<Row>, key: string, t: (text: string) => string): string =>
  column.isSaid || column.kind === "yes/no"
    ? t(typeof column.isSaid === "object" ? (column.isSaid[key] ?? key) : key)
    : key;

/** Null, blank and NaN are one thing to a table: no value. It sorts last in both directions. */
export function plainValue(value: CellValue): string | number | boolean | undefined {
  if (value === null || value === undefined || value === "") return undefined;
  return typeof value === "number" && Number.isNaN(value) ? undefined : value;
}

/** The value as a tick list names it and the address carries it; "" for no value. */
export function choiceKey(value: CellValue): string {
  const plain = plainValue(value);
  if (plain === undefined) return "";
  return typeof plain === "boolean" ? (plain ? "yes" : "no") : String(plain);
}
