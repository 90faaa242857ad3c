/** Why hops of the plan in force miss their promise, or are likely to. */
import { and, inArray, isNull } from "drizzle-orm";
import { type CausingVisit, type HopProgress, type PromiseCause, promiseCauses } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { gate, revisit } from "../schema";
import { loadCrews } from "./crews";
import { gateOf, groupBy } from "./design";
import { loadPlanVisits, type PlanHead, type PlannedVisit } from "./plans";
import { doneVisits } from "./reports";
import { loadRisk } from "./risk";

/** By hop code; only hops that have a cause. */
export function loadPromiseCauses(
  db: Db,
  plan: PlanHead | undefined,
  hops: readonly HopProgress[],
  today: CalendarDate,
): ReadonlyMap<string, readonly PromiseCause[]> {
  const asked = hops.filter(
    (h) => h.state === "late" || h.state === "at risk" || (h.shutGates ?? []).length > 0,
  );
  if (!plan || asked.length === 0) return new Map();
  const key = `promise causes ${plan.id} ${today} ${asked.map((h) => h.hopCode).join(" ")}`;
  return remembered(db, key, ["design", "plan", "crews", "reports", "rules"], () =>
    readCauses(db, plan, asked, today),
  );
}

function readCauses(db: Db, plan: PlanHead, hops: readonly HopProgress[], today: CalendarDate) {
  const codes = hops.map((h) => h.hopCode);
  const crews = new Map(loadCrews(db).map((c) => [c.code, c]));
  const done = doneVisits(db);
  const toDo = loadPlanVisits(db, plan.id).filter((v) => !done.has(v.visitId) && !v.isWithdrawn);
  const visits = groupBy(toDo, (v) => v.hopCode);
  const gates = groupBy(db.select().from(gate).where(inArray(gate.hopCode, codes)).all(), (g) => g.hopCode);
  const ran = loadRisk(db, plan)?.risk;
  const standIns = new Map((ran?.standIns ?? []).map((s) => [s.visitId, s]));
  const failed = new Map(
    db
      .select({ visitId: revisit.visitId, cause: revisit.cause })
      .from(revisit)
      .where(and(inArray(revisit.hopCode, codes), isNull(revisit.withdrawnAt)))
      .all()
      .map((r) => [r.visitId, r.cause]),
  );
  const causing = (v: PlannedVisit): CausingVisit => ({
    visitId: v.visitId,
    side: v.side,
    kind: v.kind,
    crewCode: v.crewCode,
    startOn: v.startOn,
    endOn: v.endOn,
    kitReadyOn: v.kitReadyOn,
    standIn: standIns.get(v.visitId),
    failed: failed.get(v.visitId),
  });
  const byId = new Map(toDo.map((v) => [v.visitId, v]));
  const slips = (ran?.slips ?? []).flatMap((slip) => {
    const visit = byId.get(slip.visitId);
    return visit ? [{ visit: causing(visit), slip }] : [];
  });
  return new Map(
    hops.map((progress) => [
      progress.hopCode,
      promiseCauses(
        {
          progress,
          slips,
          gates: (gates.get(progress.hopCode) ?? []).map(gateOf),
          visits: (visits.get(progress.hopCode) ?? []).map(causing),
        },
        crews,
        today,
        ran,
      ),
    ]),
  );
}
