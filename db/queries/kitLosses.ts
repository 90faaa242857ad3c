/** What an issued kit lost or left without: the box follows the ledger, and what is not replaced is wanted again. */
import type { Db } from "../open";
import { issuedOf } from "./kitOut";
import { loadKit, planInForce, setPicked } from "./plans";
import { doneVisits, STANDING } from "./reports";
import { withdrawnVisits } from "./withdrawn";

/** Rows that put something on hold off a vehicle and stand (SQL, movement m with its place p). */
const HELD_OFF_VEHICLE = `m.kind = 'quality hold' AND p.kind = 'vehicle'
  AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)`;

/**
 * Writes how much of an item the crew has of its issued kit: what was issued less what a fault put on hold. Returns and
 * use do not count, as after the issue itself; once the visit is done nothing is wanted any more.
 */
export function boxFollowsLedger(db: Db, visitId: string, itemCode: string): void {
  const plan = planInForce(db);
  const kit = plan && loadKit(db, plan.id, visitId);
  if (!plan || kit?.state !== "issued" || doneVisits(db).has(visitId)) return;
  const issuedC = issuedOf(db, visitId)
    .filter((r) => r.itemCode === itemCode)
    .reduce((sum, r) => sum + r.issuedC, 0);
  let leftC = Math.max(0, issuedC - heldOfVisit(db, visitId, itemCode));
  const own = kit.lines.flatMap((l, at) =>
    l.itemCode === itemCode && l.runId === null ? [{ ...l, at }] : [],
  );
  for (const [i, { at, boxC }] of own.entries()) {
    const partC = i === own.length - 1 ? leftC : Math.min(leftC, boxC);
    setPicked(db, plan.id, visitId, at + 1, partC);
    leftC -= partC;
  }
}

function heldOfVisit(db: Db, visitId: string, itemCode: string): number {
  return db.$client
    .prepare(
      `SELECT COALESCE(SUM(m.quantity_c), 0) FROM movement m JOIN place p ON p.code = m.from_place
       WHERE m.visit_id = ? AND m.item_code = ? AND ${HELD_OFF_VEHICLE}`,
    )
    .pluck()
    .get(visitId, itemCode) as number;
}

/**
 * Of issued kits of the plan in force, by visit and item, what their lines lack because a fault put it on hold, in
 * hundredths. What somebody issued short on purpose is not here.
 */
export function lostOfKits(db: Db, visitId: string | null = null): Map<string, Map<string, number>> {
  const rows = db.$client
    .prepare(
      `SELECT l.visit_id AS visitId, l.item_code AS itemCode, MIN(SUM(l.box_c - l.picked_c), h.heldC) AS lostC
       FROM (SELECT m.visit_id, m.item_code, SUM(m.quantity_c) AS heldC
             FROM movement m JOIN place p ON p.code = m.from_place
             WHERE m.visit_id = COALESCE(@visitId, m.visit_id) AND ${HELD_OFF_VEHICLE} GROUP BY 1, 2) h
       JOIN plan ON plan.state = 'in force'
       JOIN kit k ON k.plan_id = plan.id AND k.visit_id = h.visit_id AND k.state = 'issued'
       JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id AND l.item_code = h.item_code
       WHERE l.run_id IS NULL AND l.picked_c < l.box_c
       GROUP BY l.visit_id, l.item_code`,
    )
    .all({ visitId }) as { visitId: string; itemCode: string; lostC: number }[];
  const lost = new Map<string, Map<string, number>>();
  if (rows.length === 0) return lost;
  const done = doneVisits(db);
  for (const { visitId: id, itemCode, lostC } of rows)
    if (!done.has(id)) lost.set(id, (lost.get(id) ?? new Map()).set(itemCode, lostC));
  return lost;
}

/** `lostOfKits` in units, as netting reads it. */
export const lostUnits = (db: Db): Map<string, Map<string, number>> =>
  new Map(
    [...lostOfKits(db)].map(([visitId, items]) => [
      visitId,
      new Map([...items].map(([itemCode, lostC]) => [itemCode, lostC / 100])),
    ]),
  );

/**
 * Runs that go after issued kits of the plan in force: they were not in the box, or were lost since, and no report says
 * that they hang. Unlike what a person issued short, each is wanted: without it the end is not done.
 */
export function runsToFollow(db: Db): Set<string> {
  const rows = db.$client
    .prepare(
      `SELECT l.run_id AS runId, k.visit_id AS visitId
       FROM plan JOIN kit k ON k.plan_id = plan.id AND k.state = 'issued'
       JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id
       WHERE plan.state = 'in force' AND l.run_id IS NOT NULL AND l.picked_c = 0
         AND NOT EXISTS (SELECT 1 FROM report_use u JOIN visit_report v ON v.id = u.report_id
                         WHERE u.run_id = l.run_id AND u.used_c > 0 AND ${STANDING})`,
    )
    .all() as { runId: string; visitId: string }[];
  if (rows.length === 0) return new Set();
  const [done, withdrawn] = [doneVisits(db), withdrawnVisits(db)];
  return new Set(rows.filter((r) => !done.has(r.visitId) && !withdrawn.has(r.visitId)).map((r) => r.runId));
}
