/** The record of what planners changed in a plan by hand; undo and redo go along it, person by person. */
import { and, asc, desc, eq, gt, max } from "drizzle-orm";
import type { Db } from "../open";
import { type NewPlace, planEdit, planVisit } from "../schema";

export type PlanEditRow = typeof planEdit.$inferSelect;

/** Adds an edit and gives its number. What the same person had undone cannot be done again after it. Call inside `writing`. */
export function recordEdit(db: Db, edit: Omit<PlanEditRow, "editNo" | "state" | "ofNo">): number {
  db.update(planEdit)
    .set({ state: "dropped" })
    .where(
      and(eq(planEdit.planId, edit.planId), eq(planEdit.userId, edit.userId), eq(planEdit.state, "undone")),
    )
    .run();
  return append(db, { ...edit, ofNo: null });
}

/** Adds the undo or redo of an edit, and marks that. Call inside `writing`. */
export function recordReturn(
  db: Db,
  edit: Omit<PlanEditRow, "editNo" | "state" | "kind" | "ofNo">,
  kind: "undo" | "redo",
  ofNo: number,
): number {
  db.update(planEdit)
    .set({ state: kind === "undo" ? "undone" : "done" })
    .where(and(eq(planEdit.planId, edit.planId), eq(planEdit.editNo, ofNo)))
    .run();
  return append(db, { ...edit, kind, ofNo });
}

function append(db: Db, edit: Omit<PlanEditRow, "editNo" | "state">): number {
  const last = db
    .select({ no: max(planEdit.editNo) })
    .from(planEdit)
    .where(eq(planEdit.planId, edit.planId))
    .get()?.no;
  const editNo = (last ?? 0) + 1;
  db.insert(planEdit)
    .values({ ...edit, editNo })
    .run();
  return editNo;
}

export function loadEdit(db: Db, planId: number, editNo: number): PlanEditRow | undefined {
  return db
    .select()
    .from(planEdit)
    .where(and(eq(planEdit.planId, planId), eq(planEdit.editNo, editNo)))
    .get();
}

/** All edits of a plan that count, in the order in which they were made: not what was taken back, and not the taking back. */
export function standingEdits(db: Db, planId: number): PlanEditRow[] {
  return editsSince(db, planId, 0).filter((e) => e.ofNo === null && e.state === "done");
}

/** What was done after the plan stood at `revision`, oldest first. */
export function editsSince(db: Db, planId: number, revision: number): PlanEditRow[] {
  return db
    .select()
    .from(planEdit)
    .where(and(eq(planEdit.planId, planId), gt(planEdit.revision, revision)))
    .orderBy(asc(planEdit.editNo))
    .all();
}

/** What a person can undo now, and do again. */
/** Were visits of it moved by hand, be it taken back since? Each time the plan is priced anew by the data of that day. */
export function wasMovedByHand(db: Db, planId: number): boolean {
  const row = db
    .select({ editNo: planEdit.editNo })
    .from(planEdit)
    .where(and(eq(planEdit.planId, planId), eq(planEdit.kind, "move")))
    .limit(1)
    .get();
  return row !== undefined;
}

export interface EditEnds {
  undo?: PlanEditRow;
  redo?: PlanEditRow;
}

export function editEnds(db: Db, planId: number, userId: string): EditEnds {
  const own = (state: "done" | "undone") =>
    and(eq(planEdit.planId, planId), eq(planEdit.userId, userId), eq(planEdit.state, state));
  const done = db.select().from(planEdit).where(own("done")).orderBy(desc(planEdit.editNo)).all();
  const undone = db.select().from(planEdit).where(own("undone")).orderBy(asc(planEdit.editNo)).limit(1).all();
  return { undo: done.find((e) => e.ofNo === null), redo: undone[0] };
}

/** Of the edits after `editNo`, the last that changed one of these visits. */
export function lastChangeOf(
  db: Db,
  planId: number,
  editNo: number,
  visitIds: ReadonlySet<string>,
): PlanEditRow | undefined {
  const later = db
    .select()
    .from(planEdit)
    .where(and(eq(planEdit.planId, planId), gt(planEdit.editNo, editNo)))
    .orderBy(desc(planEdit.editNo))
    .all();
  return later.find((e) => e.changes.some((c) => visitIds.has(c.after.visitId)));
}

/** Where visits of a plan stand. */
export function placesOf(db: Db, planId: number, visitIds: readonly string[]): Map<string, NewPlace> {
  const wanted = new Set(visitIds);
  const rows = db
    .select({
      visitId: planVisit.visitId,
      crewCode: planVisit.crewCode,
      startOn: planVisit.startOn,
      startMin: planVisit.startMin,
      endOn: planVisit.endOn,
      endMin: planVisit.endMin,
      riskMin: planVisit.riskMin,
      isPinned: planVisit.isPinned,
      unplacedRule: planVisit.unplacedRule,
      unplacedDetail: planVisit.unplacedDetail,
    })
    .from(planVisit)
    .where(eq(planVisit.planId, planId))
    .all();
  return new Map(rows.filter((r) => wanted.has(r.visitId)).map((r) => [r.visitId, r]));
}
