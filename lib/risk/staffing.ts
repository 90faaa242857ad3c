/** On which days a crew has the people that a visit needs. */
import type { CrewDay, VisitNeeds } from "@/lib/schedule";

const NEEDS = ["climbers", "rescuers", "riggers", "technicians", "people"] as const;

export const isStaffed = (day: CrewDay | null, needs: VisitNeeds): boolean =>
  day !== null && NEEDS.every((n) => day[n] >= needs[n]);

/** Last day on which the crew has the people by itself; -1 = never. */
export const lastStaffedDay = (days: readonly (CrewDay | null)[], needs: VisitNeeds): number =>
  days.findLastIndex((day) => isStaffed(day, needs));
