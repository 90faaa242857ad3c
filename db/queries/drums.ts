/** Drums by serial: what is left on them, and taking a new one in. */
import { and, eq, gt, ne } from "drizzle-orm";
import type { Owner } from "@/lib/site";
import type { Db } from "../open";
import { balance, drum, place } from "../schema";

export interface DrumInStock {
  serial: string;
  itemCode: string;
  receivedC: number;
  remainingC: number;
  placeCode: string;
  owner: Owner;
}

/** Drums with cable left, where they stand; what is on hold is offered for nothing. */
export function loadDrums(db: Db): DrumInStock[] {
  return db
    .select({
      serial: drum.serial,
      itemCode: drum.itemCode,
      receivedC: drum.receivedC,
      remainingC: balance.quantityC,
      placeCode: balance.placeCode,
      owner: balance.owner,
    })
    .from(drum)
    .innerJoin(balance, eq(balance.drumSerial, drum.serial))
    .innerJoin(place, eq(place.code, balance.placeCode))
    .where(and(gt(balance.quantityC, 0), ne(place.kind, "hold")))
    .orderBy(drum.itemCode, drum.serial)
    .all();
}

export function saveDrum(db: Db, d: { serial: string; itemCode: string; receivedC: number }): void {
  db.insert(drum).values(d).onConflictDoNothing().run();
}

/** Whether a drum of this serial was received and the receipt stands: such a serial is taken. */
export function isSerialTaken(db: Db, serial: string): boolean {
  return (
    db.$client
      .prepare(
        `SELECT 1 FROM movement m WHERE m.drum_serial = ? AND m.kind = 'receipt'
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)`,
      )
      .get(serial) !== undefined
  );
}

/** A drum as it arrives. One whose receipt was taken back may arrive again, with another length. */
export function registerDrum(db: Db, d: { serial: string; itemCode: string; receivedC: number }): void {
  if (isSerialTaken(db, d.serial)) return;
  const { serial: _, ...rest } = d;
  db.insert(drum).values(d).onConflictDoUpdate({ target: drum.serial, set: rest }).run();
}
