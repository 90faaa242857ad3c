/**
 * From files to a preview. The main path of an import: read each file, know its kind, match its columns, read its rows,
 * then preview everything together. Storing is the caller's: `rowsToStore` of the preview, all or nothing.
 */

import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { previewBundle } from "./bundle";
import { guessKind, kindNamed, nearestKind } from "./guess";
import type { WeatherOptions } from "./hourReader";
import { kindOf } from "./kinds";
import { applyMatching, matchColumns, overrideMatching } from "./match";
import { parseRows } from "./parseRows";
import { problemAt } from "./problems";
import { type FileSource, readTable, readTables, type SheetReading } from "./readTable";
import type { KindName } from "./rows";
import type {
  BundlePreview,
  Encoding,
  ExchangeProblem,
  ExistingRows,
  MatchChoice,
  MatchedTable,
  Matching,
  ParsedFile,
  RunOptions,
  Separator,
  Table,
} from "./types";
import { readWeather, unknownPlaces, type WeatherReading } from "./weather";

/** A person's word on one table. */
export interface TableChoices {
  /** Found from the names and the header when absent. */
  kind?: KindName;
  /** The table is not brought in at all. */
  isLeftOut?: boolean;
  /** A person's changes to the proposed matching. */
  choices?: readonly MatchChoice[];
  /** Values for all rows in place of a column. */
  constants?: Readonly<Record<string, string>>;
  options?: WeatherOptions;
}

export interface FileToImport extends TableChoices {
  fileName: string;
  source: FileSource;
  /** One sheet of a workbook; without it all sheets are read whose kind is known. */
  sheet?: string;
  headerRow?: number;
  /** Choices for single sheets when all are read, by sheet name; each takes the place of the file's own. */
  sheets?: Readonly<Record<string, TableChoices>>;
}

export interface FilesPreview {
  /** All tables but weather. `problems` names the files that could not be read. */
  bundle: BundlePreview;
  /** Blocks of known places only. */
  weather: readonly WeatherReading[];
  /** How each table was matched, to be shown and changed. */
  matchings: readonly MatchedHeader[];
  /** Sheets of workbooks that hold nothing known, such as notes. */
  skippedSheets: readonly { fileName: string; sheet: string }[];
}

export interface MatchedHeader {
  fileName: string;
  sheet?: string;
  header: readonly string[];
  matching: Matching;
  /** Rows below the header. */
  rowCount: number;
  /** Text files only: as found. */
  encoding?: Encoding;
  separator?: Separator;
}

/** Reads all files and previews them together. A file that cannot be read is a problem of its own and stops no other. */
export async function previewFiles(
  files: readonly FileToImport[],
  existing: ExistingRows,
  run: RunOptions = {},
): Promise<FilesPreview> {
  const problems: ExchangeProblem[] = [];
  const matchings: MatchedHeader[] = [];
  const skippedSheets: { fileName: string; sheet: string }[] = [];
  const parsed: ParsedFile[] = [];
  const readings: WeatherReading[] = [];

  for (const [i, file] of files.entries()) {
    run.signal?.throwIfAborted();
    await run.onProgress?.({ stage: "read", done: i, total: files.length });
    const { tables, skipped, problems: unread } = await tablesOf(file);
    problems.push(...unread);
    skippedSheets.push(...skipped.map((sheet) => ({ fileName: file.fileName, sheet })));
    for (const { table, kind } of tables) {
      const choices = choicesOf(file, table.sheet);
      const matching = matchingOf(table, kind, choices);
      const { fileName, sheet, header, rows, encoding, separator } = table;
      matchings.push({
        fileName,
        ...(sheet === undefined ? {} : { sheet }),
        header,
        matching,
        rowCount: rows.length,
        ...(encoding && { encoding }),
        ...(separator && { separator }),
      });
      const matched = applyMatching(table, kind, matching);
      if (!matched.ok) problems.push(...matched.problems);
      else if (kind === "weather") {
        readings.push(await readWeather(matched.value as MatchedTable<"weather">, choices.options, run));
      } else parsed.push(await parseRows(matched.value, choices.options, run));
    }
  }
  const bundle = await previewBundle(parsed, existing, run);
  const places = new Set(existing["weather places"]?.keys());
  for (const preview of bundle.files.filter((f) => f.kind === "weather places")) {
    for (const row of preview.rows) if (row.value && row.key !== undefined) places.add(row.key);
  }
  const weather = readings.map((reading) => {
    problems.push(...unknownPlaces(reading, places));
    return { ...reading, blocks: reading.blocks.filter((b) => places.has(b.placeCode)) };
  });
  return { bundle: { ...bundle, problems }, weather, matchings, skippedSheets };
}

interface FileTables {
  tables: { table: Table; kind: KindName }[];
  skipped: string[];
  problems: readonly ExchangeProblem[];
}

/**
 * The tables of a file with their kinds. In a workbook of several sheets those of no known kind are skipped, and so is
 * a sheet of a known kind that has nothing below its header.
 */
async function tablesOf(file: FileToImport): Promise<FileTables> {
  const named = (sheet: string | undefined) => choicesOf(file, sheet).kind;
  if (file.sheet !== undefined) {
    const table = await readTable(file.fileName, file.source, file);
    return fileTables([{ sheet: file.sheet, table }], named);
  }
  const readings = await readTables(file.fileName, file.source, file.headerRow);
  if (!readings.ok) return { tables: [], skipped: [], problems: readings.problems };
  if (file.kind === undefined || readings.value.length === 1) {
    const all = readings.value.filter((r) => !choicesOf(file, r.sheet).isLeftOut);
    return all.length > 0 ? fileTables(all, named) : { tables: [], skipped: [], problems: [] };
  }
  // One kind was named: the sheet that bears its title is meant, else the first.
  const titled = readings.value.find((r) => r.sheet !== undefined && kindNamed(r.sheet) === file.kind);
  return fileTables([titled ?? readings.value[0]!], named);
}

function choicesOf(file: FileToImport, sheet: string | undefined): TableChoices {
  return (sheet === undefined ? undefined : file.sheets?.[sheet]) ?? file;
}

function fileTables(
  readings: readonly SheetReading[],
  named: (sheet: string | undefined) => KindName | undefined,
): FileTables {
  const found: FileTables = { tables: [], skipped: [], problems: [] };
  const problems: ExchangeProblem[] = [];
  const empty: ExchangeProblem[] = [];
  for (const { sheet, table } of readings) {
    if (table.ok) {
      const kind = named(sheet) ?? guessKind(table.value);
      if (kind) found.tables.push({ table: table.value, kind });
      else if (sheet !== undefined && readings.length > 1) found.skipped.push(sheet);
      else problems.push(kindUnknown(table.value));
    } else if (isEmptyTable(table.problems)) empty.push(...table.problems);
    else if (sheet !== undefined && readings.length > 1 && !kindNamed(sheet)) found.skipped.push(sheet);
    else problems.push(...table.problems);
  }
  const isNothing = found.tables.length === 0 && problems.length === 0;
  return { ...found, problems: isNothing ? empty.slice(0, 1) : problems };
}

function isEmptyTable(problems: readonly ExchangeProblem[]): boolean {
  return problems.every((p) => p.rule === "file-empty" || p.rule === "file-header-only");
}

function matchingOf(table: Table, kind: KindName, file: TableChoices): Matching {
  const proposed = matchColumns(table.header, kind);
  const chosen = file.choices ? overrideMatching(proposed, table.header, file.choices) : proposed;
  return file.constants ? { ...chosen, constants: file.constants } : chosen;
}

function kindUnknown(table: Table): ExchangeProblem {
  const near = nearestKind(table.header);
  const message =
    near === undefined
      ? phrase("It is not clear what this table holds: it has no column of any kind that can be brought in.")
      : near.missing.length === 0
        ? phrase("It is not clear what this table holds: it may be {{title}}, or another kind.", {
            title: phrase(kindOf(near.kind).title),
          })
        : phrase(
            "It is not clear what this table holds. It comes nearest to {{title}}, and lacks {{missing}}.",
            {
              title: phrase(kindOf(near.kind).title),
              missing: near.missing.join(", "),
            },
          );
  return problemAt(
    { fileName: table.fileName, ...(table.sheet === undefined ? {} : { sheet: table.sheet }) },
    {
      rule: "kind-unknown",
      value: table.header.join(", "),
      ...sentences(message, phrase("Choose what to import it as, or use the header of a template.")),
    },
  );
}
