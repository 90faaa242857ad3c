/** Drums with their cuts and the account of every metre. */
import { and, eq, gt } from "drizzle-orm";
import { accountOf, type CuttingPlan, type ListedCut, type MetreAccount, marksNow } from "@/lib/drums";
import { cutsStayUntil, ON_ORDER } from "@/lib/programme";
import type { Owner } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { balance, drum, kit, kitLine } from "../schema";
import { cutsMade } from "./ledger";
import { loadCutting } from "./plans";

export interface CableView {
  plan: CuttingPlan;
  account: MetreAccount;
}

/** Cutting lists of a plan, cable by cable, each held to its metre account before it is shown. */
export function loadCables(db: Db, planId: number): CableView[] {
  return loadCutting(db, planId).map((plan) => ({ plan, account: accountOf(plan) }));
}

export interface DrumRow {
  serial: string;
  itemCode: string;
  placeCode: string | null;
  receivedC: number;
  remainingC: number;
  cutC: number;
  allowanceC: number;
  /** Everything else that left it: scrap, adjustments, issues. */
  otherC: number;
}

/** Every drum ever received with what the ledger says became of its metres. */
export function loadDrumAccounts(db: Db): DrumRow[] {
  const rows = db.$client
    .prepare(
      `SELECT d.serial, d.item_code AS itemCode, d.received_c AS receivedC,
        (SELECT place_code FROM balance b WHERE b.drum_serial = d.serial AND b.quantity_c > 0) AS placeCode,
        (SELECT COALESCE(SUM(quantity_c), 0) FROM balance b WHERE b.drum_serial = d.serial) AS remainingC,
        (SELECT COALESCE(SUM(m.quantity_c), 0) FROM movement m WHERE m.drum_serial = d.serial AND m.kind = 'cut'
           AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)) AS cutC,
        (SELECT COALESCE(SUM(m.quantity_c), 0) FROM movement m WHERE m.drum_serial = d.serial AND m.kind = 'scrap'
           AND m.run_id IS NOT NULL
           AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)) AS allowanceC
       FROM drum d ORDER BY d.item_code, d.serial`,
    )
    .all() as Omit<DrumRow, "otherC">[];
  return rows.map((r) => ({ ...r, otherC: r.receivedC - r.remainingC - r.cutC - r.allowanceC }));
}

/** Where a drum stands and whose it is; undefined when nothing is left on it. */
export function standingDrum(
  db: Db,
  serial: string,
): { itemCode: string; placeCode: string; owner: Owner; remainingC: number; receivedC: number } | undefined {
  return db
    .select({
      itemCode: drum.itemCode,
      placeCode: balance.placeCode,
      owner: balance.owner,
      remainingC: balance.quantityC,
      receivedC: drum.receivedC,
    })
    .from(drum)
    .innerJoin(balance, eq(balance.drumSerial, drum.serial))
    .where(and(eq(drum.serial, serial), gt(balance.quantityC, 0)))
    .get();
}

/** Runs that a plan's lists cut after the day they are wanted, or not at all, or from a drum that is still to be bought. */
export function runsCutTooLate(db: Db, planId: number): Set<string> {
  return new Set(
    loadCutting(db, planId).flatMap((c) => [
      ...[...c.late, ...c.uncut].map(({ run }) => run.id),
      ...c.drums.flatMap((d) => (d.buy ? d.cuts.map((cut) => cut.runId) : [])),
    ]),
  );
}

/** What a plan's lists cut from drums that are there: orders and purchases left out, made cuts too. */
export function listedCuts(db: Db, planId: number): ListedCut[] {
  const made = cutsMade(db);
  return loadCutting(db, planId).flatMap((c) =>
    c.drums
      .filter((d) => !d.buy && d.drum.placeId !== ON_ORDER)
      .flatMap(({ drum: { id }, cuts }) =>
        cuts
          .filter((cut) => !made.has(cut.runId))
          .map(({ runId, fromMarkCm, lengthCm }) => ({ runId, drumId: id, fromMarkCm, lengthCm })),
      ),
  );
}

/** Runs of kits that somebody has begun to pick. */
export function begunRuns(db: Db, planId: number): Set<string> {
  const rows = db.$client
    .prepare(
      `SELECT l.run_id FROM kit_line l JOIN kit k ON k.plan_id = l.plan_id AND k.visit_id = l.visit_id
       WHERE l.plan_id = ? AND l.run_id IS NOT NULL AND (k.state = 'picked' OR EXISTS
         (SELECT 1 FROM kit_line p WHERE p.plan_id = l.plan_id AND p.visit_id = l.visit_id AND p.picked_c > 0))`,
    )
    .pluck()
    .all(planId) as string[];
  return new Set(rows);
}

export interface CutsMoved {
  /** Begin at another mark of the drum. */
  shifted: { runId: string; fromCm: number; toCm: number }[];
  /** Do not fit on it any more: netting finds them another drum. */
  lost: string[];
}

/**
 * What became of the cuts of a drum that people have on their lists (due up to the next working day, or of kits that
 * somebody has begun), now that a cut of another length was made from it. Netting leaves them just there.
 */
export function cutsMoved(
  db: Db,
  planId: number,
  serial: string,
  sawAllowanceCm: number,
  today: CalendarDate,
): CutsMoved {
  const until = cutsStayUntil(today);
  const begun = begunRuns(db, planId);
  const made = cutsMade(db);
  const listed = loadCutting(db, planId)
    .flatMap((c) => c.drums)
    .find((d) => d.drum.serial === serial);
  const standing = standingDrum(db, serial);
  if (!listed) return { shifted: [], lost: [] };
  const { receivedCm } = listed.drum;
  const now = marksNow(
    listed.cuts.filter((c) => !made.has(c.runId) && (c.cutOn <= until || begun.has(c.runId))),
    { fromCm: receivedCm - (standing?.remainingC ?? 0), receivedCm },
    sawAllowanceCm,
  );
  return {
    shifted: now.flatMap(({ runId, wasCm, isCm }) =>
      isCm === undefined || isCm === wasCm ? [] : [{ runId, fromCm: wasCm, toCm: isCm }],
    ),
    lost: now.filter((c) => c.isCm === undefined).map((c) => c.runId),
  };
}

/** The warehouse of the kit that wants each run, by run id. */
export function placesOfRuns(db: Db, planId: number): Map<string, string> {
  const rows = db
    .select({ runId: kitLine.runId, placeCode: kit.placeCode })
    .from(kitLine)
    .innerJoin(kit, and(eq(kit.planId, kitLine.planId), eq(kit.visitId, kitLine.visitId)))
    .where(eq(kitLine.planId, planId))
    .all();
  return new Map(rows.flatMap((r) => (r.runId ? [[r.runId, r.placeCode] as const] : [])));
}

/** The visit whose kit holds a run; undefined when no kit of the plan does. */
export function visitOfRun(db: Db, planId: number, runId: string): string | undefined {
  return db
    .select({ visitId: kitLine.visitId })
    .from(kitLine)
    .where(and(eq(kitLine.planId, planId), eq(kitLine.runId, runId)))
    .get()?.visitId;
}
