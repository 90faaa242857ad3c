/** What becomes of a faulty piece: repair, back, exchange, release, scrap; all by rows of the ledger. */

import { and, eq } from "drizzle-orm";
import { type Phrase, phrase, shortFigure } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import { type FaultState, faultSteps, isSameSerial } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { fault, movement, place } from "../schema";
import { type FaultView, loadFaults, REST_OF } from "./faultViews";
import { type NewMovement, reverseMovement, tryMovement, wholeOrNothing } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import { addLogEntry, type By, type LogAction } from "./log";
import { unreceive } from "./orderSteps";
import { savePlace } from "./places";
import { serialAsKept } from "./serials";

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
  { id, step: typed, on, today, reason, quantity }: StepNote,
  by: By,
): Result<{ state: FaultState; restId?: number }> {
  return wholeOrNothing(db, () => {
    const whole = loadFaults(db, { id })[0];
    if (!whole) return refused(unknownFault(id));
    const step = withSerialAsKept(db, typed);
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
    reason: ledgerReason("parted"),
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

const withSerialAsKept = (db: Db, step: FaultStep): FaultStep =>
  step.kind === "exchange" && step.newSerial
    ? { ...step, newSerial: serialAsKept(db, step.newSerial) }
    : step;

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
          reason: f.serial ? ledgerReason("inPlaceOf", { code: f.serial, why: base.reason }) : base.reason,
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
  if (step.kind === "exchange" && f.serial && step.newSerial && isSameSerial(step.newSerial, f.serial))
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

export function log(db: Db, by: By, action: LogAction, id: number, detail: Record<string, unknown>): void {
  addLogEntry(db, { at: by.at, userName: by.name, action, subject: `fault ${id}`, detail });
}
