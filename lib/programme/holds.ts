/** What holds a hop besides the one reason that a list names first, and what stays planned of it all the same. */
import type { CalendarDate } from "@/lib/time";
import { OPEN_GATE } from "./gates";
import type { HopState } from "./progress";

export interface FurtherHolds {
  gates: number;
  checks: number;
}

/** How the reason begins of a hop whose design fails a check. */
const DESIGN_CHECK = "design check: ";

/**
 * How many open gates and failed checks hold a hop besides the first reason: each must be lifted before it is planned.
 * Only of hops that no plan places whole: elsewhere work goes on as planned.
 */
export function furtherHolds(hop: {
  byPlan: HopState;
  heldBy: string | null | undefined;
  openGates: number;
  /** Failed design checks of both ends and of the hop; null = not taken off yet. */
  failCount: number | null;
}): FurtherHolds {
  if (hop.byPlan !== "held" && hop.byPlan !== "not planned") return { gates: 0, checks: 0 };
  const named = (beginning: string) => (hop.heldBy?.includes(beginning) ? 1 : 0);
  return {
    gates: Math.max(0, hop.openGates - named(OPEN_GATE)),
    checks: Math.max(0, (hop.failCount ?? 0) - named(DESIGN_CHECK)),
  };
}

/** Visits that keep their place in the plan and are still to come: a hold of one end leaves the other's work planned. */
export const stillPlanned = <
  V extends { startOn: CalendarDate | null; doneOn: CalendarDate | null; outcome?: string | null },
>(
  visits: readonly V[],
): V[] => visits.filter((v) => v.startOn !== null && v.doneOn === null && v.outcome !== "withdrawn");
