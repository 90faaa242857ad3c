/** Visits on hold. A hold lasts until the visit is reported again, or until a plan made after it is in force. */
import type { Db } from "../open";
import { knownAt } from "./dataSince";
import type { PlanHead } from "./plans";
import { reportsSince } from "./reports";

export interface Hold {
  reason: string;
  /** Who reported it: the crew lead, or a manager for the crew. */
  by: string;
  at: number;
}

/** What is on hold by visit id: a plan that was made after the report gave the visit its place with the hold known. */
export function holdsOf(db: Db, plan: PlanHead): ReadonlyMap<string, Hold> {
  const holds = new Map<string, Hold>();
  for (const [visitId, r] of reportsSince(db, knownAt(db, plan)))
    if (r.outcome === "hold")
      holds.set(visitId, { reason: r.holdReason ?? "", by: r.reportedBy, at: r.reportedAt });
  return holds;
}
