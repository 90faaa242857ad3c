/** Working out anew how sure a plan is. */
import type { Db } from "@/db/open";
import { activeJobsOfKind, type Job } from "@/db/queries/jobs";
import type { Visitor } from "./carryOut";
import { JOB_KINDS } from "./jobKinds";
import { startJob } from "./jobs";

/** The job that works it out for this plan, for the one in force without `planId`; undefined when none is under way. */
export function activeRiskJob(db: Db, planId?: number): Job | undefined {
  return activeJobsOfKind(db, "risk").find((j) => JOB_KINDS.risk.input.parse(j.input).planId === planId);
}

/** Starts it; one that waits in the queue will do. Gives the job's id. */
export function riskAgain(db: Db, visitor: Visitor, planId?: number): string {
  const active = activeRiskJob(db, planId);
  return active?.state === "queued" ? active.id : startJob(db, "risk", { planId }, visitor.userId);
}
