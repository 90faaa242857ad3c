/**
 * Hourly weather in columns: a year of hours is 8,760 rows and a place has several years, so rows go straight into
 * typed arrays, and fates are counted per place instead of listed per row.
 */
import { readCell } from "./cells";
import { inChunks } from "./chunks";
import { readInstant } from "./dates";
import { NearMatches } from "./keys";
import { columnOf } from "./kinds";
import { columnContexts, finishRow, zoneQuestion } from "./parseRows";
import { type Place, problemAt } from "./problems";
import type { WeatherRow } from "./rows";
import type { DecimalMark } from "./separator";
import type {
  Cell,
  ExchangeProblem,
  MatchedColumn,
  MatchedTable,
  Question,
  ReadOptions,
  RunOptions,
  TableRow,
} from "./types";
import { convertUnit } from "./units";

export const HOUR_MILLIS = 3_600_000;
/** Problems listed in full; beyond that they are only counted. */
const MAX_LISTED = 500;

export const WEATHER_FIELDS = ["windMs", "gustMs", "rainMmH", "tempC", "humidityPct", "thunder"] as const;
export type WeatherField = (typeof WEATHER_FIELDS)[number];

/** The hours of one place in time order, each once. NaN = the file gives no value. thunder: 1, 0 or NaN. */
export interface WeatherBlock extends Record<WeatherField, Float32Array> {
  placeCode: string;
  /** Start of each hour, epoch milliseconds, ascending; gaps are allowed. */
  timeMillis: Float64Array;
}

export interface WeatherOptions extends ReadOptions {
  /** Figures that stand for "not measured" in this file, e.g. -9900. */
  missingCodes?: readonly number[];
  /** Does the file name an hour by its end (01:00 = midnight to one)? */
  isStampedAtEnd?: boolean;
}

export interface WeatherReading {
  fileName: string;
  sheet?: string;
  rowCount: number;
  refusedRows: number;
  blocks: readonly WeatherBlock[];
  /** The first 500. */
  problems: readonly ExchangeProblem[];
  questions: readonly Question[];
  notices: readonly string[];
}

/** Reads hours into one block per place. A place and hour that stands twice is refused in all its rows. */
export async function readWeather(
  matched: MatchedTable<"weather">,
  options: WeatherOptions = {},
  run: RunOptions = {},
): Promise<WeatherReading> {
  const { table } = matched;
  const place: Place = {
    fileName: table.fileName,
    ...(table.sheet === undefined ? {} : { sheet: table.sheet }),
  };
  const reader = new HourReader(matched, options);
  const hours = new Map<string, Hours>();
  const log = new ProblemLog();

  await inChunks(table.rows, "parse", run, (row) => {
    const problems = reader.read(row, place);
    if (problems.length > 0) {
      log.refuse(problems);
      return;
    }
    let ofPlace = hours.get(reader.placeCode);
    if (!ofPlace) {
      ofPlace = new Hours();
      hours.set(reader.placeCode, ofPlace);
    }
    ofPlace.add(reader.startsAtMillis, reader.values, row.rowNumber);
  });
  const blocks = [...hours].map(([placeCode, h]) => h.finish(placeCode, place, log));
  const notices = [...matched.notices];
  if (options.isStampedAtEnd)
    notices.push("Hours are named by their end in this file: each was moved back by one hour.");
  return {
    ...place,
    rowCount: table.rows.length,
    refusedRows: log.rows,
    blocks: blocks.filter((b) => b.timeMillis.length > 0),
    problems: log.listed,
    questions: reader.questions,
    notices,
  };
}

/** Reads one row after another into the same fields: nothing is made per row on the plain path. */
class HourReader {
  placeCode = "";
  startsAtMillis = 0;
  readonly values = new Float64Array(WEATHER_FIELDS.length);
  readonly questions: Question[] = [];
  readonly #hourColumns: readonly MatchedColumn[];
  readonly #placeColumn: MatchedColumn | undefined;
  readonly #timeColumn: MatchedColumn | undefined;
  readonly #fieldColumns: readonly (MatchedColumn | undefined)[];
  readonly #contexts: ReturnType<typeof columnContexts>;
  readonly #constants: Readonly<Record<string, unknown>>;
  readonly #constantFigures: readonly number[];
  readonly #missing: ReadonlySet<number>;
  readonly #shiftMillis: number;
  readonly #zone: string | undefined;
  /** Zone of hours in one column: also known from the header. */
  readonly #hourZone: string | undefined;
  readonly #headerLength: number;
  /** The last place that was read without a problem, and the cell it came from. */
  #known: { cell: Cell | undefined; placeCode: string } | undefined;

  constructor(matched: MatchedTable<"weather">, options: WeatherOptions) {
    const named = (key: string) => matched.columns.find((c) => c.column.key === key);
    this.#hourColumns = matched.columns.filter((c) => !isField(c.column.key));
    this.#placeColumn = named("placeCode");
    // Date and time of day in two columns always go the long way.
    this.#timeColumn = named("date") || named("time") ? undefined : named("startsAtMillis");
    this.#fieldColumns = WEATHER_FIELDS.map(named);
    this.#contexts = columnContexts(matched, options);
    this.#constants = matched.constants;
    this.#constantFigures = WEATHER_FIELDS.map((f) => Number(matched.constants[f] ?? Number.NaN));
    this.#missing = new Set(options.missingCodes ?? []);
    this.#shiftMillis = options.isStampedAtEnd ? -HOUR_MILLIS : 0;
    this.#zone = options.zone;
    this.#hourZone = this.#contexts.get("startsAtMillis")?.zone;
    this.#headerLength = matched.table.header.length;
  }

  /** Fills the fields from the row, or gives its problems. */
  read(row: TableRow, place: Place): readonly ExchangeProblem[] {
    const at = { ...place, row: row.rowNumber };
    const problems = this.#hour(row) ? [] : this.#explainedHour(row, at);
    for (let f = 0; f < WEATHER_FIELDS.length; f++) {
      const c = this.#fieldColumns[f];
      this.values[f] = c ? this.#figure(c, row, at, problems) : this.#constantFigures[f]!;
    }
    return problems;
  }

  /** The plain path of almost every row: a place as before or as text, an ISO hour. false = take the long way. */
  #hour(row: TableRow): boolean {
    if (!this.#timeColumn || row.cells.length > this.#headerLength) return false;
    const time = row.cells[this.#timeColumn.index];
    if (typeof time !== "string" || !this.#known) return false;
    if (this.#placeColumn && row.cells[this.#placeColumn.index] !== this.#known.cell) return false;
    const millis = readInstant(time, this.#hourZone);
    if (typeof millis !== "number" || millis % HOUR_MILLIS !== 0) return false;
    this.placeCode = this.#known.placeCode;
    this.startsAtMillis = millis + this.#shiftMillis;
    return true;
  }

  /** The long way: as any other kind is read. */
  #explainedHour(row: TableRow, at: Place & { row: number }): ExchangeProblem[] {
    const cells: Record<string, unknown> = { ...this.#constants };
    const found: ExchangeProblem[] = [];
    for (const c of this.#hourColumns) cells[c.column.key] = this.#cell(c, row, at, found);
    const { values, problems } = finishRow(
      "weather",
      this.#hourColumns,
      this.#headerLength,
      at,
      row,
      cells,
      found,
      this.#zone,
    );
    this.placeCode = String(values.placeCode);
    this.startsAtMillis = Number(values.startsAtMillis) + this.#shiftMillis;
    if (problems.length > 0) {
      const zoneless = zoneQuestion(problems);
      if (zoneless && !this.questions.some((q) => q.option === "zone")) this.questions.push(zoneless);
      return problems;
    }
    if (this.startsAtMillis % HOUR_MILLIS !== 0) return [notAnHour(at)];
    const cell = this.#placeColumn ? row.cells[this.#placeColumn.index] : undefined;
    this.#known = { cell, placeCode: this.placeCode };
    return problems;
  }

  /** Plain numbers within the limits are taken as they are; anything else goes the long way, which explains itself. */
  #figure(c: MatchedColumn, row: TableRow, at: Place, problems: ExchangeProblem[]): number {
    const cell = row.cells[c.index] ?? null;
    if (cell === null) return Number.NaN;
    const plain = plainFigure(cell, this.#contexts.get(c.column.key)!.style.decimal);
    if (plain !== undefined && this.#missing.has(plain)) return Number.NaN;
    if (c.column.type === "boolean") {
      if (cell === "no" || plain === 0) return 0;
      if (cell === "yes" || plain === 1) return 1;
    } else if (plain !== undefined) {
      const value = c.conversion ? convertUnit(plain, c.conversion.from, c.conversion.to) : plain;
      const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = c.column;
      if (value >= min && value <= max) return value;
    }
    const value = this.#cell(c, row, at, problems);
    return value === undefined ? Number.NaN : Number(value);
  }

  #cell(c: MatchedColumn, row: TableRow, at: Place, problems: ExchangeProblem[]): unknown {
    const reading = readCell(c.column, row.cells[c.index] ?? null, {
      ...this.#contexts.get(c.column.key)!,
      currencyDigits: 2,
    });
    if (reading.ok) return reading.value;
    problems.push(problemAt({ ...at, column: c.header }, reading.fault));
    const { question } = reading;
    if (question && !this.questions.some((q) => q.option === question.option && q.column === c.header)) {
      this.questions.push({
        ...question,
        column: c.header,
        row: at.row ?? 0,
        value: String(reading.fault.value),
      });
    }
    return undefined;
  }
}

/** A number as programs write it, under the column's decimal mark; undefined for anything that needs thought. */
function plainFigure(cell: Cell, decimal: DecimalMark | undefined): number | undefined {
  if (typeof cell === "number") return cell;
  if (typeof cell !== "string" || decimal === undefined) return undefined;
  if (decimal === "point") return PLAIN_POINT.test(cell) ? Number(cell) : undefined;
  return PLAIN_COMMA.test(cell) ? Number(cell.replace(",", ".")) : undefined;
}

const PLAIN_POINT = /^-?\d+(\.\d+)?$/;
const PLAIN_COMMA = /^-?\d+(,\d+)?$/;
const isField = (key: string) => (WEATHER_FIELDS as readonly string[]).includes(key);

function notAnHour(at: Place): ExchangeProblem {
  return problemAt(
    { ...at, column: columnOf("weather", "startsAtMillis").label },
    {
      rule: "not-a-full-hour",
      message: "The time is not at a full hour (UTC).",
      remedy: "Give hourly values that start at full hours; half-hour zones need times in UTC.",
    },
  );
}

/** Counts all refused rows and keeps the first problems. */
class ProblemLog {
  rows = 0;
  readonly listed: ExchangeProblem[] = [];

  refuse(problems: readonly ExchangeProblem[]): void {
    this.rows++;
    for (const p of problems) if (this.listed.length < MAX_LISTED) this.listed.push(p);
  }
}

/** The hours of one place as they come; grows by doubling. */
class Hours {
  #count = 0;
  #time = new Float64Array(1024);
  #row = new Uint32Array(1024);
  #fields = WEATHER_FIELDS.map(() => new Float32Array(1024));

  add(startsAtMillis: number, values: Float64Array, rowNumber: number): void {
    if (this.#count === this.#time.length) this.#grow();
    const i = this.#count++;
    this.#time[i] = startsAtMillis;
    this.#row[i] = rowNumber;
    for (let f = 0; f < values.length; f++) this.#fields[f]![i] = values[f]!;
  }

  #grow(): void {
    const size = this.#time.length * 2;
    const time = new Float64Array(size);
    time.set(this.#time);
    this.#time = time;
    const row = new Uint32Array(size);
    row.set(this.#row);
    this.#row = row;
    this.#fields = this.#fields.map((old) => {
      const field = new Float32Array(size);
      field.set(old);
      return field;
    });
  }

  /** In time order, without the hours that stand more than once. */
  finish(placeCode: string, place: Place, log: ProblemLog): WeatherBlock {
    const order = Array.from({ length: this.#count }, (_, i) => i);
    const time = this.#time;
    order.sort((a, b) => time[a]! - time[b]! || a - b);
    const kept: number[] = [];
    for (let i = 0; i < order.length; ) {
      let j = i + 1;
      while (j < order.length && time[order[j]!] === time[order[i]!]) j++;
      if (j === i + 1) kept.push(order[i]!);
      else this.#refuseTwice(order.slice(i, j), placeCode, place, log);
      i = j;
    }
    const [windMs, gustMs, rainMmH, tempC, humidityPct, thunder] = this.#fields.map((field) =>
      Float32Array.from(kept, (k) => field[k]!),
    );
    return {
      placeCode,
      timeMillis: Float64Array.from(kept, (k) => time[k]!),
      windMs: windMs!,
      gustMs: gustMs!,
      rainMmH: rainMmH!,
      tempC: tempC!,
      humidityPct: humidityPct!,
      thunder: thunder!,
    };
  }

  #refuseTwice(indices: readonly number[], placeCode: string, place: Place, log: ProblemLog): void {
    for (const i of indices) {
      const hour = `${new Date(this.#time[i]!).toISOString().slice(0, 16)}Z`;
      const others = indices.filter((k) => k !== i).map((k) => this.#row[k]!);
      log.refuse([
        problemAt(
          { ...place, row: this.#row[i]!, column: "Weather place + Hour starts (UTC)" },
          {
            rule: "duplicate-key",
            value: `${placeCode} ${hour}`,
            message: `${placeCode} has the hour ${hour} also in row ${others.slice(0, 5).join(", ")}.`,
            remedy:
              "Keep one of the rows. When a clock change repeats an hour, give the times in UTC or with their offset.",
          },
        ),
      ]);
    }
  }
}

/** Refuses blocks of places that nobody knows, each with the nearest known code. */
export function unknownPlaces(reading: WeatherReading, knownCodes: Iterable<string>): ExchangeProblem[] {
  const known = new Set(knownCodes);
  const near = new NearMatches(known);
  return reading.blocks.flatMap(({ placeCode, timeMillis }) => {
    if (known.has(placeCode)) return [];
    const other = near.of(placeCode);
    return [
      problemAt(
        { fileName: reading.fileName, column: columnOf("weather", "placeCode").label },
        {
          rule: "reference-unknown",
          value: placeCode,
          message: `Weather place "${placeCode}" (${timeMillis.length} hours) is not known.`,
          remedy: other
            ? `Did you mean "${other}"? Otherwise import the weather places first, or in the same import.`
            : "Import the weather places first, or in the same import.",
        },
      ),
    ];
  });
}

/** The rows of a block, for export. */
export function rowsOfBlock(block: WeatherBlock): WeatherRow[] {
  return Array.from(block.timeMillis, (startsAtMillis, i) => {
    const row: WeatherRow = { placeCode: block.placeCode, startsAtMillis };
    for (const field of WEATHER_FIELDS) {
      const value = block[field][i]!;
      if (Number.isNaN(value)) continue;
      if (field === "thunder") row.thunder = value !== 0;
      else row[field] = shortestFloat32(value);
    }
    return row;
  });
}

/** The shortest decimal that is the same 32-bit float: 5.2, not 5.199999809265137. */
export function shortestFloat32(value: number): number {
  for (let digits = 6; digits < 9; digits++) {
    const short = Number(value.toPrecision(digits));
    if (Math.fround(short) === value) return short;
  }
  return Number(value.toPrecision(9));
}
