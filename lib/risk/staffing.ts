/** On which days a crew has the people that a visit needs. */
import type { CrewDay, VisitNeeds } from "@/lib/schedule";

const NEEDS = ["climbers", "rescuers", "riggers", "technicians", "people"] as const;

export const isStaffed = (day: CrewDay | null, needs: VisitNeeds): boolean =>
  day !== null && NEEDS.every((n) => day[n] >= needs[n]);

/** Last day on which the crew has the people by itself; -1 = never. */
export const lastStaffedDay = (days: readonly (CrewDay | null)[], needs: VisitNeeds): number =>
  days.findLastIndex((day) => isStaffed(day, needs));

/** So many days without the people in a row are a gap: more than a weekend with a day of leave on either side. Our own choice. */
const GAP_DAYS = 5;

/** The first and the last day of a row of days on which a crew cannot do a visit; the last may be that of the days followed. */
export interface StaffingGap {
  fromDay: number;
  untilDay: number;
}

/**
 * The first gap that ends on `plannedDay` or later: days off of every week are none. After the last day with people of
 * its own others stand in: no gap.
 */
export function gapAfter(
  days: readonly (CrewDay | null)[],
  needs: VisitNeeds,
  plannedDay: number,
): StaffingGap | undefined {
  const last = lastStaffedDay(days, needs);
  const goes = days.map((day, d) => day !== null && (d > last || isStaffed(day, needs)));
  const isUsual = (d: number) => goes[d - 7] || goes[d + 7];
  for (let fromDay = 0, d = 0; d <= goes.length; d++) {
    if (d < goes.length && !goes[d]) continue;
    if (
      d > plannedDay &&
      d - fromDay >= GAP_DAYS &&
      goes.slice(fromDay, d).some((_, k) => isUsual(fromDay + k))
    )
      return { fromDay, untilDay: d - 1 };
    fromDay = d + 1;
  }
  return undefined;
}
