/** The days on which a crew is away, or too few, after a visit that it should have done before. */
import type { CrewNeeds } from "@/lib/hours";
import { gapAfter } from "@/lib/risk";
import { addDays, type CalendarDate, daysBetween, weekdayOf } from "@/lib/time";
import { crewDays, isAway } from "./crewDays";
import type { FollowedDays, PlannedDays } from "./crewLimit";
import type { Crew } from "./types";

/** As the runs of a plan reckoned with it. */
export interface CrewGap {
  needs: CrewNeeds;
  /** First day on which the crew would work and is away or too few. */
  fromOn: CalendarDate;
  /** Last such day; undefined = as far as the runs were followed. */
  toOn?: CalendarDate;
  /** Is somebody on leave on the first day? Else certificates have ended. */
  isLeave: boolean;
}

export function crewGap(
  crew: Crew,
  needs: CrewNeeds,
  { startOn }: PlannedDays,
  { asOf, followedTo }: FollowedDays,
): CrewGap | undefined {
  if (startOn === null) return undefined;
  const days = crewDays(crew, asOf, daysBetween(asOf, followedTo) + 1);
  const gap = gapAfter(days, needs, Math.max(0, daysBetween(asOf, startOn)));
  if (!gap) return undefined;
  const isWorked = (on: CalendarDate) => crew.weekdays.includes(weekdayOf(on));
  let fromOn = addDays(asOf, gap.fromDay);
  while (!isWorked(fromOn) && fromOn < followedTo) fromOn = addDays(fromOn, 1);
  let toOn = addDays(asOf, gap.untilDay);
  const isOpen = toOn === followedTo;
  while (!isWorked(toOn) && toOn > fromOn) toOn = addDays(toOn, -1);
  return {
    needs,
    fromOn,
    toOn: isOpen ? undefined : toOn,
    isLeave: crew.members.some((m) => isAway(m, fromOn)),
  };
}

/** Is the gap that the runs reckoned with still there? */
export function isGapStillSo(was: CrewGap, crew: Crew, visit: PlannedDays, days: FollowedDays): boolean {
  const now = crewGap(crew, was.needs, visit, days);
  return now?.fromOn === was.fromOn && now.toOn === was.toOn && now.isLeave === was.isLeave;
}
