/** Visits of a plan that fall on leave given after it was made, and whether who is left of the crew may still do them. */
import type { CrewNeeds } from "@/lib/hours";
import { PEOPLE } from "@/lib/schedule";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import { crewDays, isAway } from "./crewDays";
import type { Crew, CrewMember } from "./types";

const NOBODY = { fromMin: 0, toMin: 0, climbers: 0, rescuers: 0, riggers: 0, technicians: 0, people: 0 };

export interface LeaveVisit<V> {
  visit: V;
  crew: Crew;
  /** The first day on which who is left does not suffice, else the first on which somebody is away. */
  on: CalendarDate;
  away: CrewMember[];
  /** What the crew then lacks for the work, by the planner's rule of people: "1 climber and 1 person"; "" = it suffices. */
  short: string;
}

export interface PlacedOnDays {
  crewCode: string | null;
  startOn: CalendarDate | null;
  endOn: CalendarDate | null;
}

/**
 * In the order of the visits; days before `today` are over and days off are not worked.
 * @param needsOf of the visit's work; undefined = not estimated, so nothing is said to be short
 */
export function visitsOnLeave<V extends PlacedOnDays>(
  visits: readonly V[],
  crews: readonly Crew[],
  today: CalendarDate,
  needsOf: (visit: V) => CrewNeeds | undefined,
): LeaveVisit<V>[] {
  const byCode = new Map(crews.map((c) => [c.code, c]));
  return visits.flatMap((visit): LeaveVisit<V>[] => {
    const crew = byCode.get(visit.crewCode ?? "");
    if (!crew || visit.startOn === null || visit.endOn === null) return [];
    const days: CalendarDate[] = [];
    for (let on = visit.startOn < today ? today : visit.startOn; on <= visit.endOn; on = addDays(on, 1))
      if (crew.weekdays.includes(weekdayOf(on)) && crew.members.some((m) => isAway(m, on))) days.push(on);
    if (days.length === 0) return [];
    const needs = needsOf(visit);
    const shorts = days.map((on) => (needs ? PEOPLE.missing(needs, crewDays(crew, on, 1)[0] ?? NOBODY) : ""));
    const worst = Math.max(
      0,
      shorts.findIndex((s) => s !== ""),
    );
    return [
      {
        visit,
        crew,
        on: days[worst]!,
        away: crew.members.filter((m) => isAway(m, days[worst]!)),
        short: shorts[worst]!,
      },
    ];
  });
}
