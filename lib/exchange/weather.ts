/**
 * Hourly weather in columns: a year of hours is 8,760 rows and a place has several years, so rows go straight into
 * typed arrays, and fates are counted per place instead of listed per row.
 */
import { inChunks } from "./chunks";
import { HourReader, WEATHER_FIELDS, type WeatherField, type WeatherOptions } from "./hourReader";
import { NearMatches } from "./keys";
import { columnOf } from "./kinds";
import { type Place, problemAt } from "./problems";
import type { WeatherRow } from "./rows";
import type { ExchangeProblem, MatchedTable, Question, RunOptions } from "./types";

/** Problems listed in full; beyond that they are only counted. */
const MAX_LISTED = 500;

/** The hours of one place in time order, each once. NaN = the file gives no value. thunder: 1, 0 or NaN. */
export interface WeatherBlock extends Record<WeatherField, Float32Array> {
  placeCode: string;
  /** Of an ensemble forecast: which of its members. */
  memberNo?: number;
  /** Start of each hour, epoch milliseconds, ascending; gaps are allowed. */
  timeMillis: Float64Array;
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

/** Reads hours into one block per place (and member). A place and hour that stands twice is refused in all its rows. */
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
  const hours = new Map<string, Map<number, Hours>>();
  const log = new ProblemLog();

  await inChunks(table.rows, "parse", run, (row) => {
    const problems = reader.read(row, place);
    if (problems.length > 0) {
      log.refuse(problems);
      return;
    }
    const { placeCode, memberNo } = reader;
    const members = hours.get(placeCode) ?? new Map<number, Hours>();
    hours.set(placeCode, members);
    let ofMember = members.get(memberNo);
    if (!ofMember) {
      ofMember = new Hours();
      members.set(memberNo, ofMember);
    }
    ofMember.add(reader.startsAtMillis, reader.values, row.rowNumber);
  });
  const blocks = [...hours].flatMap(([placeCode, members]) =>
    [...members].map(([memberNo, h]) => ({
      ...h.finish(placeCode, place, log),
      ...(memberNo > 0 ? { memberNo } : {}),
    })),
  );
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
    if (block.memberNo !== undefined) row.memberNo = block.memberNo;
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
