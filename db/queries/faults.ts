/** Pieces found faulty: put on hold, sent to repair, back, exchanged, released or thrown away; all by rows of the ledger. */

import { and, eq } from "drizzle-orm";
import { type Phrase, phrase, shortFigure } from "@/lib/phrase";
import { parseVisitId } from "@/lib/programme";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import type { Owner } from "@/lib/site";
import { type FaultCause, type FaultState, faultSteps } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { fault, item, movement, place } from "../schema";
import { type FaultView, loadFaults, REST_OF } from "./faultViews";
import { endOfFaulty } from "./hung";
import { type NewMovement, reverseMovement, tryMovement, wholeOrNothing } from "./ledger";
import { type By, unreceive } from "./orderSteps";
import { lastSuppliers } from "./ordersToPlace";
import { savePlace } from "./places";
import { addLogEntry } from "./reports";
import { loadBalances } from "./shelves";

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
  visitId?: string;
  foundOn: CalendarDate;
  today: CalendarDate;
}

/** Puts a piece that was found faulty on hold. The same key finds it once. */
export function recordFault(db: Db, note: FaultNote, by: By): Result<{ id: number; isNew: boolean }> {
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
    const source = lying.find((b) => b.owner === i.owner) ?? lying[0];
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
          ? `On hold at receipt of ${note.orderCode}: ${note.symptom}`
          : `${capital(note.cause)}: ${note.symptom}`,
        postedBy: by.name,
      },
      note.serial ? "serial" : "quantity",
    );
    if (refusal) return refused(refusal);
    if (note.serial) endOfFaulty(db, note.serial, note.foundOn, by);
    log(db, by, "fault recorded", id, { item: i.code, serial: note.serial, cause: note.cause });
    return ok({ id, isNew: true });
  });
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

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
  if (n.visitId && !parseVisitId(n.visitId))
    add(
      "visit",
      "visit-unknown",
      n.visitId,
      phrase("That is no visit."),
      phrase("Write it as on the kit, such as H-012/near/install."),
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

/** The place of a repairer, by its name. */
function repairOf(db: Db, repairer: string): string {
  const known = db
    .select()
    .from(place)
    .where(and(eq(place.kind, "repair"), eq(place.name, repairer)))
    .get();
  if (known) return known.code;
  const slug = repairer
    .toUpperCase()
    .replace(/[^A-Z0-9]+/g, " ")
    .trim()
    .slice(0, 40);
  const isTaken = (code: string) => db.select().from(place).where(eq(place.code, code)).get() !== undefined;
  let code = `REPAIR ${slug}`;
  for (let n = 2; isTaken(code); n++) code = `REPAIR ${slug} ${n}`;
  savePlace(db, { code, name: repairer, kind: "repair", latDeg: null, lonDeg: null });
  return code;
}

export type FaultStep =
  | { kind: "to repair"; repairer: string; reference?: string; expectedBackOn?: CalendarDate }
  | { kind: "from repair"; placeCode: string }
  | { kind: "exchange"; placeCode: string; newSerial?: string }
  | { kind: "release"; placeCode: string }
  /** Back to its supplier. `isAwaited`: the order that it came on waits for as much again. */
  | { kind: "return"; isAwaited: boolean }
  | { kind: "scrap" };

export interface StepNote {
  id: number;
  step: FaultStep;
  on: CalendarDate;
  today: CalendarDate;
  reason: string;
  /** Of pieces on hold without serials: of how many it is decided; the rest stays on hold. Undefined = of all. */
  quantity?: number;
}

/** The next step of a faulty piece: one row of the ledger, of an exchange two. Refused when it is not its turn. */
export function stepFault(
  db: Db,
  { id, step, on, today, reason, quantity }: StepNote,
  by: By,
): Result<{ state: FaultState; restId?: number }> {
  return wholeOrNothing(db, () => {
    const whole = loadFaults(db, { id })[0];
    if (!whole) return refused(unknownFault(id));
    const problems = [...stepProblems(db, whole, step, on, today, reason), ...partProblems(whole, quantity)];
    if (problems.length > 0) return refused(...problems);
    const isPart = quantity !== undefined && quantity < whole.quantity;
    const rest = isPart ? leaveOnHold(db, whole, quantity, by) : ok(undefined);
    if (!rest.ok) return rest;
    const f = isPart ? loadFaults(db, { id })[0]! : whole;
    const round = db.$client.prepare("SELECT COUNT(*) FROM movement WHERE fault_id = ?").pluck().get(id);
    const base: NewMovement = {
      key: `fault ${id} ${step.kind} ${round}`,
      kind: step.kind,
      itemCode: f.itemCode,
      lotCode: f.rows.at(-1)?.lotCode ?? undefined,
      serial: f.serial ?? undefined,
      drumSerial: f.drumSerial ?? undefined,
      owner: f.owner,
      fromPlace: f.placeCode ?? undefined,
      quantityC: Math.round(f.quantity * 100),
      effectiveOn: on,
      postedAt: by.at,
      faultId: id,
      reason,
      postedBy: by.name,
    };
    for (const row of rowsOfStep(db, f, step, base)) {
      const refusal = tryMovement(db, row, row.fromPlace === undefined ? "newSerial" : "on");
      if (refusal) return refused(refusal);
    }
    if (step.kind === "to repair")
      db.update(fault)
        .set({ expectedBackOn: step.expectedBackOn ?? null, reference: step.reference ?? f.reference })
        .where(eq(fault.id, id))
        .run();
    if (isAwaited(f, step) && f.orderCode) unreceive(db, f.orderCode, f.itemCode, base.quantityC, by);
    log(db, by, `fault: ${step.kind}`, id, { ...step, on, reason, ...(isPart ? { quantity } : {}) });
    return ok({ state: loadFaults(db, { id })[0]!.state, restId: rest.value });
  });
}

function partProblems(f: FaultView, quantity: number | undefined): Problem[] {
  if (quantity === undefined || quantity === f.quantity) return [];
  const wrong = (message: Phrase, remedy: Phrase) => [problem("quantity", "part", quantity, message, remedy)];
  if (f.serial !== null || f.drumSerial !== null || f.state !== "on hold")
    return wrong(
      phrase("It is decided as a whole."),
      phrase("Leave the quantity out; only pieces on hold without serials are decided in parts."),
    );
  if (!(quantity > 0) || quantity > f.quantity)
    return wrong(
      phrase("{{whole}} are on hold.", { whole: shortFigure(f.quantity) }),
      phrase("Give a quantity up to that."),
    );
  return [];
}

/**
 * Leaves the rest of a hold as a hold of its own, so that each part has one way out. The hold's row is taken back and
 * posted again in two on the day it was made: nothing is on a shelf in between, and no row is changed.
 */
function leaveOnHold(db: Db, f: FaultView, quantity: number, by: By): Result<number> {
  const held = db.$client
    .prepare(
      `SELECT id FROM movement m WHERE fault_id = ? AND kind = 'quality hold'
       AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)`,
    )
    .pluck()
    .get(f.id) as number;
  const row = db.select().from(movement).where(eq(movement.id, held)).get()!;
  const own = db.select().from(fault).where(eq(fault.id, f.id)).get()!;
  const partC = Math.round(quantity * 100);
  const { id: _, ...kept } = own;
  const { id: restId } = db
    .insert(fault)
    .values({ ...kept, key: `${REST_OF}${f.id} ${held}`, quantityC: own.quantityC - partC })
    .returning({ id: fault.id })
    .get();
  db.update(fault).set({ quantityC: partC }).where(eq(fault.id, f.id)).run();
  reverseMovement(db, held, {
    key: `fault ${f.id} parted ${held}`,
    effectiveOn: row.effectiveOn,
    postedAt: by.at,
    reason: "Decided in parts",
    postedBy: by.name,
  });
  for (const [faultId, quantityC] of [
    [f.id, partC],
    [restId, own.quantityC - partC],
  ] as const) {
    const refusal = tryMovement(
      db,
      {
        key: `fault ${faultId} part of ${held}`,
        kind: "quality hold",
        itemCode: row.itemCode,
        lotCode: row.lotCode ?? undefined,
        owner: row.owner,
        fromPlace: row.fromPlace ?? undefined,
        toPlace: row.toPlace ?? undefined,
        quantityC,
        effectiveOn: row.effectiveOn,
        postedAt: by.at,
        visitId: row.visitId ?? undefined,
        faultId,
        reason: row.reason,
        postedBy: by.name,
      },
      "quantity",
    );
    if (refusal) return refused(refusal);
  }
  log(db, by, "fault: parted", f.id, { decided: quantity, rest: restId });
  return ok(restId);
}

/** Whether an order waits for as much again: for a wrong item it never did. */
const isAwaited = (f: FaultView, step: FaultStep): boolean =>
  step.kind === "return" && step.isAwaited && !f.isWrongItem;

function rowsOfStep(db: Db, f: FaultView, step: FaultStep, base: NewMovement): NewMovement[] {
  switch (step.kind) {
    case "to repair":
      return [{ ...base, toPlace: repairOf(db, step.repairer) }];
    case "from repair":
    case "release":
      return [{ ...base, toPlace: step.placeCode }];
    case "exchange":
      return [
        base,
        {
          ...base,
          key: `${base.key} in`,
          serial: step.newSerial,
          lotCode: undefined,
          fromPlace: undefined,
          toPlace: step.placeCode,
          reason: f.serial ? `In place of ${f.serial}: ${base.reason}` : base.reason,
        },
      ];
    case "return":
      // The order's code on the row says that the order waits again, and that it waits no more if the row is taken back.
      return [{ ...base, orderCode: isAwaited(f, step) ? (f.orderCode ?? undefined) : undefined }];
    case "scrap":
      // For the close-out a scrapped piece went back when it went on hold: it is not counted on its visit again.
      return [{ ...base, scrapReason: "damaged" }];
  }
}

function stepProblems(
  db: Db,
  f: FaultView,
  step: FaultStep,
  on: CalendarDate,
  today: CalendarDate,
  reason: string,
): Problem[] {
  const problems: Problem[] = [];
  const add = (path: string, rule: string, value: unknown, message: Phrase, remedy: Phrase) =>
    problems.push(problem(path, rule, value, message, remedy));
  if (!faultSteps(f.state, !f.isMendable).includes(step.kind))
    add(
      "step",
      "fault-state",
      step.kind,
      phrase("Fault {{id}} is {{state}}: {{kind}} is not its turn.", {
        id: String(f.id),
        state: phrase(f.state),
        kind: `"${step.kind}"`,
      }),
      phrase("Reload the page; somebody may have taken the step already."),
    );
  if (on > today)
    add("on", "future", on, phrase("The day lies in the future."), phrase("Give today or an earlier day."));
  if (on < f.since)
    add(
      "on",
      "before",
      on,
      phrase("It stands where it is since {{since}}.", { since: f.since }),
      phrase("Give that day or a later one."),
    );
  if (reason.trim().length < 3)
    add("reason", "reason", reason, phrase("The step needs a reason."), phrase("Say why in a few words."));
  if ("placeCode" in step) {
    const kind = db.select().from(place).where(eq(place.code, step.placeCode)).get()?.kind;
    if (kind !== "warehouse")
      add(
        "placeCode",
        "place",
        step.placeCode,
        phrase("That is no warehouse."),
        phrase("Choose where it comes to."),
      );
  }
  if (step.kind === "exchange" && f.serial && !step.newSerial)
    add(
      "newSerial",
      "serial-missing",
      undefined,
      phrase("The piece that came has a serial."),
      phrase("Copy it from the unit."),
    );
  if (step.kind === "exchange" && f.serial && step.newSerial === f.serial)
    add(
      "newSerial",
      "serial-same",
      step.newSerial,
      phrase("That is the serial of the faulty piece."),
      phrase("If the same piece came back, record it as back from repair."),
    );
  if (step.kind === "to repair" && step.expectedBackOn && step.expectedBackOn < on)
    add(
      "expectedBackOn",
      "before",
      step.expectedBackOn,
      phrase("It cannot be back before it is sent."),
      phrase("Give a later day, or leave it empty."),
    );
  return problems;
}

/** The repairer gives another day, or none. */
export function promiseBack(
  db: Db,
  { id, expectedBackOn, reason }: { id: number; expectedBackOn: CalendarDate | null; reason: string },
  by: By,
): Result<{ expectedBackOn: CalendarDate | null }> {
  return wholeOrNothing(db, () => {
    const f = loadFaults(db, { id })[0];
    if (!f) return refused(unknownFault(id));
    if (f.state !== "in repair")
      return refused(
        problem(
          "id",
          "fault-state",
          id,
          phrase("Fault {{id}} is {{state}}: nothing is promised of it.", {
            id: String(id),
            state: phrase(f.state),
          }),
          phrase("Only a piece in repair is expected back."),
        ),
      );
    db.update(fault).set({ expectedBackOn }).where(eq(fault.id, id)).run();
    log(db, by, "fault: promised back", id, { from: f.expectedBackOn, to: expectedBackOn, reason });
    return ok({ expectedBackOn });
  });
}

const unknownFault = (id: number): Problem =>
  problem(
    "id",
    "fault-unknown",
    id,
    phrase("There is no fault {{id}}.", { id: String(id) }),
    phrase("Open the list of faulty pieces again."),
  );

function log(db: Db, by: By, action: string, id: number, detail: Record<string, unknown>): void {
  addLogEntry(db, { at: by.at, userName: by.name, action, subject: `fault ${id}`, detail });
}
