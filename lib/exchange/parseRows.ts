/** A matched table -> typed fields per row, or the problems of that row. */
import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import type { CellContext } from "./cellReading";
import { readCell } from "./cells";
import { ZONE_QUESTION } from "./cellTimes";
import { inChunks } from "./chunks";
import { currencyDigits } from "./currency";
import { provedOrder } from "./dates";
import { keyFrom } from "./keys";
import { columnOf, keyLabel, kindOf } from "./kinds";
import { type Place, problemAt } from "./problems";
import { isBlank } from "./readTable";
import type { KindName } from "./rows";
import { columnStyle, provedMark, usualMark } from "./separator";
import type {
  Cell,
  Column,
  ExchangeProblem,
  MatchedColumn,
  MatchedTable,
  ParsedFile,
  ParsedRow,
  Question,
  ReadOptions,
  RowFault,
  RunOptions,
  TableRow,
} from "./types";

/** A template's example rows name things that begin with this; they are left out on import. */
export const EXAMPLE_MARK = "EXAMPLE";

/**
 * Reads every row. A row is refused for a cell that cannot be read or breaks a limit, for more cells than the header
 * has, and for a key that another row of the file has too (both rows are refused, each names the other).
 */
export async function parseRows<K extends KindName>(
  matched: MatchedTable<K>,
  options: ReadOptions = {},
  run: RunOptions = {},
): Promise<ParsedFile<K>> {
  const { table } = matched;
  const place: Place = { fileName: table.fileName, sheet: table.sheet };
  const contexts = columnContexts(matched, options);
  // The currency decides how a price is read, so it comes first.
  const columns = [...matched.columns].sort(
    (a, b) => Number(b.column.key === "currency") - Number(a.column.key === "currency"),
  );
  const rows: ParsedRow[] = [];
  const questions = new Map<string, Question>();
  let examples = 0;

  await inChunks(table.rows, "parse", run, (row) => {
    if (!options.readsExamples && isExample(matched, row)) {
      examples++;
      return;
    }
    rows.push(parseRow(row));
  });
  refuseDuplicates(matched.kind, place, rows);
  const notices = [...matched.notices];
  if (examples > 0) {
    notices.push(`${examples} example row${examples === 1 ? "" : "s"} of the template left out.`);
  }
  return {
    kind: matched.kind,
    ...place,
    columns: matched.columns.map((c) => c.column.label),
    rows,
    questions: [...questions.values()],
    notices,
  };

  function parseRow(row: TableRow): ParsedRow {
    const cells: Record<string, unknown> = { ...matched.constants };
    const problems: ExchangeProblem[] = [];
    const at = { ...place, row: row.rowNumber };
    let digits = currencyDigits(matched.constants.currency);
    for (const c of columns) {
      const { key } = c.column;
      const reading = readCell(c.column, row.cells[c.index] ?? null, {
        ...contexts.get(key)!,
        currencyDigits: digits,
      });
      if (!reading.ok) {
        problems.push(problemAt({ ...at, column: c.header }, reading.fault));
        const { question } = reading;
        if (question && !questions.has(`${question.option} ${c.header}`)) {
          questions.set(`${question.option} ${c.header}`, {
            ...question,
            column: c.header,
            row: row.rowNumber,
            value: String(reading.fault.value),
          });
        }
        continue;
      }
      cells[key] = reading.value ?? c.column.default;
      if (key === "currency") digits = currencyDigits(cells.currency);
    }
    const finished = finishRow(
      matched.kind,
      matched.columns,
      table.header.length,
      at,
      row,
      cells,
      problems,
      options.zone,
    );
    const zoneless = zoneQuestion(finished.problems);
    if (zoneless && ![...questions.values()].some((q) => q.option === "zone"))
      questions.set("zone", zoneless);
    return finished;
  }
}

/** The question that a row raises whose hour comes from two columns without a zone. */
export function zoneQuestion(problems: readonly ExchangeProblem[]): Question | undefined {
  const problem = problems.find((p) => p.rule === "hour-without-zone");
  if (!problem) return undefined;
  return {
    ...ZONE_QUESTION,
    column: problem.column ?? "",
    row: problem.row ?? 0,
    value: String(problem.value),
  };
}

/** Folds virtual columns, asks for required ones, and names the row. */
export function finishRow(
  name: KindName,
  columns: readonly MatchedColumn[],
  headerLength: number,
  at: Place & { row: number },
  row: TableRow,
  cells: Record<string, unknown>,
  problems: ExchangeProblem[],
  zone?: string,
): ParsedRow & { problems: ExchangeProblem[] } {
  problems.push(...surplusCells(at, row, headerLength));
  const kind = kindOf(name);
  const folded = kind.fold?.(cells, zone === undefined ? {} : { zone }) ?? { values: cells, faults: [] };
  const failed = new Set(problems.map((p) => p.column));
  problems.push(...folded.faults.map((f) => faultAt(name, at, f)));
  for (const { column, header } of columns) {
    const isMissing =
      column.required && column.key in folded.values && folded.values[column.key] === undefined;
    if (!isMissing || failed.has(header)) continue;
    problems.push(blankProblem(at, column, header));
  }
  const hasKey = kind.key.every((k) => {
    const column = columnOf(name, k);
    if (folded.values[k] !== undefined) return true;
    return !column.required && !columns.some((c) => c.column.key === k && failed.has(c.header));
  });
  const values = folded.values;
  if (!hasKey && problems.length === 0) {
    // The key comes from virtual columns (date and time of an hour), and one of them is blank.
    const missing = kind.key.find((k) => columnOf(name, k).required && values[k] === undefined)!;
    problems.push(blankProblem(at, columnOf(name, missing), columnOf(name, missing).label));
  }
  for (const k of kind.key) if (values[k] === undefined) values[k] = columnOf(name, k).default;
  const key = hasKey ? keyFrom(kind.key, values) : undefined;
  return { rowNumber: at.row, ...(key === undefined ? {} : { key }), values, problems };
}

function blankProblem(at: Place, column: Column, header: string): ExchangeProblem {
  return problemAt(
    { ...at, column: header },
    {
      rule: "required",
      ...sentences(
        phrase("{{label}} is blank.", { label: phrase(column.label) }),
        phrase("Fill it in, e.g. {{example}}", {
          example: column.example || phrase(column.description),
        }),
      ),
    },
  );
}

export function faultAt(kind: KindName, at: Place, fault: RowFault): ExchangeProblem {
  const { key, ...rest } = fault;
  const column = kindOf(kind).columns.find((c) => c.key === key)?.label ?? key;
  return problemAt({ ...at, column }, rest);
}

/** What the whole column, and the whole file, say about how a cell of it is to be read. */
export function columnContexts(
  matched: MatchedTable,
  options: ReadOptions,
): Map<string, Omit<CellContext, "currencyDigits">> {
  const { rows, separator } = matched.table;
  const numeric = matched.columns.filter((c) => ["number", "integer", "money"].includes(c.column.type));
  const marks = numeric.map((c) => provedMark(cellsOf(rows, c.index)));
  const proved = new Set(marks.filter((m) => m !== undefined));
  const fileMark = proved.size === 1 && !proved.has("both") ? [...proved][0] : undefined;
  const usual = usualMark(separator);
  return new Map(
    matched.columns.map((c) => {
      const isNumeric = numeric.includes(c);
      const style = isNumeric
        ? columnStyle(
            cellsOf(rows, c.index),
            usual,
            fileMark === "both" ? undefined : fileMark,
            options.decimalMark,
          )
        : { decimal: usual, isSure: false };
      const order = c.column.type === "date" ? provedOrder(cellsOf(rows, c.index)) : undefined;
      return [
        c.column.key,
        {
          style,
          dateOrder: options.dateOrder ?? order,
          ...zoneOf(c, options),
          ...(c.conversion ? { conversion: c.conversion } : {}),
        },
      ];
    }),
  );
}

/** The person's answer, else UTC when the header says so. */
function zoneOf(c: MatchedColumn, options: ReadOptions): { zone?: string } {
  const zone = options.zone ?? (/\b(utc|gmt|z)\b/i.test(c.header) ? "UTC" : undefined);
  return zone === undefined ? {} : { zone };
}

function* cellsOf(rows: readonly TableRow[], index: number): Iterable<Cell> {
  for (const row of rows) yield row.cells[index] ?? null;
}

function isExample(matched: MatchedTable, row: TableRow): boolean {
  const first = kindOf(matched.kind).key[0];
  const index = matched.columns.find((c) => c.column.key === first)?.index;
  const cell = index === undefined ? null : row.cells[index];
  return typeof cell === "string" && cell.startsWith(EXAMPLE_MARK);
}

/** More cells than the header: an unquoted separator has shifted the row, so no cell of it can be trusted. */
function surplusCells(at: Place, row: TableRow, headerLength: number): ExchangeProblem[] {
  const filled = row.cells.slice(headerLength).filter((c) => !isBlank(c));
  if (filled.length === 0) return [];
  return [
    problemAt(at, {
      rule: "more-cells-than-header",
      value: filled[0],
      ...sentences(
        phrase("The row has {{cells}} cells and the header {{columns}}.", {
          cells: String(row.cells.length),
          columns: String(headerLength),
        }),
        phrase(
          "Put text and numbers that contain the separator (such as a decimal comma) in quotes, or give the column a header.",
        ),
      ),
    }),
  ];
}

function refuseDuplicates(kind: KindName, place: Place, rows: ParsedRow[]): void {
  const byKey = new Map<string, number[]>();
  rows.forEach((row, i) => {
    if (row.key === undefined) return;
    const list = byKey.get(row.key);
    if (list) list.push(i);
    else byKey.set(row.key, [i]);
  });
  for (const [key, list] of byKey) {
    if (list.length < 2) continue;
    for (const i of list) {
      const others = list.filter((j) => j !== i).map((j) => rows[j]!.rowNumber);
      const row = rows[i]!;
      rows[i] = {
        ...row,
        problems: [
          ...row.problems,
          duplicateProblem(
            kind,
            { ...place, row: row.rowNumber },
            key,
            `row ${others.slice(0, 5).join(", ")}`,
          ),
        ],
      };
    }
  }
}

export function duplicateProblem(kind: KindName, at: Place, key: string, where: string): ExchangeProblem {
  return problemAt(
    { ...at, column: keyLabel(kind) },
    {
      rule: "duplicate-key",
      value: key,
      ...sentences(
        phrase('{{label}} "{{code}}" stands also in {{where}}.', { label: keyLabel(kind), code: key, where }),
        phrase("Keep one of the rows, or correct the code."),
      ),
    },
  );
}
