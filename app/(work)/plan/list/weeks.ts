/** The weeks of a plan's list. */
import type { BoardVisitRow } from "@/db/queries/planViews";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";

type Placed = Pick<BoardVisitRow, "startOn" | "endOn">;

const WEEK_DAYS = 7;

export const mondayOf = (day: CalendarDate): CalendarDate => addDays(day, 1 - weekdayOf(day));

/** Visits by the Monday of each week that they touch: a crew needs the one that goes on from last week too. */
export function weeksOf<V extends Placed>(visits: readonly V[]): [monday: CalendarDate, visits: V[]][] {
  const weeks = new Map<CalendarDate, V[]>();
  for (const v of visits) {
    const last = mondayOf(v.endOn ?? v.startOn!);
    for (let monday = mondayOf(v.startOn!); monday <= last; monday = addDays(monday, WEEK_DAYS)) {
      const there = weeks.get(monday);
      if (there) there.push(v);
      else weeks.set(monday, [v]);
    }
  }
  return [...weeks].sort(([a], [b]) => (a < b ? -1 : 1));
}

/** Those that begin in the week: the work of each visit is counted once, in the week of its start. */
export const begunIn = <V extends Placed>(monday: CalendarDate, visits: readonly V[]): V[] =>
  visits.filter((v) => v.startOn! >= monday);
