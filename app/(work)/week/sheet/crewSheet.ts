/** The next days of one crew against the forecast, hour by hour, for paper. Pure: data in, rows out. */

import type { Words } from "@/app/_ui/language/words";
import { CLASS_WORDS, type HourLook, lookOf } from "@/app/_ui/weather/factors";
import { jointVerdicts, sayVerdicts, verdicts } from "@/app/(work)/weather/endWindows";
import { type ForecastReader, noWeather, placeOf, profileOf } from "@/app/(work)/weather/siteHours";
import {
  type EndWork,
  endWorkKey,
  type ForecastVisit,
  type PlaceForecast,
  type SiteWork,
} from "@/db/queries/weatherViews";
import { addDays, type CalendarDate, instantAt } from "@/lib/time";
import { type HourVerdict, type LimitingFactor, WORK_CLASSES, type WorkClass } from "@/lib/weather";

const HOUR_MILLIS = 3_600_000;
/** Hours of the wall clock that the sheet shows: those in which crews work (common practice). */
export const SHEET_HOURS: readonly number[] = Array.from({ length: 16 }, (_, i) => 5 + i);

export interface SheetRow {
  label: string;
  /** One for each of SHEET_HOURS. */
  cells: { mark: string; look: HourLook; words: string }[];
  /** The figure that closes most of the day's closed hours, and its limit. */
  worst: string;
}

export interface SheetDay {
  visit: ForecastVisit;
  date: CalendarDate;
  /** Which day of the visit, and of how many. */
  dayNo: number;
  ofDays: number;
  siteName: string;
  zone: string;
  /** Height of the work, m; undefined without weather. */
  heightM?: number;
  rows: SheetRow[];
  source: string;
  /** Why there are no rows. */
  why?: string;
}

/**
 * One entry for each worked day of each visit from `today` on, in the order in which the crew goes.
 * @param works does the crew work on that day? A visit over a weekend has none on it
 */
export function crewSheet(
  visits: readonly ForecastVisit[],
  sites: ReadonlyMap<string, SiteWork>,
  ends: ReadonlyMap<string, EndWork>,
  places: readonly PlaceForecast[],
  reader: ForecastReader,
  today: CalendarDate,
  lastDay: CalendarDate,
  words: Words,
  works: (on: CalendarDate) => boolean,
): SheetDay[] {
  const days = visits.flatMap((visit) => {
    const dates: CalendarDate[] = [];
    for (let on = visit.startOn; on <= visit.endOn; on = addDays(on, 1))
      if (on === visit.startOn || on === visit.endOn || works(on)) dates.push(on);
    return dates
      .map((date, i) => ({ visit, date, dayNo: i + 1, ofDays: dates.length }))
      .filter(({ date }) => date >= today && date <= lastDay)
      .map((day) => ({ ...day, ...hoursOf(day.visit, day.date, sites, ends, places, reader, words) }));
  });
  return days.sort((a, b) =>
    a.date === b.date ? a.visit.startMin - b.visit.startMin : a.date < b.date ? -1 : 1,
  );
}

type Hours = Pick<SheetDay, "siteName" | "zone" | "heightM" | "rows" | "source" | "why">;

function hoursOf(
  visit: ForecastVisit,
  date: CalendarDate,
  sites: ReadonlyMap<string, SiteWork>,
  endWork: ReadonlyMap<string, EndWork>,
  places: readonly PlaceForecast[],
  reader: ForecastReader,
  words: Words,
): Hours {
  const { t } = words;
  /** The site with this hop's own mount there: the visit's page takes the same height. */
  const endAt = (siteCode: string, side: string): SiteWork | undefined => {
    const site = sites.get(siteCode);
    return site && { ...site, ...endWork.get(endWorkKey(visit.hopCode, side)) };
  };
  const here = endAt(visit.siteCode, visit.side);
  if (!here) return { siteName: visit.siteCode, zone: "UTC", rows: [], source: "", why: t("no such site") };
  const { site } = here;
  const head = { siteName: site.name, zone: site.zone };
  const far =
    visit.isJoint && visit.farSiteCode !== null
      ? endAt(visit.farSiteCode, visit.side === "near" ? "far" : "near")
      : undefined;
  const ends: { of: SiteWork; place: PlaceForecast; forecast: NonNullable<PlaceForecast["forecast"]> }[] = [];
  for (const of of far ? [here, far] : [here]) {
    const place = placeOf(of.site, places, reader.policy)?.place;
    if (!place?.forecast) {
      const why = place
        ? t("{{place}} has no forecast", { place: place.name })
        : words.say(noWeather(of.site, reader.policy));
      return { ...head, rows: [], source: "", why: `${of.site.code}: ${why}` };
    }
    ends.push({ of, place, forecast: place.forecast });
  }
  const instants = SHEET_HOURS.map((hour) => instantAt(date, hour * 60, site.zone));
  const own = ends[0]!;
  const { startsAtMillis, hours } = own.forecast;
  const isReached = instants.every((at) => at >= startsAtMillis && at < startsAtMillis + hours * HOUR_MILLIS);
  const profile = profileOf(own.of, own.place);
  const said = { ...head, heightM: profile.heightM, source: sourceOf(own.forecast, words) };
  if (!isReached)
    return { ...said, rows: [], why: t("the forecast does not reach this day: look again later") };
  // One order on every sheet, whatever the visit begins with: rows are looked for, not read in turn.
  const done = new Set((visit.segments ?? []).map((s) => s.workClass));
  const classes = WORK_CLASSES.filter((c) => done.has(c));
  const verdictsAt = (end: (typeof ends)[number], c: WorkClass) =>
    verdicts(end.forecast, profileOf(end.of, end.place), c, instants, reader);
  const rows = classes.map((c) => {
    const here = verdictsAt(own, c);
    if (!ends[1]) return rowOf(t(CLASS_WORDS[c]), sayVerdicts(here, words));
    const there = verdictsAt(ends[1], c);
    const joint = visit.side === "near" ? jointVerdicts(here, there) : jointVerdicts(there, here);
    return rowOf(t("{{work}}, both ends", { work: t(CLASS_WORDS[c]) }), sayVerdicts(joint, words));
  });
  return rows.length > 0
    ? { ...said, rows }
    : { ...said, rows, why: t("no hours are kept for this visit yet: solve the plan anew") };
}

function rowOf(label: string, hours: readonly HourVerdict[]): SheetRow {
  const count = new Map<LimitingFactor, number>();
  for (const v of hours) if (!v.workable) count.set(v.factor, (count.get(v.factor) ?? 0) + 1);
  const ranked = [...count].sort(
    ([a, n], [b, m]) => Number(a === "daylight") - Number(b === "daylight") || m - n,
  );
  const worst = ranked[0]?.[0];
  return {
    label,
    cells: hours.map((v) => ({ mark: lookOf(v).letter, look: lookOf(v).look, words: v.text })),
    worst: hours.find((v) => !v.workable && v.factor === worst)?.text ?? "",
  };
}

const sourceOf = (f: NonNullable<PlaceForecast["forecast"]>, { t }: Words) =>
  f.isMadeUp ? t("made-up weather") : f.source;
