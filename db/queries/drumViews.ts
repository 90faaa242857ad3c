/** Drums with their cuts and the account of every metre. */
import { and, eq, gt } from "drizzle-orm";
import { accountOf, type CuttingPlan, type MetreAccount } from "@/lib/drums";
import type { Owner } from "@/lib/site";
import type { Db } from "../open";
import { balance, drum, kitLine } from "../schema";
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

/** The visit whose kit holds a run; undefined when no kit of the plan does. */
export function visitOfRun(db: Db, planId: number, runId: string): string | undefined {
  return db
    .select({ visitId: kitLine.visitId })
    .from(kitLine)
    .where(and(eq(kitLine.planId, planId), eq(kitLine.runId, runId)))
    .get()?.visitId;
}
