/** Visits on hold. A hold lasts until it is lifted, the visit is reported again, or a plan made after it is in force. */
import { eq } from "drizzle-orm";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import type { Db } from "../open";
import { visitReport } from "../schema";
import { knownAt } from "./dataSince";
import { addLogEntry } from "./log";
import { loadPlanVisits, type PlanHead, planInForce } from "./plans";
import { latestOf, reportsOfVisit, reportsSince } from "./reports";

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

export interface LiftingVisitor {
  name: string;
  /** Of a crew lead: no other crew's visits. */
  onlyCrew?: string;
}

/**
 * Lifts the hold of a visit, which then stands as planned and as reported before. Its report stays, marked, with its hours.
 * @param reportId the hold that whoever lifts it has read; lifted already, only the same person and reason are answered anew
 */
export function liftHold(
  db: Db,
  { visitId, reportId, why }: { visitId: string; reportId: number; why: string },
  by: LiftingVisitor & { at: number },
): Result<null, Problem> {
  const plan = planInForce(db);
  const crew = plan && loadPlanVisits(db, plan.id).find((v) => v.visitId === visitId)?.crewCode;
  if (crew && by.onlyCrew !== undefined && by.onlyCrew !== crew)
    return refused(
      problem(
        "visitId",
        "other-crew",
        visitId,
        phrase("This visit belongs to crew {{crew}}.", { crew }),
        phrase("Only its own crew lead, a rollout manager or an administrator may lift its hold."),
      ),
    );
  const reports = reportsOfVisit(db, visitId);
  const hold = reports.find((r) => r.id === reportId && r.outcome === "hold");
  if (hold && hold.liftedAt !== null) {
    // A phone that did not hear the answer sends it again.
    if (hold.liftedBy === by.name && hold.liftedWhy === why) return ok(null);
    return refused(
      problem(
        "visitId",
        "lifted-meanwhile",
        visitId,
        phrase("Lifted meanwhile by {{name}}: {{why}}", {
          name: hold.liftedBy ?? "",
          why: hold.liftedWhy ?? "",
        }),
        phrase("Load the page again to see how it stands."),
      ),
    );
  }
  if (!hold || latestOf(reports) !== hold || !crew || !holdsOf(db, plan).has(visitId))
    return refused(
      problem(
        "visitId",
        "not-on-hold",
        visitId,
        phrase("This visit is not on hold any more."),
        phrase("Load the page again to see how it stands."),
      ),
    );
  // What it stands in place of counts no more, with its material: who worked there has to say anew how it stands.
  if (hold.correctsId !== null)
    return refused(
      problem(
        "visitId",
        "hold-corrects",
        visitId,
        phrase("This hold stands in the place of an earlier report."),
        phrase("Report the visit again as it stands: that ends the hold."),
      ),
    );
  db.update(visitReport)
    .set({ liftedAt: by.at, liftedBy: by.name, liftedWhy: why })
    .where(eq(visitReport.id, reportId))
    .run();
  addLogEntry(db, {
    at: by.at,
    userName: by.name,
    action: "lift hold",
    subject: visitId,
    detail: { hold: hold.holdReason, why },
  });
  return ok(null);
}
