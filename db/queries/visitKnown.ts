/** What the plan, the kit and other reports say of a visit: a report of it is held against that. */
import type { UseKnown, VisitKnown } from "@/lib/programme";
import type { EndSide } from "@/lib/site";
import type { Db } from "../open";
import { cutsMade } from "./ledger";
import { loadKit, type PlannedVisit } from "./plans";
import { doneVisits, usesOfVisit } from "./reports";

/** @param correctedId the report in whose place the next one stands: it counts no more then */
export function loadVisitKnown(
  db: Db,
  planId: number,
  visit: PlannedVisit,
  { shiftFromMin, correctedId }: { shiftFromMin: number; correctedId: number | undefined },
): VisitKnown {
  return {
    kind: visit.kind,
    startOn: visit.startOn,
    plannedMin: visit.durationMin,
    shiftFromMin,
    openInstalls: openInstalls(db, planId, visit.hopCode),
    uses: usesKnown(db, planId, visit.visitId, correctedId),
  };
}

function openInstalls(db: Db, planId: number, hopCode: string): VisitKnown["openInstalls"] {
  const rows = db.$client
    .prepare(
      `SELECT visit_id AS visitId, side FROM plan_visit
       WHERE plan_id = ? AND hop_code = ? AND kind = 'install' ORDER BY side DESC, visit_id`,
    )
    .all(planId, hopCode) as { visitId: string; side: EndSide }[];
  if (rows.length === 0) return [];
  const done = doneVisits(db);
  return rows.filter((r) => !done.has(r.visitId));
}

function usesKnown(db: Db, planId: number, visitId: string, correctedId: number | undefined): UseKnown[] {
  const uses = usesOfVisit(db, visitId).filter((u) => u.reportId !== correctedId);
  const cuts = cutsMade(db);
  return (loadKit(db, planId, visitId)?.lines ?? []).map(({ itemCode, runId, neededC }) => {
    const cut = runId === null ? undefined : cuts.get(runId);
    const before = uses.filter((u) => u.itemCode === itemCode && u.runId === runId);
    return {
      itemCode,
      runId,
      planned: neededC / 100,
      cut: cut && cut.quantityC / 100,
      before: before.reduce((sum, u) => sum + u.usedC, 0) / 100,
    };
  });
}
