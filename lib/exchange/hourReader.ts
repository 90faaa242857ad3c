/** One weather row after another, in place: a plain path for almost every row, the common long way for the rest. */
import { readCell } from "./cells";
import { readInstant } from "./dates";
import { columnOf } from "./kinds";
import { columnContexts, finishRow, zoneQuestion } from "./parseRows";
import { type Place, problemAt } from "./problems";
import type { DecimalMark } from "./separator";
import type {
  Cell,
  ExchangeProblem,
  MatchedColumn,
  MatchedTable,
  Question,
  ReadOptions,
  TableRow,
} from "./types";
import { convertUnit } from "./units";

export const HOUR_MILLIS = 3_600_000;

export const WEATHER_FIELDS = ["windMs", "gustMs", "rainMmH", "tempC", "humidityPct", "thunder"] as const;
export type WeatherField = (typeof WEATHER_FIELDS)[number];

export interface WeatherOptions extends ReadOptions {
  /** Figures that stand for "not measured" in this file, e.g. -9900. */
  missingCodes?: readonly number[];
  /** Does the file name an hour by its end (01:00 = midnight to one)? */
  isStampedAtEnd?: boolean;
}

/** Reads one row after another into the same fields: nothing is made per row on the plain path. */
export class HourReader {
  placeCode = "";
  startsAtMillis = 0;
  /** 0 = the file has no members. */
  memberNo = 0;
  readonly values = new Float64Array(WEATHER_FIELDS.length);
  readonly questions: Question[] = [];
  readonly #hourColumns: readonly MatchedColumn[];
  readonly #placeColumn: MatchedColumn | undefined;
  readonly #memberColumn: MatchedColumn | undefined;
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
  /** The last place and member that was read without a problem, and the cell it came from. */
  #known:
    | { cell: Cell | undefined; member: Cell | undefined; placeCode: string; memberNo: number }
    | undefined;

  constructor(matched: MatchedTable<"weather">, options: WeatherOptions) {
    const named = (key: string) => matched.columns.find((c) => c.column.key === key);
    this.#hourColumns = matched.columns.filter((c) => !isField(c.column.key));
    this.#placeColumn = named("placeCode");
    this.#memberColumn = named("memberNo");
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
    if (this.#memberColumn && row.cells[this.#memberColumn.index] !== this.#known.member) return false;
    const millis = readInstant(time, this.#hourZone);
    if (typeof millis !== "number" || millis % HOUR_MILLIS !== 0) return false;
    this.placeCode = this.#known.placeCode;
    this.memberNo = this.#known.memberNo;
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
    this.memberNo = Number(values.memberNo ?? 0);
    this.startsAtMillis = Number(values.startsAtMillis) + this.#shiftMillis;
    if (problems.length > 0) {
      const zoneless = zoneQuestion(problems);
      if (zoneless && !this.questions.some((q) => q.option === "zone")) this.questions.push(zoneless);
      return problems;
    }
    if (this.startsAtMillis % HOUR_MILLIS !== 0) return [notAnHour(at)];
    const cell = this.#placeColumn ? row.cells[this.#placeColumn.index] : undefined;
    const member = this.#memberColumn ? row.cells[this.#memberColumn.index] : undefined;
    this.#known = { cell, member, placeCode: this.placeCode, memberNo: this.memberNo };
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
