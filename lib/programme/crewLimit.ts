/** Until when a crew has the people of a visit, and whose certificate it is that ends then. */
import type { CrewNeeds, Skill } from "@/lib/hours";
import { lastStaffedDay } from "@/lib/risk";
import { PEOPLE } from "@/lib/schedule";
import { addDays, type CalendarDate, daysBetween, weekdayOf } from "@/lib/time";
import { crewDays, skillsOn } from "./crewDays";
import type { Crew } from "./types";

export interface EndingCertificate {
  memberName: string;
  skill: Skill;
  /** Its last day. */
  endsOn: CalendarDate;
}

/** As the runs of a plan reckoned with it. */
export interface CrewLimit {
  needs: CrewNeeds;
  /** Last day on which the crew suffices by itself; undefined = on none of the days followed. */
  staffedUntil?: CalendarDate;
  /** What the crew lacks on the first of the planned days on which it does not suffice: "1 rescuer"; undefined = nothing. */
  short?: string;
  /** With it the crew suffices no longer. */
  certificate?: EndingCertificate;
}

/** The days that runs were followed, both included. */
export interface FollowedDays {
  asOf: CalendarDate;
  followedTo: CalendarDate;
}

export interface PlannedDays {
  startOn: CalendarDate | null;
  endOn: CalendarDate | null;
}

const NOBODY = { fromMin: 0, toMin: 0, climbers: 0, rescuers: 0, riggers: 0, technicians: 0, people: 0 };

/** What a crew lacks for the work on a day on which it would work: "1 climber and 1 person"; "" = nothing. */
export const shortOn = (crew: Crew, needs: CrewNeeds, on: CalendarDate): string =>
  crew.weekdays.includes(weekdayOf(on)) ? PEOPLE.missing(needs, crewDays(crew, on, 1)[0] ?? NOBODY) : "";

export function crewLimit(
  crew: Crew,
  needs: CrewNeeds,
  visit: PlannedDays,
  { asOf, followedTo }: FollowedDays,
): CrewLimit {
  const days = crewDays(crew, asOf, daysBetween(asOf, followedTo) + 1);
  const last = lastStaffedDay(days, needs);
  const next = days.findIndex((day, d) => day !== null && d > last);
  const staffedUntil = last < 0 ? undefined : addDays(asOf, last);
  return {
    needs,
    staffedUntil,
    short: shortWhenPlanned(crew, needs, visit, asOf),
    certificate:
      staffedUntil && next >= 0
        ? endingCertificate(crew, needs, staffedUntil, addDays(asOf, next))
        : undefined,
  };
}

/** Is what the runs reckoned with still so? */
export function isStillSo(limit: CrewLimit, crew: Crew, visit: PlannedDays, days: FollowedDays): boolean {
  const now = crewLimit(crew, limit.needs, visit, days);
  const [was, is] = [limit.certificate, now.certificate];
  return (
    limit.staffedUntil === now.staffedUntil &&
    limit.short === now.short &&
    was?.memberName === is?.memberName &&
    was?.skill === is?.skill &&
    was?.endsOn === is?.endsOn
  );
}

/** Work that should have begun before the first day is due on it. */
function shortWhenPlanned(
  crew: Crew,
  needs: CrewNeeds,
  { startOn, endOn }: PlannedDays,
  asOf: CalendarDate,
): string | undefined {
  if (startOn === null || endOn === null) return undefined;
  const until = endOn < asOf ? asOf : endOn;
  for (let on = startOn < asOf ? asOf : startOn; on <= until; on = addDays(on, 1)) {
    const short = shortOn(crew, needs, on);
    if (short !== "") return short;
  }
  return undefined;
}

const SKILL_NEED: readonly [Skill, keyof CrewNeeds][] = [
  ["climber", "climbers"],
  ["rescue", "rescuers"],
  ["rigger", "riggers"],
  ["technician", "technicians"],
];

/** The first certificate that ends from `from` on, before `until`, and leaves the crew with fewer than the work needs. */
export function endingCertificate(
  crew: Crew,
  needs: CrewNeeds,
  from: CalendarDate,
  until: CalendarDate,
): EndingCertificate | undefined {
  const ends = crew.members
    .flatMap((m) => m.skills.map((s) => ({ memberName: m.name, skill: s.skill, endsOn: s.validUntil })))
    .filter((c): c is EndingCertificate => c.endsOn !== undefined && c.endsOn >= from && c.endsOn < until)
    .sort((a, b) => a.endsOn.localeCompare(b.endsOn) || a.memberName.localeCompare(b.memberName));
  return ends.find(({ skill, endsOn }) => {
    const need = SKILL_NEED.find(([of]) => of === skill)?.[1];
    const dayAfter = addDays(endsOn, 1);
    const left = crew.members.filter((m) => skillsOn(m, dayAfter).includes(skill)).length;
    return need !== undefined && left < needs[need];
  });
}
