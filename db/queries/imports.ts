/** Imports: their files, what the person answered, and the preview. The rows themselves go in by storeRows.ts. */
import { and, desc, eq, max, sql } from "drizzle-orm";
import type {
  Encoding,
  ExchangeProblem,
  Fate,
  FateTotals,
  FieldChange,
  KindName,
  Matching,
  Question,
  Separator,
  TableChoices,
  WeatherPreview,
} from "@/lib/exchange";
import type { Phrase } from "@/lib/phrase";
import type { Problem } from "@/lib/result";
import type { Db } from "../open";
import { importFile, importRun } from "../schema";
import type { StoredCounts } from "./storeRows";

export type ImportState = (typeof importRun.$inferSelect)["state"];

/** What a weather file does not say about itself. */
export interface WeatherAnswers {
  kind: "history" | "forecast";
  source: string;
  isMadeUp: boolean;
  /** Forecasts only: when it was issued, epoch milliseconds. */
  issuedAtMillis?: number;
  withoutThunder: "unknown" | "none";
  /** Plausibility rules that a person answered with "yes, it is so". */
  confirmed: string[];
}

/** A person's word on one table of a file. */
export type TableAnswers = TableChoices & { weather?: WeatherAnswers };

/** By sheet; "" for the one table of a text file. */
export type FileAnswers = Record<string, TableAnswers>;

/** One table of one file, without its rows. */
export interface TableHead {
  /** Position of its file in the import, from 1. */
  seq: number;
  fileName: string;
  sheet?: string;
  kind: KindName;
  header: string[];
  matching: Matching;
  rowCount: number;
  encoding?: Encoding;
  separator?: Separator;
  /** Absent when the table could not be read row by row, e.g. because a key column is missing. */
  totals?: FateTotals;
  questions: readonly Question[];
  notices: readonly string[];
  /** What may be a slip in the rows: a person should look before they are stored. */
  doubts?: readonly Phrase[];
  weather?: WeatherHead;
}

export interface WeatherHead {
  answers: WeatherAnswers;
  places: readonly WeatherPreview[];
  refusedRows: number;
  /** What keeps a series from being stored, e.g. values that look like another unit. */
  problems: readonly Problem[];
}

export interface ImportSummary {
  /** The job at work, or the last one. */
  jobId?: string;
  digest?: string;
  totals?: FateTotals;
  tables?: TableHead[];
  /** Files that could not be read, weather hours of unknown places. */
  problems?: ExchangeProblem[];
  skippedSheets?: readonly { fileName: string; sheet: string }[];
  /** The first problems of refused rows; all of them are in the lines of the files. */
  refused?: ExchangeProblem[];
  /** Set when the import was applied. */
  stored?: { counts: StoredCounts; weatherSeries: number; at: number; by: string };
}

/** One row of a file in the preview, as it is kept and sent to the browser. */
export interface PreviewLine {
  row: number;
  key?: string;
  fate: Fate;
  changes?: readonly FieldChange[];
  problems?: readonly ExchangeProblem[];
}

/** Lines of a file's tables, by sheet; "" for the one table of a text file. */
export type FileLines = Record<string, PreviewLine[]>;

export interface ImportHead {
  id: string;
  state: ImportState;
  createdBy: string;
  createdAt: number;
  summary: ImportSummary;
}

export interface ImportFileHead {
  seq: number;
  fileName: string;
  sizeBytes: number;
  answers: FileAnswers;
}

const summaryOf = (stored: unknown) => (stored ?? {}) as ImportSummary;

export function createImport(db: Db, run: { id: string; createdBy: string; createdAt: number }): void {
  db.insert(importRun)
    .values({ ...run, state: "read" })
    .run();
}

export function importById(db: Db, id: string): ImportHead | undefined {
  const row = db.select().from(importRun).where(eq(importRun.id, id)).get();
  return row && { ...row, summary: summaryOf(row.summary) };
}

/** Newest first. */
export function recentImports(db: Db, limit: number): (ImportHead & { fileNames: string[] })[] {
  const rows = db.select().from(importRun).orderBy(desc(importRun.createdAt)).limit(limit).all();
  return rows.map((row) => ({
    ...row,
    summary: summaryOf(row.summary),
    fileNames: importFiles(db, row.id).map((f) => f.fileName),
  }));
}

/** Adds a file and gives its number. A name that is there already gets a count, so that problems name one file. */
export function addImportFile(db: Db, importId: string, fileName: string, bytes: Uint8Array): number {
  const taken = new Set(importFiles(db, importId).map((f) => f.fileName));
  const last = db
    .select({ seq: max(importFile.seq) })
    .from(importFile)
    .where(eq(importFile.importId, importId))
    .get();
  const seq = (last?.seq ?? 0) + 1;
  db.insert(importFile)
    .values({ importId, seq, fileName: nameBeside(taken, fileName), bytes: Buffer.from(bytes) })
    .run();
  return seq;
}

function nameBeside(taken: ReadonlySet<string>, fileName: string): string {
  const dot = fileName.lastIndexOf(".");
  const [stem, ending] = dot > 0 ? [fileName.slice(0, dot), fileName.slice(dot)] : [fileName, ""];
  let name = fileName;
  for (let n = 2; taken.has(name); n++) name = `${stem} (${n})${ending}`;
  return name;
}

/** Files of an import without their bytes. */
export function importFiles(db: Db, importId: string): ImportFileHead[] {
  return db
    .select({
      seq: importFile.seq,
      fileName: importFile.fileName,
      sizeBytes: sql<number>`length(${importFile.bytes})`,
      answers: importFile.matching,
    })
    .from(importFile)
    .where(eq(importFile.importId, importId))
    .orderBy(importFile.seq)
    .all()
    .map((f) => ({ ...f, answers: (f.answers ?? {}) as FileAnswers }));
}

const theFile = (importId: string, seq: number) =>
  and(eq(importFile.importId, importId), eq(importFile.seq, seq));

export function importFileBytes(db: Db, importId: string, seq: number): Uint8Array | undefined {
  return db.select({ bytes: importFile.bytes }).from(importFile).where(theFile(importId, seq)).get()?.bytes;
}

export function removeImportFile(db: Db, importId: string, seq: number): void {
  db.delete(importFile).where(theFile(importId, seq)).run();
}

export function saveFileAnswers(db: Db, importId: string, seq: number, answers: FileAnswers): void {
  db.update(importFile).set({ matching: answers }).where(theFile(importId, seq)).run();
}

export function fileLines(db: Db, importId: string, seq: number): FileLines | undefined {
  const row = db.select({ preview: importFile.preview }).from(importFile).where(theFile(importId, seq)).get();
  return (row?.preview ?? undefined) as FileLines | undefined;
}

/** Keeps what a preview found; the import waits for the person's yes. */
export function savePreview(
  db: Db,
  importId: string,
  summary: ImportSummary,
  lines: ReadonlyMap<number, FileLines>,
): void {
  for (const [seq, preview] of lines)
    db.update(importFile).set({ preview }).where(theFile(importId, seq)).run();
  setImportState(db, importId, "previewed", summary);
}

export function setImportState(db: Db, importId: string, state: ImportState, summary?: ImportSummary): void {
  db.update(importRun)
    .set({ state, ...(summary && { summary }) })
    .where(eq(importRun.id, importId))
    .run();
}

/** Notes which job is at work for the import, so that the page can watch it. */
export function setImportJob(db: Db, importId: string, jobId: string): void {
  const head = importById(db, importId);
  if (head) setImportState(db, importId, head.state, { ...head.summary, jobId });
}

/** Whether no file of it holds a table about which anybody could answer anything: empty, a header alone, no table at all. */
export function isUnreadable({ tables = [], problems = [], skippedSheets = [] }: ImportSummary): boolean {
  return (
    problems.length > 0 &&
    tables.length === 0 &&
    skippedSheets.length === 0 &&
    problems.every((p) => p.rule !== "kind-unknown")
  );
}

/** Nothing of the files is kept but their names. */
export function discardImport(db: Db, importId: string): void {
  setImportState(db, importId, "discarded");
  db.update(importFile)
    .set({ bytes: Buffer.alloc(0), preview: null })
    .where(eq(importFile.importId, importId))
    .run();
}
