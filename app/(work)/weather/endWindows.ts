/** One end's weather in detail: hour by hour, the finish by start day, and what past years say of later starts. */
import type { WindHour } from "@/app/_ui/charts/WindLimitChart";
import { withSpeedsBeside } from "@/app/_ui/format";
import { sayKept } from "@/app/_ui/language/kept";
import type { Words } from "@/app/_ui/language/words";
import type { StripRow } from "@/app/_ui/WeatherStrip";
import type { WorkSegment } from "@/lib/hours";
import { addDays, type CalendarDate, instantAt, localOf, weekdayOf } from "@/lib/time";
import {
  blendedFinish,
  clockOfMask,
  conditionsAt,
  daylightOnlyMask,
  type FinishTables,
  finishTables,
  type History,
  type HourMask,
  type HourVerdict,
  hindcast,
  type LimitingFactor,
  prepareHistory,
  type ShiftWeek,
  type SiteProfile,
  VERDICT_TEXTS,
  verdictAt,
  type WeatherPolicy,
  type WeatherSeries,
  WORK_CLASSES,
  type WorkClass,
  workableShare,
} from "@/lib/weather";
import type { ForecastReader } from "./siteHours";

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** Hours of a series from an instant on, as starts in epoch milliseconds. */
export function hoursFrom(series: WeatherSeries, fromMillis: number, most: number): number[] {
  const first = Math.max(0, Math.ceil((fromMillis - series.startsAtMillis) / HOUR));
  const count = Math.max(0, Math.min(most, series.hours - first));
  return Array.from({ length: count }, (_, i) => series.startsAtMillis + (first + i) * HOUR);
}

const indexOf = (series: WeatherSeries, at: number) => Math.round((at - series.startsAtMillis) / HOUR);

export function verdicts(
  series: WeatherSeries,
  profile: SiteProfile,
  workClass: WorkClass,
  hours: readonly number[],
  reader: ForecastReader,
): HourVerdict[] {
  const prepared = reader.prepared(series);
  return hours.map((at) =>
    verdictAt(series, profile, reader.policy, workClass, indexOf(series, at), prepared),
  );
}

/** @param members of the ensemble issued with the series: their share is said of each hour */
export function stripRows(
  series: WeatherSeries,
  profile: SiteProfile,
  hours: readonly number[],
  reader: ForecastReader,
  members: readonly WeatherSeries[] = [],
): StripRow[] {
  const share = workableShare(
    members.map((m) => reader.mask(m, profile)),
    series.startsAtMillis,
    series.hours,
  );
  return WORK_CLASSES.map((workClass, c) => ({
    workClass,
    verdicts: verdicts(series, profile, workClass, hours, reader).map((verdict, i) => {
      const open = share[indexOf(series, hours[i]!) * WORK_CLASSES.length + c]!;
      if (Number.isNaN(open)) return verdict;
      return {
        ...verdict,
        text: `${verdict.text}; met in ${Math.round(100 * open)} % of the forecast's courses`,
      };
    }),
  }));
}

/** Verdicts with their figures in the reader's language. */
export function sayVerdicts(verdicts: readonly HourVerdict[], words: Words): HourVerdict[] {
  return verdicts.map((v) => ({
    ...v,
    text: withSpeedsBeside(sayKept(v.text, VERDICT_TEXTS, words), words.locale),
  }));
}

export const sayRows = (rows: readonly StripRow[], words: Words): StripRow[] =>
  rows.map((row) => ({ ...row, verdicts: sayVerdicts(row.verdicts, words) }));

/** Wind and gust at the mount against the limits of work aloft. */
export function windHours(
  series: WeatherSeries,
  profile: SiteProfile,
  workClass: WorkClass,
  hours: readonly number[],
  reader: ForecastReader,
): WindHour[] {
  const mask = reader.mask(series, profile);
  const bit = 1 << WORK_CLASSES.indexOf(workClass);
  return hours.map((at) => {
    const h = indexOf(series, at);
    const { windMs, gustMs } = conditionsAt(series, profile, reader.policy, workClass, h);
    return {
      at,
      windMs: Number.isNaN(windMs) ? null : windMs,
      gustMs: Number.isNaN(gustMs) ? null : gustMs,
      workable: (mask.workable[h]! & bit) !== 0,
    };
  });
}

/** Both ends in the same hours: what stops either stops both; the words name the end. */
export function jointVerdicts(near: readonly HourVerdict[], far: readonly HourVerdict[]): HourVerdict[] {
  return near.map((n, i) => {
    const f = far[i]!;
    if (!n.workable) return { ...n, text: `near end: ${n.text}` };
    if (!f.workable) return { ...f, text: `far end: ${f.text}` };
    return { ...n, text: `near end: ${n.text}; far end: ${f.text}` };
  });
}

export interface FinishRow {
  startsOn: CalendarDate;
  /** null = nobody works on the day, or the site is closed. */
  basis: "forecast" | "past years" | "not known" | null;
  p50On?: CalendarDate;
  p50Min?: number;
  /** Undefined inside the forecast, null when one run in five did not finish. */
  p80On?: CalendarDate | null;
}

/** When the work would end if it were begun with the shift of each of the next days. */
export function finishByDay(
  mask: HourMask,
  profile: SiteProfile,
  policy: WeatherPolicy,
  shift: ShiftWeek,
  segments: readonly WorkSegment[],
  days: readonly CalendarDate[],
  history: History | undefined,
  nowMillis: number,
): FinishRow[] {
  const { zone } = profile;
  const tables = finishTables(mask, shift, clockOfMask(mask, zone));
  const calendar = calendarTables(mask.startsAtMillis, profile, policy, shift);
  return days.map((startsOn): FinishRow => {
    const open = shift[weekdayOf(startsOn) - 1];
    if (!open) return { startsOn, basis: null };
    // Today begins now, not with the shift that is half over.
    const startMillis = Math.max(instantAt(startsOn, open.fromMin, zone), nowMillis);
    const finish = history
      ? blendedFinish(tables, history, calendar, segments, startMillis)
      : blendedFinish(tables, noHistory(tables, mask), calendar, segments, startMillis);
    if (!finish) return { startsOn, basis: "not known" };
    const p50 = localOf(Math.max(startMillis, finish.p50Millis - 1), zone);
    return {
      startsOn,
      basis: finish.basis === "forecast" ? "forecast" : "past years",
      p50On: p50.date,
      p50Min: p50.minuteOfDay,
      p80On:
        finish.basis === "forecast"
          ? undefined
          : Number.isFinite(finish.p80Millis)
            ? localOf(finish.p80Millis - 1, zone).date
            : null,
    };
  });
}

/** No past years: what the forecast does not hold stays unknown. */
const noHistory = (tables: FinishTables, mask: HourMask): History => ({
  mask,
  tables,
  clear: tables,
  years: [],
  gapHoursByYear: new Map(),
});

const CALENDAR_DAYS = 120;

function calendarTables(
  startsAtMillis: number,
  profile: SiteProfile,
  policy: WeatherPolicy,
  shift: ShiftWeek,
): FinishTables {
  const clear = daylightOnlyMask(profile, policy, startsAtMillis, (CALENDAR_DAYS * DAY) / HOUR);
  return finishTables(clear, shift, clockOfMask(clear, profile.zone));
}

/** Past years of a place made ready for one end's work. */
export function historyFor(
  series: WeatherSeries,
  profile: SiteProfile,
  policy: WeatherPolicy,
  shift: ShiftWeek,
  segments: readonly WorkSegment[],
): History {
  const classes = [...new Set(segments.map((s) => s.workClass))];
  return prepareHistory(series, profile, policy, shift, classes);
}

export interface BeyondRow {
  startsOn: CalendarDate;
  runs: number;
  unfinished: number;
  clearH: number;
  p50Days: number;
  p80Days: number;
  /** Shift hours lost a run, largest first. */
  lost: { factor: LimitingFactor; hours: number }[];
  shortSpellH: number;
}

/** Weeks ahead for which past years are asked. */
const BEYOND_WEEKS = [2, 4, 8, 13, 26];

export function beyondForecast(
  history: History,
  segments: readonly WorkSegment[],
  today: CalendarDate,
  shift: ShiftWeek,
): BeyondRow[] {
  return BEYOND_WEEKS.map((weeks): BeyondRow => {
    const startsOn = firstWorkday(addDays(today, weeks * 7), shift);
    const past = hindcast(history, segments, startsOn);
    return {
      startsOn,
      runs: past.runs.length,
      unfinished: past.unfinished,
      clearH: past.clearMin / 60,
      p50Days: past.p50Days,
      p80Days: past.p80Days,
      lost: Object.entries(past.lostHours)
        .map(([factor, hours]) => ({ factor: factor as LimitingFactor, hours }))
        .filter((l) => l.hours >= 0.05)
        .sort((a, b) => b.hours - a.hours),
      shortSpellH: past.shortSpellHours,
    };
  });
}

function firstWorkday(from: CalendarDate, shift: ShiftWeek): CalendarDate {
  for (let d = 0; d < 7; d++) {
    const date = addDays(from, d);
    if (shift[weekdayOf(date) - 1]) return date;
  }
  return from;
}
