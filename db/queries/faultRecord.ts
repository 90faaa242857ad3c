/** A piece found faulty: what is told of it, and its way onto hold. */

import { eq } from "drizzle-orm";
import { type Phrase, phrase, shortFigure } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import type { Owner } from "@/lib/site";
import type { FaultCause } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { fault, item, place } from "../schema";
import { log } from "./faultSteps";
import { endOfFaulty } from "./hung";
import { boxFollowsLedger } from "./kitLosses";
import { issuedOf } from "./kitOut";
import { tryMovement, wholeOrNothing } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import type { By } from "./log";
import { lastSuppliers } from "./ordersToPlace";
import { savePlace } from "./places";
import { serialAsKept } from "./serials";
import { loadBalances } from "./shelves";
import { visitIdTyped } from "./typedVisit";

export interface FaultNote {
  /** Made once per form, or per line of a report. */
  key: string;
  itemCode: string;
  /** Serial on the piece, where it has one. */
  serial?: string;
  /** A whole drum, all that is left on it. */
  drumSerial?: string;
  /** The lot it is of, where the shelf has several. */
  lotCode?: string;
  /** Whose it is, where the shelf may hold both; undefined = the item's own owner first. */
  owner?: Owner;
  /** The order on whose receipt it is put on hold: then pieces need no serial, and may be parts of a unit. */
  orderCode?: string;
  /** Whole units; a piece with a serial is one. */
  quantity: number;
  cause: FaultCause;
  symptom: string;
  /** Where it was; undefined = outside the places: it was installed already. */
  fromPlace?: string;
  /** Warehouse on whose hold it is put. */
  warehouseCode: string;
  /** Whom it came from; undefined = whom the item was ordered from last. */
  supplier?: string;
  /** As it is shown, or its id. */
  visitId?: string;
  foundOn: CalendarDate;
  today: CalendarDate;
}

/** Puts a piece that was found faulty on hold. The same key finds it once. */
export function recordFault(
  db: Db,
  { visitId: typed, ...rest }: FaultNote,
  by: By,
): Result<{ id: number; isNew: boolean }> {
  const note = {
    ...rest,
    serial: rest.serial && serialAsKept(db, rest.serial),
    visitId: typed && (visitIdTyped(db, typed) ?? typed),
  };
  const known = db.select({ id: fault.id }).from(fault).where(eq(fault.key, note.key)).get();
  if (known) return ok({ id: known.id, isNew: false });
  return wholeOrNothing(db, () => {
    const problems = faultProblems(db, note);
    if (problems.length > 0) return refused(...problems);
    const i = db.select().from(item).where(eq(item.code, note.itemCode)).get()!;
    const quantityC = Math.round(note.quantity * 100);
    const lying = loadBalances(db, i.code).filter(
      (b) =>
        b.placeCode === note.fromPlace &&
        b.quantityC >= quantityC &&
        b.drumSerial === (note.drumSerial ?? "") &&
        (note.owner === undefined || b.owner === note.owner) &&
        (note.lotCode === undefined || b.lotCode === note.lotCode),
    );
    // On the vehicle of its visit's kit it was of the kit, where the kit had any.
    const ofKit = note.visitId ? issuedOf(db, note.visitId).filter((r) => r.itemCode === i.code) : [];
    const source =
      lying.find((b) =>
        ofKit.some((r) => r.vehiclePlace === b.placeCode && r.lotCode === b.lotCode && r.owner === b.owner),
      ) ??
      lying.find((b) => b.owner === i.owner) ??
      lying[0];
    if (note.fromPlace !== undefined && !source)
      return refused(
        problem(
          "from",
          "none-there",
          note.fromPlace,
          phrase("The ledger has no {{quantity}} of {{code}} at {{fromPlace}}.", {
            quantity: shortFigure(note.quantity),
            code: i.code,
            fromPlace: note.fromPlace,
          }),
          phrase("Choose where it was; of a unit that was installed say so."),
        ),
      );
    const owner = source?.owner ?? ownerOfSerial(db, note.serial) ?? i.owner;
    const { id } = db
      .insert(fault)
      .values({
        key: note.key,
        itemCode: i.code,
        serial: note.serial ?? null,
        drumSerial: note.drumSerial ?? null,
        orderCode: note.orderCode ?? null,
        owner,
        quantityC,
        cause: note.cause,
        symptom: note.symptom,
        foundOn: note.foundOn,
        visitId: note.visitId ?? null,
        supplier: note.supplier ?? lastSuppliers(db).get(i.code) ?? "",
        warehouseCode: note.warehouseCode,
        recordedBy: by.name,
        recordedAt: by.at,
      })
      .returning({ id: fault.id })
      .get();
    const refusal = tryMovement(
      db,
      {
        key: `fault ${id} quality hold 0`,
        kind: "quality hold",
        itemCode: i.code,
        lotCode: source?.lotCode || undefined,
        serial: note.serial,
        drumSerial: note.drumSerial,
        owner,
        fromPlace: note.fromPlace,
        toPlace: holdOf(db, note.warehouseCode),
        quantityC,
        effectiveOn: note.foundOn,
        postedAt: by.at,
        visitId: note.visitId,
        faultId: id,
        reason: note.orderCode
          ? ledgerReason("heldAtDoor", { code: note.orderCode, why: note.symptom })
          : ledgerReason(REASON_OF[note.cause], { why: note.symptom }),
        postedBy: by.name,
      },
      note.serial ? "serial" : "quantity",
    );
    if (refusal) return refused(refusal);
    if (note.visitId && note.fromPlace !== undefined) boxFollowsLedger(db, note.visitId, i.code);
    if (note.serial) endOfFaulty(db, note.serial, note.foundOn, by);
    log(db, by, "fault recorded", id, { item: i.code, serial: note.serial, cause: note.cause });
    return ok({ id, isNew: true });
  });
}

const REASON_OF = {
  "dead on arrival": "deadOnArrival",
  "failed in service": "failedInService",
  doubtful: "doubtful",
} as const satisfies Record<FaultCause, string>;

function ownerOfSerial(db: Db, serial: string | undefined): "contractor" | "customer" | undefined {
  if (serial === undefined) return undefined;
  return db.$client
    .prepare("SELECT owner FROM movement WHERE serial = ? ORDER BY id DESC LIMIT 1")
    .pluck()
    .get(serial) as "contractor" | "customer" | undefined;
}

function faultProblems(db: Db, n: FaultNote): Problem[] {
  const problems: Problem[] = [];
  const add = (path: string, rule: string, value: unknown, message: Phrase, remedy: Phrase) =>
    problems.push(problem(path, rule, value, message, remedy));
  const i = db.select().from(item).where(eq(item.code, n.itemCode)).get();
  const kindOf = (code: string | undefined) =>
    code === undefined ? undefined : db.select().from(place).where(eq(place.code, code)).get()?.kind;
  if (!i)
    add(
      "item",
      "item-unknown",
      n.itemCode,
      phrase("The catalogue has no such item."),
      phrase("Choose one of the list."),
    );
  if (i?.category === "IF cable" && !n.drumSerial)
    add(
      "drum",
      "fault-cable",
      n.itemCode,
      phrase("Cable is put on hold by the whole drum."),
      phrase("Choose the drum, or scrap the length from it."),
    );
  if (i?.category === "IF cable" && n.serial)
    add(
      "serial",
      "serial-drum",
      n.serial,
      phrase("A drum is named as a drum."),
      phrase("Leave the serial empty."),
    );
  if (i?.category === "ODU" && !n.serial && !n.orderCode)
    add(
      "serial",
      "serial-missing",
      n.serial,
      phrase("A radio unit is followed by its serial."),
      phrase("Copy it from the unit."),
    );
  if (!(n.quantity > 0) || !(Number.isInteger(n.quantity) || n.drumSerial || n.orderCode))
    add(
      "quantity",
      "quantity",
      n.quantity,
      phrase("Faulty pieces are counted whole."),
      phrase("Give a whole number from 1."),
    );
  if (n.serial && n.quantity !== 1)
    add(
      "quantity",
      "serial-one",
      n.quantity,
      phrase("A serial is one piece."),
      phrase("Record each piece by itself."),
    );
  if (kindOf(n.warehouseCode) !== "warehouse")
    add(
      "warehouse",
      "place",
      n.warehouseCode,
      phrase("That is no warehouse."),
      phrase("Choose whose hold it goes to."),
    );
  const from = kindOf(n.fromPlace);
  if (n.fromPlace !== undefined && (from === undefined || from === "hold" || from === "repair"))
    add(
      "from",
      "place",
      n.fromPlace,
      phrase("It cannot be found there."),
      phrase("Choose a warehouse, vehicle or site."),
    );
  if (n.foundOn > n.today)
    add(
      "on",
      "future",
      n.foundOn,
      phrase("The day lies in the future."),
      phrase("Give today or an earlier day."),
    );
  if (n.symptom.trim().length < 3)
    add(
      "symptom",
      "reason",
      n.symptom,
      phrase("What is wrong must be said."),
      phrase("Say it in a few words."),
    );
  if (n.visitId && visitIdTyped(db, n.visitId) === undefined)
    add(
      "visit",
      "visit-unknown",
      n.visitId,
      phrase("That is no visit."),
      phrase("Write it as on its kit: the hop and the end, such as H-012 near."),
    );
  return problems;
}

/** The hold of a warehouse; it comes into being with the first piece. */
function holdOf(db: Db, warehouseCode: string): string {
  const w = db.select().from(place).where(eq(place.code, warehouseCode)).get()!;
  const code = `${w.code} HOLD`;
  savePlace(db, { code, name: `Hold at ${w.name}`, kind: "hold", latDeg: w.latDeg, lonDeg: w.lonDeg });
  return code;
}
