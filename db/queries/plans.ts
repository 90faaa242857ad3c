/** Plans with their visits, kits, cutting lists and netting. */
import { and, asc, desc, eq, isNotNull, sql } from "drizzle-orm";
import type { CuttingPlan } from "@/lib/drums";
import type { StoredNight } from "@/lib/programme";
import type { PlanCost, VisitKind } from "@/lib/schedule";
import type { EndSide } from "@/lib/site";
import { addDays, type CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import {
  kit,
  kitLine,
  type NettingBody,
  type NewPlace,
  plan,
  planCutting,
  planNetting,
  planTransfer,
  planVisit,
} from "../schema";
import { IS_SHORT, IS_WANTED, IS_WHOLE, neverIssued } from "./kitShort";
import { doneVisits } from "./reports";
import { withdrawnVisits } from "./withdrawn";

export type { NewPlace } from "../schema";

export type PlanState = "draft" | "in force" | "past";

export interface PlanHead {
  id: number;
  state: PlanState;
  firstDay: CalendarDate;
  dayCount: number;
  seed: string;
  iterations: number;
  cost: PlanCost;
  lowerBound: number;
  basis: Record<string, unknown>;
  createdBy: string;
  createdAt: number;
  publishedAt: number | null;
  revision: number;
}

export interface PlannedVisit {
  visitId: string;
  kind: VisitKind;
  hopCode: string;
  side: EndSide;
  siteCode: string;
  durationMin: number;
  /** Done at both ends in the same hours. */
  isJoint: boolean;
  kitReadyOn: CalendarDate | null;
  crewCode: string | null;
  startOn: CalendarDate | null;
  startMin: number | null;
  endOn: CalendarDate | null;
  endMin: number | null;
  riskMin: number;
  isPinned: boolean;
  unplacedRule: string | null;
  unplacedDetail: string | null;
  /** A revisit that was taken back since: nobody goes there. Left out = it stands. */
  isWithdrawn?: boolean;
}

export interface StoredKit {
  visitId: string;
  pickOn: CalendarDate;
  placeCode: string;
  state: "planned" | "picked" | "issued";
  massKg: number;
  volumeL: number;
  lines: StoredKitLine[];
}

export interface StoredKitLine {
  itemCode: string;
  name: string;
  neededC: number;
  boxC: number;
  pickedC: number;
  pickedBy?: string | null;
  shortC: number;
  drumSerial: string | null;
  runId: string | null;
  lotCode: string | null;
  reason: string;
}

export interface StoredNetting {
  itemCode: string;
  /** The warehouse; '' = all of them together. */
  placeCode: string;
  runsOutOn: CalendarDate | null;
  onHandC: number;
  totalNeedC: number;
  body: NettingBody;
}

/** A transfer that the netting proposes. */
export interface StoredTransfer {
  itemCode: string;
  fromPlace: string;
  toPlace: string;
  quantityC: number;
  sendOn: CalendarDate;
  arriveOn: CalendarDate;
  daysLate: number;
  fromReserve: boolean;
}

/** What a plan needs of the stock: rows by item and place, and what should be sent from place to place. */
export interface PlanNeeds {
  netting: StoredNetting[];
  transfers: StoredTransfer[];
}

export interface NewPlan extends PlanNeeds {
  head: Omit<PlanHead, "id" | "publishedAt" | "revision">;
  visits: PlannedVisit[];
  kits: StoredKit[];
  cutting: CuttingPlan[];
}

/** Stores a plan with all that follows from it; returns its id. Call inside `writing`. */
export function savePlan(db: Db, p: NewPlan): number {
  if (p.head.state === "in force") retirePlanInForce(db);
  const { id } = db.insert(plan).values(p.head).returning({ id: plan.id }).get();
  for (const v of p.visits) {
    db.insert(planVisit)
      .values({ planId: id, ...v })
      .run();
  }
  for (const k of p.kits) {
    const { lines, ...head } = k;
    db.insert(kit)
      .values({ planId: id, ...head })
      .run();
    lines.forEach((l, i) => {
      db.insert(kitLine)
        .values({ planId: id, visitId: k.visitId, lineNo: i + 1, ...l })
        .run();
    });
  }
  savePlanStock(db, id, p.cutting, p);
  return id;
}

/** Replaces the cutting lists, the netting and the proposed transfers of a plan. */
export function savePlanStock(
  db: Db,
  planId: number,
  cutting: CuttingPlan[],
  { netting, transfers }: PlanNeeds,
): void {
  db.delete(planCutting).where(eq(planCutting.planId, planId)).run();
  db.delete(planNetting).where(eq(planNetting.planId, planId)).run();
  db.delete(planTransfer).where(eq(planTransfer.planId, planId)).run();
  for (const c of cutting) db.insert(planCutting).values({ planId, cableCode: c.cableCode, body: c }).run();
  for (const n of netting) {
    db.insert(planNetting)
      .values({ planId, ...n })
      .run();
  }
  for (const t of transfers) {
    db.insert(planTransfer)
      .values({ planId, ...t })
      .run();
  }
}

export function loadPlans(db: Db): PlanHead[] {
  return db.select().from(plan).orderBy(desc(plan.id)).all();
}

export function loadPlan(db: Db, id: number): PlanHead | undefined {
  return db.select().from(plan).where(eq(plan.id, id)).get();
}

export function planInForce(db: Db): PlanHead | undefined {
  return db.select().from(plan).where(eq(plan.state, "in force")).get();
}

function retirePlanInForce(db: Db): void {
  db.update(plan).set({ state: "past" }).where(eq(plan.state, "in force")).run();
}

/**
 * Puts a draft in force and the one before it into the past. False when the plan is no draft or was changed since
 * `revision` was read: nothing is written then.
 */
export function putInForce(db: Db, id: number, revision: number, at: number): boolean {
  const row = loadPlan(db, id);
  if (row?.state !== "draft" || row.revision !== revision) return false;
  retirePlanInForce(db);
  db.update(plan)
    .set({ state: "in force", publishedAt: at, revision: revision + 1 })
    .where(eq(plan.id, id))
    .run();
  return true;
}

export function loadPlanVisits(db: Db, planId: number): PlannedVisit[] {
  const withdrawn = withdrawnVisits(db);
  return db
    .select({
      visitId: planVisit.visitId,
      kind: planVisit.kind,
      hopCode: planVisit.hopCode,
      side: planVisit.side,
      siteCode: planVisit.siteCode,
      durationMin: planVisit.durationMin,
      isJoint: planVisit.isJoint,
      kitReadyOn: planVisit.kitReadyOn,
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
    .orderBy(asc(planVisit.startOn), asc(planVisit.startMin), asc(planVisit.visitId))
    .all()
    .map((v) => (withdrawn.has(v.visitId) ? { ...v, isWithdrawn: true } : v));
}

/** Visits of one crew, in time order. */
export function loadCrewVisits(db: Db, planId: number, crewCode: string): PlannedVisit[] {
  return loadPlanVisits(db, planId).filter((v) => v.crewCode === crewCode);
}

/** Pins or frees visits that have a place, as one edit; false when someone changed the plan since `revision` was read. */
export function setPinned(
  db: Db,
  planId: number,
  visitIds: readonly string[],
  isPinned: boolean,
  revision: number,
): boolean {
  const row = loadPlan(db, planId);
  if (!row || row.revision !== revision) return false;
  let changed = 0;
  for (const visitId of visitIds) {
    changed += db
      .update(planVisit)
      .set({ isPinned })
      .where(and(eq(planVisit.planId, planId), eq(planVisit.visitId, visitId), isNotNull(planVisit.crewCode)))
      .run().changes;
  }
  if (changed === 0) return false;
  db.update(plan)
    .set({ revision: revision + 1 })
    .where(eq(plan.id, planId))
    .run();
  return true;
}

export function loadCutting(db: Db, planId: number): CuttingPlan[] {
  return db
    .select()
    .from(planCutting)
    .where(eq(planCutting.planId, planId))
    .orderBy(planCutting.cableCode)
    .all()
    .map((r) => r.body);
}

/** @param itemCode only that item's shelves; undefined = every item's */
export function loadNetting(db: Db, planId: number, itemCode?: string): StoredNetting[] {
  return db
    .select()
    .from(planNetting)
    .where(and(eq(planNetting.planId, planId), itemCode ? eq(planNetting.itemCode, itemCode) : undefined))
    .orderBy(planNetting.itemCode, planNetting.placeCode)
    .all()
    .map(({ planId: _, ...rest }) => rest);
}

/**
 * Nights that crews sleep away by a plan: the search names them by crew and day index, a hand move by code and date.
 * @param crewCodes in the order of the crews
 */
export function nightsOfPlan(head: PlanHead, crewCodes: readonly string[]): StoredNight[] {
  const nights = (head.basis.nights ?? []) as (StoredNight | { crew: number; day: number })[];
  return nights.flatMap((n): StoredNight[] => {
    if ("crewCode" in n) return [n];
    const crewCode = crewCodes[n.crew];
    return crewCode === undefined ? [] : [{ crewCode, on: addDays(head.firstDay, n.day) }];
  });
}

/** The day for which the netting of a plan was made; null when there is none. */
export function nettingDay(db: Db, planId: number): CalendarDate | null {
  const row = db
    .select({ firstOn: sql<CalendarDate>`json_extract(${planNetting.body}, '$.firstOn')` })
    .from(planNetting)
    .where(eq(planNetting.planId, planId))
    .limit(1)
    .get();
  return row?.firstOn ?? null;
}

/** Kits of a plan without their lines, in picking order. */
export function loadKits(db: Db, planId: number): Omit<StoredKit, "lines">[] {
  return db
    .select()
    .from(kit)
    .where(eq(kit.planId, planId))
    .orderBy(kit.pickOn, kit.visitId)
    .all()
    .map(({ planId: _, ...rest }) => rest);
}

export function loadKit(db: Db, planId: number, visitId: string): StoredKit | undefined {
  const where = and(eq(kit.planId, planId), eq(kit.visitId, visitId));
  const head = db.select().from(kit).where(where).get();
  if (!head) return undefined;
  const lines = db
    .select()
    .from(kitLine)
    .where(and(eq(kitLine.planId, planId), eq(kitLine.visitId, visitId)))
    .orderBy(kitLine.lineNo)
    .all()
    .map(({ planId: _p, visitId: _v, lineNo: _l, ...rest }) => rest);
  const { planId: _, ...rest } = head;
  return { ...rest, lines };
}

/** Short lines, by visit: what the kit list marks. Of an issued kit the lines that it left without all of. */
export function shortLineCounts(db: Db, planId: number): Map<string, number> {
  const rows = db.$client
    .prepare(
      `SELECT l.visit_id AS v, COUNT(*) AS n FROM kit_line l
       JOIN kit k ON k.plan_id = l.plan_id AND k.visit_id = l.visit_id
       WHERE l.plan_id = ? AND ${IS_SHORT} GROUP BY l.visit_id`,
    )
    .all(planId) as { v: string; n: number }[];
  return new Map(rows.map((r) => [r.v, r.n]));
}

/** How far the kits are picked, by visit: lines, and of them those that are whole; of all visits, or of one. */
export function pickedLineCounts(
  db: Db,
  planId: number,
  visitId: string | null = null,
): Map<string, { lineCount: number; pickedCount: number }> {
  const rows = db.$client
    .prepare(
      `SELECT l.visit_id AS visitId, COUNT(*) AS lineCount, SUM(${IS_WHOLE}) AS pickedCount
       FROM kit_line l WHERE l.plan_id = ? AND ${IS_WANTED} AND l.visit_id = COALESCE(?, l.visit_id)
       GROUP BY l.visit_id`,
    )
    .all(planId, visitId) as { visitId: string; lineCount: number; pickedCount: number }[];
  return new Map(rows.map(({ visitId, ...counts }) => [visitId, counts]));
}

export function setKitState(db: Db, planId: number, visitId: string, state: StoredKit["state"]): void {
  db.update(kit)
    .set({ state })
    .where(and(eq(kit.planId, planId), eq(kit.visitId, visitId)))
    .run();
}

/** Left out, `pickedBy` stays as it is. */
export function setPicked(
  db: Db,
  planId: number,
  visitId: string,
  lineNo: number,
  pickedC: number,
  pickedBy?: string | null,
): void {
  db.update(kitLine)
    .set({ pickedC, pickedBy })
    .where(and(eq(kitLine.planId, planId), eq(kitLine.visitId, visitId), eq(kitLine.lineNo, lineNo)))
    .run();
}

/** Adds notes to what a plan rests on; what stands there under other names stays. */
export function noteInBasis(db: Db, id: number, notes: Record<string, unknown>): void {
  const row = loadPlan(db, id);
  if (!row) return;
  db.update(plan)
    .set({ basis: { ...row.basis, ...notes } })
    .where(eq(plan.id, id))
    .run();
}

/** Copies a plan with its visits, kits, cutting lists and netting as a new draft; returns its id. */
export function copyAsDraft(
  db: Db,
  id: number,
  by: { createdBy: string; createdAt: number; basis: Record<string, unknown> },
): number | undefined {
  const row = loadPlan(db, id);
  if (!row) return undefined;
  const { id: _, publishedAt: _p, revision: _r, ...head } = row;
  const copy = db
    .insert(plan)
    .values({ ...head, ...by, state: "draft" })
    .returning({ id: plan.id })
    .get().id;
  const proposed = db.select().from(planTransfer).where(eq(planTransfer.planId, id)).all();
  for (const { id: _id, ...t } of proposed)
    db.insert(planTransfer)
      .values({ ...t, planId: copy })
      .run();
  for (const table of [planVisit, planCutting, planNetting, kit, kitLine]) {
    const rows = db.select().from(table).where(eq(table.planId, id)).all();
    for (const r of rows)
      db.insert(table)
        .values({ ...r, planId: copy })
        .run();
  }
  return copy;
}

/** Writes new places into a draft and counts it as one edit; false when it is no draft or was changed meanwhile. */
export function writePlaces(
  db: Db,
  id: number,
  revision: number,
  places: readonly NewPlace[],
  head: { cost: PlanCost; basis: Record<string, unknown> },
): boolean {
  const row = loadPlan(db, id);
  if (row?.state !== "draft" || row.revision !== revision) return false;
  for (const { visitId, ...place } of places) {
    db.update(planVisit)
      .set(place)
      .where(and(eq(planVisit.planId, id), eq(planVisit.visitId, visitId)))
      .run();
  }
  db.update(plan)
    .set({ ...head, revision: revision + 1 })
    .where(eq(plan.id, id))
    .run();
  return true;
}

/** Adds visits to a plan that has no row of them. */
export function addPlanVisits(db: Db, planId: number, visits: readonly PlannedVisit[]): void {
  for (const v of visits)
    db.insert(planVisit)
      .values({ planId, ...v })
      .run();
}

/** Removes a draft; false when it is no draft or was changed since `revision` was read. */
export function deleteDraft(db: Db, id: number, revision: number): boolean {
  const row = loadPlan(db, id);
  if (row?.state !== "draft" || row.revision !== revision) return false;
  db.delete(plan).where(eq(plan.id, id)).run();
  return true;
}

/**
 * Visits that a newer plan does not know because their work is over, as the older one placed them: their reports are
 * corrected, photos follow, and what was not used comes back.
 * @returns their ids
 */
export function carryPlaces(db: Db, fromId: number, toId: number, visitIds: ReadonlySet<string>): string[] {
  const isThere = new Set(loadPlanVisits(db, toId).map((v) => v.visitId));
  const rows = loadPlanVisits(db, fromId).filter(
    (v) => v.crewCode !== null && visitIds.has(v.visitId) && !isThere.has(v.visitId),
  );
  addPlanVisits(db, toId, rows);
  return rows.map((v) => v.visitId);
}

/**
 * Kits of a plan that were picked or issued go over to another plan as they are, for visits it still has; so do those of
 * visits that are done, issued or not.
 */
export function carryKits(db: Db, fromId: number, toId: number): number {
  const isThere = new Set(loadPlanVisits(db, toId).map((v) => v.visitId));
  const done = doneVisits(db);
  const worked = loadKits(db, fromId).filter(
    (k) => (k.state !== "planned" || done.has(k.visitId)) && isThere.has(k.visitId),
  );
  for (const { visitId } of worked) {
    const { lines, ...head } = loadKit(db, fromId, visitId)!;
    db.delete(kit)
      .where(and(eq(kit.planId, toId), eq(kit.visitId, visitId)))
      .run();
    db.insert(kit)
      .values({ planId: toId, ...head })
      .run();
    lines.forEach((l, i) => {
      db.insert(kitLine)
        .values({ planId: toId, visitId, lineNo: i + 1, ...l })
        .run();
    });
  }
  return worked.length;
}

/**
 * Replaces the kits of a plan that nobody has begun to pick. One that is begun stays, but what goes into its box follows
 * the kits around it: which of them opens a new unit for the others depends on their order. One whose visit is done stays
 * too: none is made in its place, and what left for it is booked on it.
 */
export function replacePlannedKits(db: Db, planId: number, kits: readonly StoredKit[]): void {
  db.delete(kit)
    .where(and(eq(kit.planId, planId), eq(kit.state, "planned"), sql`NOT ${sql.raw(neverIssued("kit"))}`))
    .run();
  const kept = new Set(loadKits(db, planId).map((k) => k.visitId));
  for (const { lines, ...head } of kits) {
    if (kept.has(head.visitId)) {
      for (const { itemCode, boxC } of lines.filter((l) => l.runId === null))
        db.update(kitLine)
          .set({ boxC })
          .where(
            and(
              eq(kitLine.planId, planId),
              eq(kitLine.visitId, head.visitId),
              eq(kitLine.itemCode, itemCode),
            ),
          )
          .run();
      continue;
    }
    db.insert(kit)
      .values({ planId, ...head })
      .run();
    lines.forEach((l, i) => {
      db.insert(kitLine)
        .values({ planId, visitId: head.visitId, lineNo: i + 1, ...l })
        .run();
    });
  }
}
