/** "Rest": enough hours between the end of a shift and the start of the next. */
import type { PlanCrew } from "../types";

export const REST = {
  name: "rest",
  text: (restMin: number) => `the crew would have less than ${hours(restMin)} of rest before its next shift`,
};

/**
 * Latest minute at which the crew may end `day`: shift end plus overtime, and `restMin` before the next shift of its
 * calendar. Counted against the calendar rather than the plan, so that a day's limit never depends on its neighbours.
 */
export function homeByMin(crew: PlanCrew, day: number): number {
  const shift = crew.days[day]!;
  let limit = Math.floor(shift.toMin + crew.overtimeMaxMin);
  for (let ahead = 1; ahead <= 2; ahead++) {
    const later = crew.days[day + ahead];
    if (later) limit = Math.min(limit, Math.floor(ahead * 1440 + later.fromMin - crew.restMin));
  }
  return limit;
}

const hours = (min: number) => `${Math.round((min / 60) * 10) / 10} h`;
