/** Movements that a person records: cuts, and receipts, transfers, counts, scrap and returns outside orders and kits. */

import { eq } from "drizzle-orm";
import { type Phrase, phrase } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import { type ScrapReason, takesSerials } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { drum, item, type movement, place } from "../schema";
import { amountPhrase } from "./amountPhrase";
import { isSerialTaken, registerDrum } from "./drums";
import { standingDrum } from "./drumViews";
import { faultRowsToTakeBack } from "./faultViews";
import { boxFollowsLedger } from "./kitLosses";
import { pickCutRun } from "./kitPicking";
import { rowsBySerial } from "./kitSerials";
import {
  cutsMade,
  ledgerRefusal,
  movementById,
  movementByKey,
  type NewMovement,
  reversalsOf,
  reverseMovement,
  tryMovement,
  wholeOrNothing,
} from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import { addLogEntry, type By } from "./log";
import { receiveAgain, unreceive } from "./orderSteps";
import { lotProblems, pastLastDay } from "./pastLastDay";
import { receivedSerialProblems } from "./serialReceipt";
import { serialAsKept } from "./serials";
import { loadBalances, loadLots, saveLot } from "./shelves";
import { visitIdTyped } from "./typedVisit";

export interface CutNote {
  drumSerial: string;
  runId: string;
  visitId: string;
  label: string;
  /** As measured; may differ from the list. */
  lengthC: number;
  plannedC: number;
  sawAllowanceC: number;
  on: CalendarDate;
  planId: number;
}

/**
 * Confirms a cut: one row for the run, one for the saw allowance, the run ticked off in its kit. The allowance shrinks
 * to what is left when the run takes the drum's end. A run is cut once: asked again it says who did it.
 */
export function confirmCut(db: Db, cut: CutNote, by: By): Result<{ leftC: number }> {
  return wholeOrNothing(db, () => {
    const made = cutsMade(db).get(cut.runId);
    const standing = standingDrum(db, cut.drumSerial);
    const problems: Problem[] = [];
    if (made)
      problems.push(
        problem(
          "run",
          "run-cut",
          cut.label,
          phrase("The run was cut from drum {{drum}} on {{day}} by {{name}}.", {
            drum: made.drumSerial,
            day: made.effectiveOn,
            name: made.postedBy,
          }),
          "Take that cut back in the ledger if it was wrong.",
        ),
      );
    if (!standing)
      problems.push(
        problem(
          "drum",
          "drum-empty",
          cut.drumSerial,
          "The drum is not in stock or has nothing left.",
          "Cut from another drum; net again to see which.",
        ),
      );
    else if (cut.lengthC > standing.remainingC)
      problems.push(
        problem(
          "length",
          "drum-end",
          cut.lengthC / 100,
          phrase("The drum has {{left}} left.", { left: amountPhrase(standing.remainingC, "m") }),
          "Check the length; each run is one piece.",
        ),
      );
    if (problems.length > 0 || !standing) return refused(...problems);
    const round = db.$client
      .prepare("SELECT COUNT(*) FROM movement WHERE run_id = ? AND kind = 'cut'")
      .pluck()
      .get(cut.runId) as number;
    const row = {
      itemCode: standing.itemCode,
      drumSerial: cut.drumSerial,
      owner: standing.owner,
      fromPlace: standing.placeCode,
      effectiveOn: cut.on,
      postedAt: by.at,
      visitId: cut.visitId,
      runId: cut.runId,
      postedBy: by.name,
    };
    const lengths = {
      label: cut.label,
      n: (cut.lengthC / 100).toFixed(2),
      m: (cut.plannedC / 100).toFixed(2),
    };
    const first = tryMovement(
      db,
      {
        ...row,
        key: `cut ${cut.runId} ${round}`,
        kind: "cut",
        quantityC: cut.lengthC,
        reason: ledgerReason(cut.lengthC === cut.plannedC ? "cutAsListed" : "cutOtherwise", lengths),
      },
      "length",
    );
    if (first) return refused(first);
    const sawC = Math.min(cut.sawAllowanceC, standing.remainingC - cut.lengthC);
    if (sawC > 0) {
      const second = tryMovement(
        db,
        {
          ...row,
          key: `saw ${cut.runId} ${round}`,
          kind: "scrap",
          quantityC: sawC,
          reason: ledgerReason("saw", { label: cut.label }),
        },
        "length",
      );
      if (second) return refused(second);
    }
    pickCutRun(db, cut.planId, cut.visitId, {
      runId: cut.runId,
      quantityC: cut.lengthC,
      placeCode: standing.placeCode,
    });
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "run cut",
      subject: `drum ${cut.drumSerial}`,
      detail: { run: cut.runId, length: cut.lengthC / 100, planned: cut.plannedC / 100 },
    });
    return ok({ leftC: standing.remainingC - cut.lengthC - sawC });
  });
}

export type ManualKind = "receipt" | "transfer" | "count adjustment" | "scrap" | "return";

export interface ManualNote {
  kind: ManualKind;
  itemCode: string;
  fromPlace?: string;
  toPlace?: string;
  /** Units; for a count what was counted. */
  quantity: number;
  lotCode?: string;
  expiresOn?: CalendarDate;
  /** Of a receipt: that last day of use is past, and it is taken in all the same. */
  sureOfExpired?: CalendarDate;
  drumSerial?: string;
  /** Of radios that are received: those that were read, as typed. */
  serials?: readonly string[];
  /** The visit for which it is thrown away or comes back, as it is shown or its id: counts for its hop's close-out. */
  visitId?: string;
  on: CalendarDate;
  today: CalendarDate;
  reason: string;
  /** Of scrap. */
  scrapReason?: ScrapReason;
  /** Made once per form. */
  key: string;
}

/** Records one movement by hand, or says everything that is wrong with it. */
export function recordMovement(
  db: Db,
  { visitId: typed, ...rest }: ManualNote,
  by: By,
): Result<{ id: number }> {
  const note = {
    ...rest,
    serials: rest.serials?.map((serial) => serialAsKept(db, serial)) ?? [],
    visitId: typed && (visitIdTyped(db, typed) ?? typed),
  };
  return wholeOrNothing(db, () => {
    // Sent again, what came with a serial would stand there already.
    const known = note.serials.length > 0 ? movementByKey(db, note.key) : undefined;
    if (known !== undefined) return ok({ id: known });
    const problems = manualProblems(db, note);
    if (problems.length > 0) return refused(...problems);
    const i = db.select().from(item).where(eq(item.code, note.itemCode)).get()!;
    const quantityC = Math.round(note.quantity * 100);
    let owner = i.owner;
    if (note.kind === "receipt") {
      if (note.lotCode) saveLot(db, { code: note.lotCode, itemCode: i.code, expiresOn: note.expiresOn });
      if (note.drumSerial)
        registerDrum(db, { serial: note.drumSerial, itemCode: i.code, receivedC: quantityC });
    }
    const at = note.fromPlace ?? note.toPlace!;
    const there = loadBalances(db, i.code).filter(
      (b) =>
        b.placeCode === at && b.lotCode === (note.lotCode ?? "") && b.drumSerial === (note.drumSerial ?? ""),
    );
    if (there.length > 0 && !there.some((b) => b.owner === owner)) owner = there[0]!.owner;
    const row: NewMovement = {
      key: note.key,
      kind: note.kind,
      itemCode: i.code,
      lotCode: note.lotCode,
      drumSerial: note.drumSerial,
      owner,
      fromPlace: note.fromPlace,
      toPlace: note.toPlace,
      quantityC,
      effectiveOn: note.on,
      postedAt: by.at,
      visitId: note.visitId,
      reason: note.reason,
      scrapReason: note.kind === "scrap" ? note.scrapReason : undefined,
      postedBy: by.name,
    };
    if (note.kind === "count adjustment") {
      const heldC = there.filter((b) => b.owner === owner).reduce((sum, b) => sum + b.quantityC, 0);
      if (heldC === quantityC)
        return refused(
          problem(
            "quantity",
            "count-agrees",
            note.quantity,
            "The count agrees with the ledger: there is nothing to adjust.",
            "Nothing more to do.",
          ),
        );
      const lotMissing =
        heldC === 0 && !note.lotCode && i.shelfLifeDays !== null
          ? lotProblems("lot", { code: i.code, ages: true, takesSerials: false }, note)
          : [];
      if (lotMissing.length > 0) return refused(...lotMissing);
      row.quantityC = Math.abs(quantityC - heldC);
      row.fromPlace = quantityC < heldC ? at : undefined;
      row.toPlace = quantityC < heldC ? undefined : at;
      row.reason = ledgerReason("countedByHand", {
        n: String(note.quantity),
        m: String(heldC / 100),
        why: note.reason,
      });
    }
    const rows = rowsBySerial(row.quantityC, [...note.serials]).map((part, i) => ({
      ...row,
      ...part,
      key: i === 0 ? note.key : `${note.key} ${i}`,
    }));
    for (const part of rows) {
      const refusal = tryMovement(db, part, part.serial ? "serials" : "quantity");
      if (refusal) return refused(refusal);
    }
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: `${note.kind} recorded`,
      subject: `item ${i.code}`,
      detail: {
        quantity: row.quantityC / 100,
        from: row.fromPlace,
        to: row.toPlace,
        reason: note.reason,
        serials: note.serials.join(", ") || undefined,
      },
    });
    return ok({ id: movementByKey(db, note.key)! });
  });
}

function manualProblems(db: Db, n: ManualNote & { serials: readonly string[] }): Problem[] {
  const problems: Problem[] = [];
  const add = (path: string, rule: string, value: unknown, message: Phrase | string, remedy: string) =>
    problems.push(problem(path, rule, value, message, remedy));
  const i = db.select().from(item).where(eq(item.code, n.itemCode)).get();
  if (!i)
    add("item", "item-unknown", n.itemCode, "The catalogue has no such item.", "Choose one of the list.");
  if (n.visitId && n.kind !== "scrap" && n.kind !== "return")
    add(
      "visit",
      "visit-kind",
      n.kind,
      "Only scrap and returns are booked on a visit.",
      "Leave the visit empty.",
    );
  if (n.visitId && visitIdTyped(db, n.visitId) === undefined)
    add(
      "visit",
      "visit-unknown",
      n.visitId,
      "That is no visit.",
      "Write it as on its kit: the hop and the end, such as H-012 near.",
    );
  const places = new Set(
    db
      .select({ code: place.code })
      .from(place)
      .all()
      .map((p) => p.code),
  );
  const needsFrom = n.kind !== "receipt";
  const needsTo = n.kind === "receipt" || n.kind === "transfer" || n.kind === "return";
  if (needsFrom && !places.has(n.fromPlace ?? ""))
    add("from", "place", n.fromPlace, "The place is missing or unknown.", "Choose where it is.");
  if (needsTo && !places.has(n.toPlace ?? ""))
    add("to", "place", n.toPlace, "The place is missing or unknown.", "Choose where it goes.");
  if (needsFrom && needsTo && n.fromPlace && n.fromPlace === n.toPlace)
    add("to", "same-place", n.toPlace, "From and to are the same place.", "Choose another place.");
  const least = n.kind === "count adjustment" ? 0 : 0.01;
  if (!(n.quantity >= least) || Math.abs(n.quantity * 100 - Math.round(n.quantity * 100)) > 1e-6)
    add(
      "quantity",
      "quantity",
      n.quantity,
      "A quantity is above nought and has two decimals at most.",
      "Correct the quantity.",
    );
  if (i && i.unit !== "m" && !Number.isInteger(n.quantity))
    add(
      "quantity",
      "whole",
      n.quantity,
      phrase("Units of this item are moved whole."),
      "Give a whole number.",
    );
  if (n.on > n.today)
    add("on", "future", n.on, "The day lies in the future.", "Give today or an earlier day.");
  if (n.reason.trim().length < 3)
    add("reason", "reason", n.reason, "A movement by hand needs a reason.", "Say why in a few words.");
  const isCable = i?.category === "IF cable";
  if (isCable && !n.drumSerial)
    add("drum", "drum-missing", n.drumSerial, "Cable lies on a drum.", "Name the drum.");
  if (isCable && n.kind === "receipt" && n.drumSerial) {
    if (isSerialTaken(db, n.drumSerial))
      add("drum", "serial-taken", n.drumSerial, "There is a drum of that serial.", "Check the label.");
  } else if (n.drumSerial && n.kind !== "receipt") {
    const d = db.select().from(drum).where(eq(drum.serial, n.drumSerial)).get();
    if (d?.itemCode !== n.itemCode)
      add("drum", "drum-unknown", n.drumSerial, "No such drum of this cable.", "Choose one of the list.");
  }
  if (i && n.kind === "receipt")
    problems.push(
      ...lotProblems(
        "lot",
        { code: i.code, ages: i.shelfLifeDays !== null, takesSerials: takesSerials(i.category) },
        n,
      ),
    );
  if (n.kind === "receipt") problems.push(...pastLastDay("expires", n, n.today));
  if (n.serials.length > 0 && n.kind !== "receipt")
    add(
      "serials",
      "serials-kind",
      n.kind,
      phrase("Serials are read with a receipt only."),
      "Leave the serials out.",
    );
  else if (i)
    problems.push(
      ...receivedSerialProblems(db, {
        ...{ itemCode: i.code, takesSerials: takesSerials(i.category), serials: n.serials, path: "serials" },
        units: Math.floor(n.quantity),
      }),
    );
  if (n.lotCode && n.kind !== "receipt" && !loadLots(db).some((l) => l.code === n.lotCode))
    add("lot", "lot-unknown", n.lotCode, "There is no such lot.", "Choose one of the list.");
  return problems;
}

/** The standing cut to which a row is the saw allowance; undefined = it is none, or its cut is taken back already. */
function cutOfSaw(db: Db, row: typeof movement.$inferSelect): number | undefined {
  if (row.kind !== "scrap" || !row.runId || !row.key.startsWith("saw ")) return undefined;
  return db.$client
    .prepare(
      `SELECT c.id FROM movement c WHERE c.id = (SELECT MAX(m.id) FROM movement m
         WHERE m.run_id = @runId AND m.kind = 'cut' AND m.drum_serial = @drumSerial AND m.id < @id)
       AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = c.id)`,
    )
    .pluck()
    .get({ id: row.id, runId: row.runId, drumSerial: row.drumSerial }) as number | undefined;
}

/** Takes a row back by its mirror, with the reason; orders and kits that rest on it follow. */
export function takeBack(
  db: Db,
  id: number,
  reason: string,
  today: CalendarDate,
  by: By,
): Result<{ id: number }> {
  return wholeOrNothing(db, () => {
    const row = movementById(db, id);
    const refuse = (rule: string, message: Phrase | string, remedy: Phrase | string) =>
      refused(problem(`row ${id}`, rule, id, message, remedy));
    if (!row) return refuse("row-unknown", "There is no such row.", "Reload the ledger.");
    if (row.kind === "reversal")
      return refuse("row-reversal", "A reversal is not taken back.", "Post the movement again.");
    if (reversalsOf(db, [id]).size > 0)
      return refuse("row-reversed", "The row is taken back already.", "Nothing more to do.");
    if (reason.trim().length < 3)
      return refused(
        problem("reason", "reason", reason, "A reversal needs a reason.", "Say why in a few words."),
      );
    // The saw allowance of a cut that stands goes back with its cut, from whichever of the two rows.
    const cutId = cutOfSaw(db, row);
    if (cutId !== undefined) return takeBack(db, cutId, reason, today, by);
    const effectiveOn = row.effectiveOn > today ? row.effectiveOn : today;
    const along = row.faultId === null ? [] : faultRowsToTakeBack(db, { id, faultId: row.faultId });
    if (along === "later")
      return refuse(
        "fault-later",
        phrase("Fault {{id}} went on after this row.", { id: String(row.faultId) }),
        "Take its later rows back first, the last one first.",
      );
    try {
      for (const other of along.filter((o) => o !== id))
        reverseMovement(db, other, {
          key: `take back ${other}`,
          effectiveOn,
          postedAt: by.at,
          reason,
          postedBy: by.name,
        });
      const made = reverseMovement(db, id, {
        key: `take back ${id}`,
        effectiveOn,
        postedAt: by.at,
        reason,
        postedBy: by.name,
      })!;
      // A cut and its saw allowance are one cut: they go back together.
      if (row.kind === "cut" && row.runId) {
        const saw = db.$client
          .prepare(
            `SELECT id FROM movement m WHERE run_id = @runId AND kind = 'scrap' AND drum_serial = @drumSerial AND id > @id
             AND NOT EXISTS (SELECT 1 FROM movement c
                             WHERE c.run_id = m.run_id AND c.kind = 'cut' AND c.id > @id AND c.id < m.id)
             AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)`,
          )
          .pluck()
          .all({ id, runId: row.runId, drumSerial: row.drumSerial }) as number[];
        for (const other of saw)
          reverseMovement(db, other, {
            key: `take back ${other}`,
            effectiveOn,
            postedAt: by.at,
            reason,
            postedBy: by.name,
          });
        // Nobody can pick what is not cut.
        db.$client
          .prepare(
            `UPDATE kit_line SET picked_c = 0 WHERE run_id = ? AND EXISTS (
               SELECT 1 FROM kit k JOIN plan p ON p.id = k.plan_id
               WHERE p.state = 'in force' AND k.plan_id = kit_line.plan_id AND k.visit_id = kit_line.visit_id
                 AND k.state <> 'issued')`,
          )
          .run(row.runId);
        // A kit with nothing in its box follows the plan again.
        db.$client.exec(
          `UPDATE kit SET state = 'planned' WHERE state = 'picked'
             AND plan_id = (SELECT id FROM plan WHERE state = 'in force')
             AND NOT EXISTS (SELECT 1 FROM kit_line l
               WHERE l.plan_id = kit.plan_id AND l.visit_id = kit.visit_id AND l.picked_c > 0)`,
        );
      }
      if (row.visitId && (row.kind === "issue" || row.kind === "quality hold"))
        boxFollowsLedger(db, row.visitId, row.itemCode);
      if (row.kind === "receipt" && row.orderCode)
        unreceive(db, row.orderCode, row.itemCode, row.quantityC, by);
      if (row.kind === "return" && row.faultId !== null && row.orderCode)
        receiveAgain(db, row.orderCode, row.itemCode, row.quantityC, by);
      addLogEntry(db, {
        at: by.at,
        userName: by.name,
        action: "ledger row taken back",
        subject: `item ${row.itemCode}`,
        detail: { row: id, by: made.id, reason },
      });
      return ok({ id: made.id });
    } catch (error) {
      const words = ledgerRefusal(error);
      if (words === undefined) throw error;
      return refuse(
        "ledger",
        phrase("The ledger refused it: {{why}}.", { why: phrase(words) }),
        "Take back what was done with it since, then this row.",
      );
    }
  });
}
