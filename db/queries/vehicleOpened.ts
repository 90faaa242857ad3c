/** Of what a kit takes no unit along because its vehicle should have one opened: whether the vehicle has it by the books. */
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { holdsOf } from "./holds";
import { IS_DONE, ridesOpened } from "./kitShort";
import { loadPlan, type StoredKitLine } from "./plans";
import { loadOnVehicles } from "./shelves";

/** Neither in the box nor, by the books, opened on the vehicle, and no kit before this one brings it there: it is short. */
export const isLeftOut = (notOpened: NotOpened | null | undefined): boolean =>
  notOpened != null && notOpened.broughtBy === null;

/** A kit, as far as it matters what rides on its vehicle. */
export interface KitOnVehicle {
  visitId: string;
  lines: readonly Pick<StoredKitLine, "itemCode" | "runId" | "neededC" | "boxC" | "pickedC">[];
}

/** Parts of hundredths that adding up leaves over. */
const NOTHING_C = 1e-6;

export interface NotOpened {
  vehicle: string;
  /** How much less the vehicle holds than the kit counts on, hundredths of the item's unit. */
  lacksC: number;
  /** The visit whose kit brings it to the vehicle, and has not left; null = none does, or only such as are on hold. */
  broughtBy: string | null;
}

/**
 * By item what a kit's lines count on and the vehicle does not hold, beside what other kits that were issued to it still
 * use. Empty for a visit that is done, and where no vehicle is known.
 */
export function notOpenedOn(
  db: Db,
  of: { planId: number; kit: KitOnVehicle; vehicle: string | null; isDone: boolean },
  today: CalendarDate,
): Map<string, NotOpened> {
  const { planId, kit, vehicle } = of;
  const lines = kit.lines.filter((l) => l.runId === null && l.neededC > 0 && ridesOpened(l));
  if (vehicle === null || of.isDone || lines.length === 0) return new Map();
  const held = loadOnVehicles(db, today).get(vehicle);
  const spoken = usedByOthers(db, planId, kit.visitId, vehicle);
  return new Map(
    lines.flatMap((l) => {
      const freeC = Math.max(0, (held?.get(l.itemCode) ?? 0) * 100 - (spoken.get(l.itemCode) ?? 0));
      const lacksC = l.neededC - freeC;
      if (lacksC <= NOTHING_C) return [];
      return [[l.itemCode, { vehicle, lacksC, broughtBy: bringerOf(db, planId, kit.visitId, l.itemCode) }]];
    }),
  );
}

/** Items that are neither in the box nor, by the books, opened on the vehicle, nor brought there by an earlier kit. */
export const leftOutOn = (...of: Parameters<typeof notOpenedOn>): string[] =>
  [...notOpenedOn(...of)].flatMap(([itemCode, n]) => (isLeftOut(n) ? [itemCode] : []));

/** By item what issued kits of other visits, not done, still use of what lies on the vehicle, hundredths. */
function usedByOthers(db: Db, planId: number, visitId: string, vehicle: string): Map<string, number> {
  const rows = db.$client
    .prepare(
      `SELECT l.item_code AS itemCode, SUM(MAX(0, l.needed_c - COALESCE((
         SELECT SUM(m.quantity_c) FROM movement m
         WHERE m.kind = 'installed' AND m.visit_id = k.visit_id AND m.item_code = l.item_code AND m.run_id IS NULL
           AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)), 0))) AS usedC
       FROM kit k JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id
       WHERE k.plan_id = @planId AND k.visit_id <> @visitId AND k.state = 'issued' AND l.run_id IS NULL AND NOT ${IS_DONE}
         AND EXISTS (SELECT 1 FROM movement m WHERE m.kind = 'issue' AND m.visit_id = k.visit_id AND m.to_place = @vehicle
                     AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id))
       GROUP BY l.item_code`,
    )
    .all({ planId, visitId, vehicle }) as { itemCode: string; usedC: number }[];
  return new Map(rows.map((r) => [r.itemCode, r.usedC]));
}

/** Of the kits of the same crew before this one that take the item along and have not left, the last that is not on hold. */
function bringerOf(db: Db, planId: number, visitId: string, itemCode: string): string | null {
  const found = db.$client
    .prepare(
      `SELECT k.visit_id FROM plan_visit own
       JOIN plan_visit v ON v.plan_id = own.plan_id AND v.crew_code = own.crew_code AND v.visit_id <> own.visit_id
         AND (v.start_on < own.start_on OR (v.start_on = own.start_on AND v.start_min < own.start_min))
       JOIN kit k ON k.plan_id = v.plan_id AND k.visit_id = v.visit_id AND k.state <> 'issued'
       JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id
         AND l.item_code = @itemCode AND l.run_id IS NULL AND l.box_c > 0
       WHERE own.plan_id = @planId AND own.visit_id = @visitId AND NOT ${IS_DONE}
       ORDER BY v.start_on DESC, v.start_min DESC`,
    )
    .pluck()
    .all({ planId, visitId, itemCode }) as string[];
  const plan = found.length > 0 ? loadPlan(db, planId) : undefined;
  const onHold = plan && holdsOf(db, plan);
  return found.find((id) => !onHold?.has(id)) ?? null;
}
