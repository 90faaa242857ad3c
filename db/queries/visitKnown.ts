/** What the plan, the kit and other reports say of a visit: a report of it is held against that. */
import { eq } from "drizzle-orm";
import type { UseKnown, VisitKnown } from "@/lib/programme";
import type { EndSide } from "@/lib/site";
import type { Db } from "../open";
import { item } from "../schema";
import { issuedOf } from "./kitOut";
import { cutsMade } from "./ledger";
import { loadKit, type PlannedVisit, type StoredKitLine } from "./plans";
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
  const dead = deadOfKit(db, visitId);
  const pieces = new Set(
    db
      .select({ code: item.code })
      .from(item)
      .where(eq(item.unit, "piece"))
      .all()
      .map((i) => i.code),
  );
  const kit = loadKit(db, planId, visitId);
  const lost = kit?.state === "issued" ? goneFromBox(db, visitId, kit.lines) : undefined;
  return (kit?.lines ?? []).map(({ itemCode, runId, neededC, boxC, pickedC }) => {
    const cut = runId === null ? undefined : cuts.get(runId);
    const before = uses.filter((u) => u.itemCode === itemCode && u.runId === runId);
    const isPiece = runId === null && pieces.has(itemCode);
    // Of what has an allowance the vehicle may bring what an earlier kit left over.
    const ofVehicleC = neededC % 100 === 0 ? 0 : Math.ceil(neededC / 100) * 100;
    const packedC = kit?.state === "issued" ? pickedC + (lost?.get(itemCode) ?? 0) : Math.max(boxC, pickedC);
    return {
      itemCode,
      runId,
      planned: neededC / 100,
      cut: cut && cut.quantityC / 100,
      before: before.reduce((sum, u) => sum + u.usedC, 0) / 100,
      ...(isPiece
        ? { held: Math.max(packedC, ofVehicleC) / 100, deadBefore: dead.get(itemCode) ?? 0 }
        : undefined),
    };
  });
}

/** By item, what was issued and is not counted as in the box any more: `deadOfKit` counts it. */
function goneFromBox(
  db: Db,
  visitId: string,
  lines: readonly Pick<StoredKitLine, "itemCode" | "runId" | "pickedC">[],
): Map<string, number> {
  const gone = new Map<string, number>();
  for (const r of issuedOf(db, visitId)) gone.set(r.itemCode, (gone.get(r.itemCode) ?? 0) + r.issuedC);
  for (const l of lines)
    if (l.runId === null && gone.has(l.itemCode))
      gone.set(l.itemCode, Math.max(0, gone.get(l.itemCode)! - l.pickedC));
  return gone;
}

/** Pieces that earlier reports of a visit found dead or doubtful, by item; without what was taken back. */
function deadOfKit(db: Db, visitId: string): Map<string, number> {
  const rows = db.$client
    .prepare(
      `SELECT f.item_code AS itemCode, SUM(m.quantity_c) / 100 AS dead
       FROM fault f JOIN movement m ON m.fault_id = f.id AND m.kind = 'quality hold'
       WHERE f.visit_id = ? AND f.cause <> 'failed in service'
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       GROUP BY f.item_code`,
    )
    .all(visitId) as { itemCode: string; dead: number }[];
  return new Map(rows.map((r) => [r.itemCode, r.dead]));
}
