/** Visits of a plan that miss people since it was made: by leave, or because a certificate ended or was taken away. */
import type { CrewNeeds } from "@/lib/hours";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import { isAway } from "./crewDays";
import { type PlannedDays, shortOn } from "./crewLimit";
import type { Crew, CrewMember } from "./types";

export interface VisitMissingPeople<V> {
  visit: V;
  crew: Crew;
  /** The first day on which the crew does not suffice, else the first on which somebody is away. */
  on: CalendarDate;
  /** On leave on that day. */
  away: CrewMember[];
  /** What the crew then lacks for the work, by the planner's rule of people: "1 climber and 1 person"; "" = it suffices. */
  short: string;
}

export interface PlacedOnDays extends PlannedDays {
  crewCode: string | null;
}

/**
 * In the order of the visits; days before `today` are over and days off are not worked.
 * @param needsOf of the visit's work; undefined = not estimated, so nothing is said to be short
 */
export function visitsMissingPeople<V extends PlacedOnDays>(
  visits: readonly V[],
  crews: readonly Crew[],
  today: CalendarDate,
  needsOf: (visit: V) => CrewNeeds | undefined,
): VisitMissingPeople<V>[] {
  const byCode = new Map(crews.map((c) => [c.code, c]));
  return visits.flatMap((visit): VisitMissingPeople<V>[] => {
    const crew = byCode.get(visit.crewCode ?? "");
    if (!crew || visit.startOn === null || visit.endOn === null) return [];
    const needs = needsOf(visit);
    const days: { on: CalendarDate; away: CrewMember[]; short: string }[] = [];
    for (let on = visit.startOn < today ? today : visit.startOn; on <= visit.endOn; on = addDays(on, 1)) {
      if (!crew.weekdays.includes(weekdayOf(on))) continue;
      days.push({
        on,
        away: crew.members.filter((m) => isAway(m, on)),
        short: needs ? shortOn(crew, needs, on) : "",
      });
    }
    const worst = days.find((d) => d.short !== "") ?? days.find((d) => d.away.length > 0);
    return worst ? [{ visit, crew, ...worst }] : [];
  });
}
