/** The steps of an import as data: table, kind, matching, parsed rows, preview. Bytes in, typed rows and problems out. */
import type { Problem } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { KindName, RowOf } from "./rows";
import type { UnitId } from "./units";

/** A problem with its place: file, sheet, row as a spreadsheet counts it (the header is row 1), column label. */
export interface ExchangeProblem extends Problem {
  fileName: string;
  sheet?: string;
  row?: number;
  column?: string;
}

/** A cell that holds no usable value, e.g. a formula error. */
export interface CellFault {
  fault: string;
  remedy: string;
}

/** Blank cells are null. A Date stands for the wall-clock date and time that the spreadsheet shows, kept as UTC. */
export type Cell = string | number | boolean | Date | CellFault | null;

export interface TableRow {
  rowNumber: number;
  cells: readonly Cell[];
}

export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";
export type Separator = "," | ";" | "\t";

export interface Table {
  fileName: string;
  sheet?: string;
  source: "csv" | "xlsx";
  /** CSV only. */
  encoding?: Encoding;
  /** CSV only. */
  separator?: Separator;
  headerRow: number;
  /** Trimmed; "" for a column without a name. */
  header: readonly string[];
  /** Blank rows are left out, so row numbers may jump. */
  rows: readonly TableRow[];
  /** What was assumed on reading, as sentences for the preview. */
  notices: readonly string[];
}

export type ColumnType =
  | "text"
  | "number"
  | "integer"
  | "money"
  | "date"
  | "time"
  | "instant"
  | "boolean"
  | "enum"
  | "list";

/** How a list stands in one cell. */
export type ListForm = "weekdays" | "polarisations" | "skills" | "leave" | "route" | "task minutes";

export interface Column<Key extends string = string> {
  key: Key;
  label: string;
  aliases: readonly string[];
  /** Unit of the stored value; a header may state another of the same family. */
  unit?: UnitId;
  type: ColumnType;
  /** A new row must have it. */
  required: boolean;
  /** What a blank cell means; without it, blank means "none". */
  default?: unknown;
  choices?: readonly string[];
  /** Other spellings of a choice, lower case -> choice. */
  choiceAliases?: Readonly<Record<string, string>>;
  listForm?: ListForm;
  /** Inclusive, in the stored unit. */
  min?: number;
  max?: number;
  /** Must be greater than this. */
  above?: number;
  maxLength?: number;
  description: string;
  /** As a person would type it. */
  example: string;
  /** Read and written, but folded into other fields and not stored itself. */
  isVirtual?: boolean;
  /** Once filled it can be changed, never cleared: something hangs on it. */
  isKept?: boolean;
  /** Makes sense only beside this other column: offered for a header when both are there, and then before others. */
  partner?: string;
  /** Compared with what is known elsewhere, never stored: a difference is a problem, not a change. */
  isCheckOnly?: boolean;
}

/** The row named by `columns` must exist in one of `kinds`. Blank = no reference. */
export interface Reference {
  columns: readonly string[];
  kinds: readonly KindName[];
}

/** A fault in one row, before it knows its file. */
export interface RowFault {
  key: string;
  rule: string;
  value?: unknown;
  message: string;
  remedy: string;
  /** As of a problem: for forms in other languages. */
  said?: Problem["said"];
}

export type Cells = Readonly<Record<string, unknown>>;

export interface ImportKind<K extends KindName = KindName> {
  name: K;
  /** Sheet and file name, e.g. `Crew members`. */
  title: string;
  description: string;
  columns: readonly Column[];
  /** Columns that together name a row. */
  key: readonly string[];
  /** Further sets of columns that no two rows may share (when all are filled). */
  uniques?: readonly (readonly string[])[];
  references: readonly Reference[];
  /** Rows alike in `by` (when all are filled) must be alike in `columns`, e.g. a lot has one expiry. */
  agreements?: readonly { by: readonly string[]; columns: readonly string[] }[];
  /** Columns whose values group rows: a value that differs from another in case or blanks only is refused. */
  oneSpelling?: readonly string[];
  /** A column with the day on which something was done: it cannot lie in the future. */
  notAfterToday?: string;
  /** Rules over a whole row. */
  check?(row: RowOf<K>): readonly RowFault[];
  /** Rules that look at the rows it refers to, as they will stand; `find` gives undefined for what is not there. */
  checkAgainst?(row: RowOf<K>, find: (kind: KindName, key: string) => unknown): readonly RowFault[];
  /** Folds virtual columns into stored fields. `cells` holds only the columns that the file gives. */
  fold?(
    cells: Cells,
    options: { zone?: string },
  ): { values: Record<string, unknown>; faults: readonly RowFault[] };
  /** Stored fields -> cells, including virtual ones. */
  unfold?(row: RowOf<K>): Record<string, unknown>;
}

export type Confidence = "exact" | "alias" | "normalised" | "unit" | "chosen";

export interface UnitConversion {
  from: UnitId;
  to: UnitId;
  /** For the preview, e.g. `ft to m: x 0.3048`. */
  text: string;
}

export interface ColumnMatch {
  /** Position in the table's header, from 0. */
  index: number;
  header: string;
  key: string;
  label: string;
  confidence: Confidence;
  conversion?: UnitConversion;
  /** What a person should know, e.g. that no unit was stated. */
  note?: string;
}

export interface UnmatchedColumn {
  index: number;
  header: string;
  reason: string;
  /** A column it may have meant; never applied unasked. */
  suggestion?: { key: string; label: string };
}

/** A proposal, or a person's choice, of which file column is which. */
export interface Matching {
  kind: KindName;
  columns: readonly ColumnMatch[];
  unmatched: readonly UnmatchedColumn[];
  /** Columns of the kind that the file lacks. */
  missing: readonly { key: string; label: string; required: boolean }[];
  /** Values that a person gives for all rows in place of a column, as they would type them, e.g. the weather place. */
  constants?: Readonly<Record<string, string>>;
}

/** A person's change to a proposal: `key: null` leaves the column out. `unit` when the header does not state it. */
export interface MatchChoice {
  index: number;
  key: string | null;
  unit?: UnitId;
}

export interface MatchedColumn {
  column: Column;
  index: number;
  header: string;
  conversion?: UnitConversion;
}

export interface MatchedTable<K extends KindName = KindName> {
  kind: K;
  table: Table;
  columns: readonly MatchedColumn[];
  /** Read already. */
  constants: Readonly<Record<string, unknown>>;
  notices: readonly string[];
}

/** Answers to what a file leaves open. */
export interface ReadOptions {
  decimalMark?: "point" | "comma";
  dateOrder?: "day first" | "month first";
  /** IANA zone (or UTC) of hours that carry no offset; asked for when the header does not say UTC either. */
  zone?: string;
  /** Read the example rows of a template too (tests). */
  readsExamples?: boolean;
}

/** A file-level question whose answer lets refused rows in. */
export interface Question {
  option: "decimalMark" | "dateOrder" | "zone";
  column: string;
  /** The first cell that can be read two ways. */
  row: number;
  value: string;
  choices: readonly { answer: string; readsAs: string }[];
}

export interface Progress {
  stage: "read" | "parse" | "preview";
  done: number;
  total: number;
}

/** `onProgress` may return a promise: long steps wait for it, so the caller can yield to its event loop. */
export interface RunOptions {
  onProgress?: (progress: Progress) => void | Promise<void>;
  /** Rows between two calls; default 500. */
  chunkRows?: number;
  /** Where the programme is; without it no day counts as one to come. */
  today?: CalendarDate;
  signal?: AbortSignal;
}

export interface ParsedRow {
  rowNumber: number;
  /** undefined when a key cell is wrong. */
  key?: string;
  /** Fields that the file gives; a blank optional cell is present as undefined. */
  values: Record<string, unknown>;
  problems: readonly ExchangeProblem[];
}

export interface ParsedFile<K extends KindName = KindName> {
  kind: K;
  fileName: string;
  sheet?: string;
  /** Labels of the columns that were read. */
  columns: readonly string[];
  rows: readonly ParsedRow[];
  questions: readonly Question[];
  notices: readonly string[];
}

export type Fate = "new" | "changed" | "same" | "refused";

export interface FieldChange {
  key: string;
  label: string;
  /** As exports write it; "" = blank. */
  from: string;
  to: string;
}

export interface PreviewRow<K extends KindName = KindName> {
  rowNumber: number;
  key?: string;
  fate: Fate;
  /** The whole row as it will stand; absent when refused. */
  value?: RowOf<K>;
  /** Fields that differ, for fate "changed". */
  changes: readonly FieldChange[];
  problems: readonly ExchangeProblem[];
}

export interface FateTotals {
  new: number;
  changed: number;
  same: number;
  refused: number;
  /** Rows that exist and are not in the file: kept as they are. */
  notInFile: number;
}

export interface Preview<K extends KindName = KindName> {
  kind: K;
  fileName: string;
  sheet?: string;
  rows: readonly PreviewRow<K>[];
  totals: FateTotals;
  questions: readonly Question[];
  notices: readonly string[];
}

/** Rows that stand now, by kind and key (see `keyOf`). A kind that is absent holds no rows. */
export type ExistingRows = { readonly [K in KindName]?: ReadonlyMap<string, RowOf<K>> };

export interface BundlePreview {
  /** One per file, in the order given. */
  files: readonly Preview[];
  totals: FateTotals;
  /** Refused rows block nothing else; a file that could not be read at all stands here. */
  problems: readonly ExchangeProblem[];
  /** Equal digests = the same rows with the same fates: recompute inside the transaction that applies, and compare. */
  digest: string;
}
