/** What came with a delivery and is on no line of its order: taken in, and on hold until it goes back or is kept. */

import { eq } from "drizzle-orm";
import { type Phrase, phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import type { Owner } from "@/lib/site";
import { takesSerials } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { item } from "../schema";
import { holdAtDoor } from "./doorHolds";
import { isSerialTaken, registerDrum } from "./drums";
import { tryMovement, wholeOrNothing } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import type { By } from "./log";
import { logOrder } from "./orderSteps";
import { loadOrder, type OrderView } from "./orderViews";
import { lotProblems } from "./pastLastDay";
import { serialAsKept } from "./serials";
import { saveLot } from "./shelves";

export interface WrongItemNote {
  itemCode: string;
  /** Of cable the drum's length. */
  quantityC: number;
  lotCode?: string;
  expiresOn?: CalendarDate;
  /** Of cable: a drum is one piece. */
  drumSerial?: string;
  /** Of a radio, where it is read already. */
  serial?: string;
  /** What somebody who opens the hold should know. */
  reason: string;
  on: CalendarDate;
  today: CalendarDate;
  /** Made once per form. */
  key: string;
}

/**
 * The order's lines stay as they are: what was ordered has not come. The receipt names the order, and the hold too, so
 * that both stand on its page; the owner is whose order it is.
 */
export function receiveWrongItem(
  db: Db,
  code: string,
  typed: WrongItemNote,
  by: By,
): Result<{ faultId: number }> {
  const note = { ...typed, serial: typed.serial && serialAsKept(db, typed.serial) };
  return wholeOrNothing(db, () => {
    const order = loadOrder(db, code);
    const i = db.select().from(item).where(eq(item.code, note.itemCode)).get();
    const problems = wrongItemProblems(db, code, order, i, note);
    if (problems.length > 0 || !order || !i) return refused(...problems);
    const owner: Owner = order.kind === "call-off" ? "customer" : "contractor";
    if (note.lotCode) saveLot(db, { code: note.lotCode, itemCode: i.code, expiresOn: note.expiresOn });
    if (note.drumSerial)
      registerDrum(db, { serial: note.drumSerial, itemCode: i.code, receivedC: note.quantityC });
    const receipt = tryMovement(
      db,
      {
        key: `${note.key} ${order.code} receipt`,
        kind: "receipt",
        itemCode: i.code,
        lotCode: note.lotCode,
        drumSerial: note.drumSerial,
        serial: note.serial,
        owner,
        toPlace: order.placeCode,
        quantityC: note.quantityC,
        effectiveOn: note.on,
        postedAt: by.at,
        orderCode: order.code,
        reason: ledgerReason("receivedWrong", { supplier: order.supplier, why: note.reason }),
        postedBy: by.name,
      },
      note.serial ? "serial" : "quantity",
    );
    if (receipt) return refused(receipt);
    const held = holdAtDoor(
      db,
      order,
      { ...note, key: `${note.key} ${order.code} hold` },
      {
        itemCode: i.code,
        serial: note.serial,
        drumSerial: note.drumSerial,
        lotCode: note.lotCode,
        owner,
        quantityC: note.quantityC,
        symptom: note.reason,
      },
      by,
    );
    if (!held.ok) return held;
    logOrder(db, code, "wrong item received", by, {
      on: note.on,
      itemCode: i.code,
      quantity: note.quantityC / 100,
      reason: note.reason,
    });
    return ok({ faultId: held.value.id });
  });
}

function wrongItemProblems(
  db: Db,
  code: string,
  order: OrderView | undefined,
  i: typeof item.$inferSelect | undefined,
  note: WrongItemNote,
): Problem[] {
  const problems: Problem[] = [];
  const add = (path: string, rule: string, value: unknown, message: Phrase, remedy: Phrase) =>
    problems.push({ path, rule, value, ...sentences(message, remedy) });
  if (!order || order.state === "proposed" || order.state === "approved") {
    add(
      "state",
      "order-state",
      order?.state,
      order
        ? phrase("Order {{code}} was not sent: nothing can have come with it.", { code })
        : phrase("There is no order {{code}}.", { code }),
      phrase("Open the order that the papers of the delivery name."),
    );
    return problems;
  }
  if (!i) {
    add(
      "item",
      "item-unknown",
      note.itemCode,
      phrase("The catalogue has no such item."),
      phrase("Bring it into the catalogue first, or send the box back unbooked."),
    );
    return problems;
  }
  const line = order.lines.find((l) => l.itemCode === i.code);
  if (line)
    add(
      "item",
      "item-ordered",
      i.code,
      phrase("{{item}} is on line {{line}} of the order.", { item: i.code, line: String(line.lineNo) }),
      phrase("Receive it on its line; put it on hold there if it is doubted."),
    );
  if (note.on > note.today)
    add(
      "on",
      "delivery-future",
      note.on,
      phrase("The delivery lies in the future."),
      phrase("Give today or an earlier day."),
    );
  if (note.quantityC <= 0)
    add(
      "quantity",
      "quantity",
      note.quantityC / 100,
      phrase("Nothing was received."),
      phrase("Say how much came."),
    );
  problems.push(
    ...lotProblems(
      "lot",
      { code: i.code, ages: i.shelfLifeDays !== null, takesSerials: takesSerials(i.category) },
      note,
    ),
  );
  if (i.category !== "IF cable") return problems;
  if (!note.drumSerial)
    add(
      "drum",
      "drum-missing",
      undefined,
      phrase("Cable comes on a drum, and the drum has a serial."),
      phrase("Copy the serial from the drum's label."),
    );
  else if (isSerialTaken(db, note.drumSerial))
    add(
      "drum",
      "serial-taken",
      note.drumSerial,
      phrase("There is a drum {{serial}} already.", { serial: note.drumSerial }),
      phrase("Check the label; every drum has a serial of its own."),
    );
  return problems;
}
