/** Weather rows at the border: units, hours, gaps and plausibility are settled here, once. */
import type { Problem, Result } from "@/lib/result";
import { ok, refused } from "@/lib/result";
import { plausibilityProblems } from "./plausibility";
import type { WeatherSeries } from "./types";

const HOUR = 3_600_000;

/** One hour as it came in. undefined or null = missing. */
export interface WeatherRow {
  /** ISO 8601 text or epoch milliseconds. Text without an offset is read with `utcOffsetMin`. */
  time: string | number;
  wind?: number | null;
  gust?: number | null;
  rain?: number | null;
  temp?: number | null;
  humidity?: number | null;
  /** true, 1 or a count of strokes = thunder within reach. */
  thunder?: number | boolean | null;
}

export const WIND_UNITS = { "m/s": 1, "km/h": 1 / 3.6, kn: 1852 / 3600, mph: 0.44704 } as const;
export const RAIN_UNITS = { "mm/h": 1, "in/h": 25.4 } as const;
export const TEMP_UNITS = ["degC", "degF"] as const;

export interface SeriesSource {
  placeId: string;
  kind: WeatherSeries["kind"];
  source: string;
  isMadeUp: boolean;
  issuedAtMillis: number;
  /** Units as the source states them; converted here and nowhere else. */
  windUnit: keyof typeof WIND_UNITS;
  rainUnit: keyof typeof RAIN_UNITS;
  tempUnit: (typeof TEMP_UNITS)[number];
  /** Offset of times written without one, minutes east; undefined = such times are refused. */
  utcOffsetMin?: number;
  /** Are hours stamped at their end (01:00 = midnight to one)? */
  isStampedAtEnd?: boolean;
  /**
   * What a source without any thunder column means: "unknown" closes classes that stop for thunder,
   * "none" is a person's decision and is written into `source`.
   */
  withoutThunder: "unknown" | "none";
  /** "Now": history after it is refused. */
  nowMillis: number;
  /** Rules of plausibility questions that a person answered with "yes, it is so". */
  confirmed?: readonly string[];
}

const MOST_ROW_PROBLEMS = 20;
const MOST_HOURS = 20 * 366 * 24;

/**
 * A series from rows in any order. All problems at once (row problems up to 20 a rule, then their count).
 *
 * Hours without a row become NaN, as do missing values. Values that look like another unit are never converted
 * silently: the problem asks, and `confirmed` answers.
 */
export function buildSeries(rows: readonly WeatherRow[], source: SeriesSource): Result<WeatherSeries> {
  const problems = new RowProblems();
  const times = rows.map((row, i) => hourOf(row, i, source, problems));
  const known = times.filter((t) => !Number.isNaN(t));
  if (known.length === 0) {
    problems.add(
      "empty",
      "time",
      undefined,
      "There is no usable hour.",
      "Give at least one row with a time.",
    );
    return refused(...problems.list());
  }
  const startsAtMillis = known.reduce((a, b) => Math.min(a, b));
  const hours = (known.reduce((a, b) => Math.max(a, b)) - startsAtMillis) / HOUR + 1;
  if (hours > MOST_HOURS) {
    problems.add(
      "span",
      "time",
      hours,
      `The rows span ${Math.round(hours / 8766)} years.`,
      "Check the dates, or split the file: at most 20 years in one series.",
    );
    return refused(...problems.list());
  }
  const series = emptySeries(source, startsAtMillis, hours);
  const seen = new Uint8Array(hours);
  for (const [i, row] of rows.entries()) {
    const time = times[i]!;
    if (Number.isNaN(time)) continue;
    const h = (time - startsAtMillis) / HOUR;
    if (seen[h]) {
      problems.add(
        "duplicate-hour",
        `rows[${i}].time`,
        row.time,
        `Hour ${new Date(time).toISOString()} stands twice.`,
        "Remove one of the two rows.",
      );
      continue;
    }
    seen[h] = 1;
    fillHour(series, h, row, i, source, problems);
  }
  if (
    rows.every((row) => row.thunder === undefined || row.thunder === null) &&
    source.withoutThunder === "none"
  ) {
    series.thunder.fill(0);
    for (let h = 0; h < hours; h++) if (!seen[h]) series.thunder[h] = Number.NaN;
    series.source += " (no thunder column: taken as none)";
  }
  const asked = plausibilityProblems(series).filter((p) => !source.confirmed?.includes(p.rule));
  const all = [...problems.list(), ...asked];
  return all.length > 0 ? refused(...all) : ok(series);
}

export function emptySeries(
  head: Pick<WeatherSeries, "placeId" | "kind" | "source" | "isMadeUp" | "issuedAtMillis">,
  startsAtMillis: number,
  hours: number,
): WeatherSeries {
  const gap = () => new Float32Array(hours).fill(Number.NaN);
  return {
    placeId: head.placeId,
    kind: head.kind,
    source: head.source,
    isMadeUp: head.isMadeUp,
    issuedAtMillis: head.issuedAtMillis,
    startsAtMillis,
    hours,
    windMs: gap(),
    gustMs: gap(),
    rainMmH: gap(),
    tempC: gap(),
    humidityPct: gap(),
    thunder: gap(),
  };
}

/** Begin of the row's hour, epoch milliseconds; NaN and a problem when it cannot be read. */
function hourOf(row: WeatherRow, i: number, source: SeriesSource, problems: RowProblems): number {
  const path = `rows[${i}].time`;
  const millis = readTime(row.time, source.utcOffsetMin);
  if (millis === undefined) {
    problems.add(
      "time",
      path,
      row.time,
      `"${row.time}" is not a time with a known offset from UTC.`,
      "Write times as 2026-03-14T05:00Z, or state the offset of the file.",
    );
    return Number.NaN;
  }
  if (millis % HOUR !== 0) {
    problems.add(
      "whole-hour",
      path,
      row.time,
      `"${row.time}" is not a whole hour UTC.`,
      "Give one row for each hour of UTC.",
    );
    return Number.NaN;
  }
  const startsAt = source.isStampedAtEnd ? millis - HOUR : millis;
  if (source.kind === "history" && startsAt + HOUR > source.nowMillis) {
    problems.add(
      "future-history",
      path,
      row.time,
      `"${row.time}" has not passed yet: it cannot be history.`,
      "Bring it in as a forecast, or check the dates.",
    );
    return Number.NaN;
  }
  return startsAt;
}

const HAS_OFFSET = /(?:Z|[+-]\d{2}:?\d{2})$/i;
const ISO = /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?:Z|[+-]\d{2}:?\d{2})?$/i;

function readTime(time: string | number, utcOffsetMin: number | undefined): number | undefined {
  if (typeof time === "number") return Number.isFinite(time) ? time : undefined;
  const text = time.trim().replace(" ", "T");
  if (!ISO.test(text)) return undefined;
  if (HAS_OFFSET.test(text)) return finite(Date.parse(text));
  if (utcOffsetMin === undefined) return undefined;
  return finite(Date.parse(`${text}Z`) - utcOffsetMin * 60_000);
}

const finite = (x: number) => (Number.isFinite(x) ? x : undefined);

function fillHour(
  series: WeatherSeries,
  h: number,
  row: WeatherRow,
  i: number,
  source: SeriesSource,
  problems: RowProblems,
): void {
  const value = (
    name: "wind" | "gust" | "rain" | "temp" | "humidity",
    lo: number,
    hi: number,
    unit: string,
  ) => {
    const raw = row[name];
    if (raw === undefined || raw === null || Number.isNaN(raw)) return Number.NaN;
    if (raw >= lo && raw <= hi) return raw;
    problems.add(
      `${name}-range`,
      `rows[${i}].${name}`,
      raw,
      `${name} ${raw} ${unit} at ${row.time} is outside ${lo} to ${hi}.`,
      "Correct the value, or leave it empty if it is missing: an empty value counts as unknown.",
    );
    return Number.NaN;
  };
  const windFactor = WIND_UNITS[source.windUnit];
  const windMost = 120 / windFactor; // m/s; the strongest gust on record is 113 m/s (M)
  const wind = value("wind", 0, windMost, source.windUnit) * windFactor;
  const gust = value("gust", 0, windMost, source.windUnit) * windFactor;
  series.windMs[h] = wind;
  series.gustMs[h] = gust;
  series.rainMmH[h] = value("rain", 0, 400, source.rainUnit) * RAIN_UNITS[source.rainUnit];
  series.tempC[h] =
    source.tempUnit === "degF"
      ? (value("temp", -130, 140, "degF") - 32) / 1.8
      : value("temp", -90, 60, "degC");
  series.humidityPct[h] = value("humidity", 0, 105, "%");
  const thunder = row.thunder;
  if (typeof thunder === "boolean") series.thunder[h] = thunder ? 1 : 0;
  else if (thunder === undefined || thunder === null || Number.isNaN(thunder)) series.thunder[h] = Number.NaN;
  else if (thunder >= 0) series.thunder[h] = thunder > 0 ? 1 : 0;
  else {
    problems.add(
      "thunder-range",
      `rows[${i}].thunder`,
      thunder,
      `thunder ${thunder} at ${row.time} is under 0.`,
      "Write 1 for thunder within reach, 0 for none, nothing for unknown.",
    );
  }
}

/** Collects problems; a rule that thousands of rows break is listed 20 times and counted. */
class RowProblems {
  #byRule = new Map<string, Problem[]>();
  #count = new Map<string, number>();

  add(rule: string, path: string, value: unknown, message: string, remedy: string): void {
    const count = (this.#count.get(rule) ?? 0) + 1;
    this.#count.set(rule, count);
    if (count > MOST_ROW_PROBLEMS) return;
    const list = this.#byRule.get(rule) ?? [];
    list.push({ path, rule, value, message, remedy });
    this.#byRule.set(rule, list);
  }

  list(): Problem[] {
    const all = [...this.#byRule.values()].flat();
    for (const [rule, count] of this.#count) {
      if (count <= MOST_ROW_PROBLEMS) continue;
      all.push({
        path: "rows",
        rule,
        value: count,
        message: `${count - MOST_ROW_PROBLEMS} more rows have the same problem.`,
        remedy: "Correct the file as a whole.",
      });
    }
    return all;
  }
}
