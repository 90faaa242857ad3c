/** Does the forecast still let each planned visit end on its planned day? Pure: data in, findings out. */

import type { DaySummary } from "@/app/_ui/WeatherDays";
import type { ForecastVisit, PlaceForecast, SiteWork } from "@/db/queries/weatherViews";
import { type Phrase, phrase } from "@/lib/phrase";
import { afterSetup, type Crew } from "@/lib/programme";
import { type CalendarDate, daysBetween, instantAt, localOf, weekdayOf } from "@/lib/time";
import {
  clockOfMask,
  earliestFinish,
  finishTables,
  type HourMask,
  jointMask,
  type ShiftWeek,
  type WorkClass,
} from "@/lib/weather";
import { bothOpen, type ForecastReader, noWeather, placeOf, profileOf, shiftAtSite } from "./siteHours";

/**
 * A visit of the plan; `onHold`: why it was reported on hold, so that no forecast tells whether it is done; `isUnderWay`: it
 * began before today, and what of it is left is not known here.
 */
export type JudgedVisit = ForecastVisit & { onHold?: string; isUnderWay?: boolean };

export interface VisitFinding {
  visit: JudgedVisit;
  /** lost: by the forecast it ends on a later day than planned, or not within the forecast. */
  state: "holds" | "lost" | "not checked" | "on hold";
  /** By the forecast; null = not within it. Only for "holds" and "lost". */
  finishOn?: CalendarDate | null;
  daysLost?: number;
  /** The class of work that loses most of the planned first day, and its figure. */
  workClass?: WorkClass;
  day?: DaySummary;
  /** At which site the figure is read. */
  siteCode?: string;
  /** Why it could not be checked. */
  why?: Phrase;
  /** Of the ensemble's members those in which it ends on its planned day; undefined without members. */
  members?: { holds: number; of: number };
  /** Against the forecast that the plan was made with; undefined when that is still the latest. */
  sincePlan?: "lost" | "open again" | "as before";
}

/** Says of each visit how the forecast changed for it since the plan was made. */
export function withChange(
  now: readonly VisitFinding[],
  then: readonly VisitFinding[],
): readonly VisitFinding[] {
  const stateThen = new Map(then.map((f) => [f.visit.visitId, f.state]));
  return now.map((f) => {
    const was = stateThen.get(f.visit.visitId);
    const sincePlan =
      was === "holds" && f.state === "lost"
        ? ("lost" as const)
        : was === "lost" && f.state === "holds"
          ? ("open again" as const)
          : ("as before" as const);
    return { ...f, sincePlan };
  });
}

/** Begins each visit at its planned minute and lets it run through the forecast's hours inside the crew's shifts. */
export function planAgainstForecast(
  visits: readonly JudgedVisit[],
  sites: ReadonlyMap<string, SiteWork>,
  places: readonly PlaceForecast[],
  crews: ReadonlyMap<string, Crew>,
  reader: ForecastReader,
): VisitFinding[] {
  return visits.map((visit) => {
    if (visit.onHold !== undefined)
      return {
        visit,
        state: "on hold",
        why: phrase("reported on hold: {{reason}}", { reason: visit.onHold }),
      };
    if (visit.isUnderWay)
      return {
        visit,
        state: "not checked",
        why: phrase("under way: the board counts the hours of its days to come"),
      };
    const crew = crews.get(visit.crewCode);
    const { segments } = visit;
    if (!crew || !segments)
      return { visit, state: "not checked", why: phrase("no estimate kept for it yet") };
    const codes = [visit.siteCode, ...(visit.isJoint ? [visit.farSiteCode] : [])];
    const ends: EndHours[] = [];
    for (const code of codes) {
      const end = endHours(code === null ? undefined : sites.get(code), places, reader, crewShift(crew));
      if ("text" in end) return { visit, state: "not checked", why: end };
      ends.push(end);
    }
    const finding = judge(visit, segments, ends, crew, reader);
    const members = inMembers(visit, segments, ends, crew, reader);
    return members ? { ...finding, members } : finding;
  });
}

/** The visit run through every member that all its ends have. */
function inMembers(
  visit: ForecastVisit,
  segments: NonNullable<ForecastVisit["segments"]>,
  ends: readonly EndHours[],
  crew: Crew,
  reader: ForecastReader,
): VisitFinding["members"] {
  let holds = 0;
  let of = 0;
  for (const { memberNo } of ends[0]!.place.members) {
    const own = ends.flatMap((e) => e.place.members.find((m) => m.memberNo === memberNo) ?? []);
    if (own.length < ends.length) continue;
    const masks = ends.map((e, i) => reader.mask(own[i]!, profileOf(e.work, e.place)));
    const finish = finishOf(visit, segments, ends, masks.reduce(jointMask), crew);
    if (finish === "before the forecast" || finish === "after the forecast") continue;
    of++;
    if (finish && finish <= visit.endOn) holds++;
  }
  return of > 0 ? { holds, of } : undefined;
}

interface EndHours {
  work: SiteWork;
  place: PlaceForecast & { forecast: NonNullable<PlaceForecast["forecast"]> };
  mask: HourMask;
  shift: ShiftWeek;
}

function endHours(
  work: SiteWork | undefined,
  places: readonly PlaceForecast[],
  reader: ForecastReader,
  shift: ShiftWeek,
): EndHours | Phrase {
  if (!work) return phrase("an end is missing in the design data");
  const found = placeOf(work.site, places, reader.policy);
  if (!found)
    return phrase("{{site}}: {{why}}", { site: work.site.code, why: noWeather(work.site, reader.policy) });
  const { forecast } = found.place;
  if (!forecast) return phrase("{{place}}: no forecast has been brought in", { place: found.place.name });
  return {
    work,
    place: { ...found.place, forecast },
    mask: reader.mask(forecast, profileOf(work, found.place)),
    shift: shiftAtSite(shift, work.site.access),
  };
}

/** The crew's week with the overtime that it may work: what the plan could have used. */
function crewShift(crew: Crew): ShiftWeek {
  return ([1, 2, 3, 4, 5, 6, 7] as const).map((weekday) =>
    crew.weekdays.includes(weekday)
      ? { fromMin: crew.shiftFromMin, toMin: Math.min(1440, crew.shiftToMin + crew.overtimeMaxMin) }
      : null,
  );
}

function judge(
  visit: ForecastVisit,
  segments: NonNullable<ForecastVisit["segments"]>,
  ends: readonly EndHours[],
  crew: Crew,
  reader: ForecastReader,
): VisitFinding {
  const finishOn = finishOf(visit, segments, ends, ends.map((e) => e.mask).reduce(jointMask), crew);
  if (finishOn === "before the forecast") {
    return { visit, state: "not checked", why: phrase("its start lies outside the forecast") };
  }
  if (finishOn === "after the forecast") {
    return { visit, state: "not checked", why: phrase("its end lies outside the forecast") };
  }
  if (finishOn && finishOn <= visit.endOn) return { visit, state: "holds", finishOn };
  const classes = [...new Set(segments.map((s) => s.workClass))];
  return {
    visit,
    state: "lost",
    finishOn,
    daysLost: finishOn ? daysBetween(visit.endOn, finishOn) : undefined,
    ...worstDay(visit.startOn, classes, ends, reader),
  };
}

/**
 * The day on which the visit ends when it begins at its planned minute; null = not by the end of its planned day.
 * "after the forecast": nor do the hours known reach to the end of that day's shift, so nobody can tell.
 */
function finishOf(
  visit: ForecastVisit,
  segments: NonNullable<ForecastVisit["segments"]>,
  ends: readonly EndHours[],
  mask: HourMask,
  crew: Crew,
): CalendarDate | null | "before the forecast" | "after the forecast" {
  const { zone } = ends[0]!.work.site;
  const classes = [...new Set(segments.map((s) => s.workClass))];
  const shift = ends.map((e) => e.shift).reduce(bothOpen);
  const tables = finishTables(mask, shift, clockOfMask(mask, zone), classes);
  const startMin = (instantAt(visit.startOn, visit.startMin, zone) - mask.startsAtMillis) / 60_000;
  if (startMin < 0 || startMin >= mask.hours * 60) return "before the forecast";
  // A planned visit begins when its set-up is done.
  const atPace = afterSetup(segments, Math.ceil(visit.setupMin)).map((s) => ({
    ...s,
    durationMin: s.durationMin * (visit.pace ?? crew.pace),
  }));
  const finish = earliestFinish(tables, atPace, startMin);
  // An end at midnight belongs to the day that it ends.
  if (finish) return localOf(mask.startsAtMillis + Math.max(0, finish.finishMin - 1) * 60_000, zone).date;
  const closesMin = shift[weekdayOf(visit.endOn) - 1]?.toMin ?? 0;
  const closesAt = instantAt(visit.endOn, closesMin, zone);
  return closesAt > mask.startsAtMillis + mask.hours * 3_600_000 ? "after the forecast" : null;
}

/** Which class, at which end, meets its limits in the smallest share of the planned day. */
function worstDay(
  on: CalendarDate,
  classes: readonly WorkClass[],
  ends: readonly EndHours[],
  reader: ForecastReader,
): Pick<VisitFinding, "workClass" | "day" | "siteCode"> {
  let worst: Pick<VisitFinding, "workClass" | "day" | "siteCode"> = {};
  let least = Number.POSITIVE_INFINITY;
  for (const end of ends) {
    const profile = profileOf(end.work, end.place);
    for (const workClass of classes) {
      const day = reader.days(end.place.forecast, profile, workClass, [on], end.shift, end.mask)[0];
      if (!day || day.ofH === 0 || day.metH / day.ofH >= least) continue;
      least = day.metH / day.ofH;
      worst = { workClass, day, siteCode: end.work.site.code };
    }
  }
  return worst;
}
