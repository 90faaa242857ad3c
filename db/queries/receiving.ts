/** Deliveries: receipts into the ledger, what is doubted on hold at once, and the order's state. */

import { and, eq } from "drizzle-orm";
import { type Phrase, phrase, shortFigure } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import type { Owner } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { type OrderState, orderLine, place } from "../schema";
import { amountPhrase } from "./amountPhrase";
import { holdAtDoor } from "./doorHolds";
import { isSerialTaken, registerDrum } from "./drums";
import { rowsBySerial } from "./kitSerials";
import { tryMovement, wholeOrNothing } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import type { By } from "./log";
import { logOrder, settleState, stateProblem } from "./orderSteps";
import { loadOrder, type OrderView } from "./orderViews";
import { lotProblems, pastLastDay } from "./pastLastDay";
import { receivedSerialProblems } from "./serialReceipt";
import { serialAsKept } from "./serials";
import { saveLot } from "./shelves";

export interface DeliveredLine {
  lineNo: number;
  /** For cable: the sum of the drums. */
  quantityC: number;
  lotCode?: string;
  expiresOn?: CalendarDate;
  /** That last day of use is past, and the goods are taken in all the same. */
  sureOfExpired?: CalendarDate;
  drums?: readonly DeliveredDrum[];
  /** Of radios: those that were read, as typed; none of those that go on hold. */
  serials?: readonly string[];
  /** Part of it that goes on hold at once, and why. */
  hold?: { quantityC: number; reason: string };
}

export interface DeliveredDrum {
  serial: string;
  lengthC: number;
  /** Goes on hold at once, for this reason. */
  holdReason?: string;
}

export interface DeliveryNote {
  lines: readonly DeliveredLine[];
  on: CalendarDate;
  today: CalendarDate;
  /** Warehouse to which it came; absent = the order's. */
  placeCode?: string;
  /** Why more than was ordered is taken in; without it an over-delivery is refused. */
  overReason?: string;
  /** Made once per delivery. */
  key: string;
}

/** Books a delivery: receipts into the ledger, received quantities, and the order's state. All of it or nothing. */
export function receiveOrder(db: Db, code: string, typed: DeliveryNote, by: By): Result<OrderState> {
  const note = {
    ...typed,
    lines: typed.lines.map((l) => ({ ...l, serials: l.serials?.map((serial) => serialAsKept(db, serial)) })),
  };
  return wholeOrNothing(db, () => {
    const ordered = loadOrder(db, code);
    const problem = stateProblem(code, ordered?.state, "receive");
    if (problem || !ordered) return refused(...(problem ? [problem] : []));
    const placeCode = note.placeCode ?? ordered.placeCode;
    if (!isWarehouse(db, placeCode)) return refused(notAWarehouse(placeCode));
    // The order counts it wherever it came; ledger and holds know the shelf that it stands on.
    const order = { ...ordered, placeCode };
    const lines = note.lines.filter((l) => l.quantityC > 0 || (l.drums?.length ?? 0) > 0);
    const problems = deliveryProblems(db, order, lines, note);
    if (problems.length > 0) return refused(...problems);
    for (const delivered of lines) {
      problems.push(...bookLine(db, order, delivered, note, by));
      if (problems.length === 0) problems.push(...holdLine(db, order, delivered, note, by));
    }
    if (problems.length > 0) return refused(...problems);
    const state = settleState(db, code);
    logOrder(db, code, "order received", by, {
      on: note.on,
      lines: lines.map((l) => ({
        lineNo: l.lineNo,
        item: order.lines.find((o) => o.lineNo === l.lineNo)?.itemCode,
        quantity: l.quantityC / 100,
        ...(l.serials?.length ? { serials: l.serials.join(", ") } : {}),
      })),
      overReason: note.overReason,
      ...(placeCode === ordered.placeCode ? {} : { warehouse: placeCode }),
      state,
    });
    return ok(state);
  });
}

const isWarehouse = (db: Db, code: string): boolean =>
  db.select({ kind: place.kind }).from(place).where(eq(place.code, code)).get()?.kind === "warehouse";

const notAWarehouse = (code: string): Problem => ({
  path: "placeCode",
  rule: "no-such-warehouse",
  value: code,
  ...sentences(
    phrase("There is no warehouse {{code}}.", { code }),
    phrase("Choose the warehouse to which the delivery came."),
  ),
});

function deliveryProblems(
  db: Db,
  order: OrderView,
  lines: readonly DeliveredLine[],
  note: DeliveryNote,
): Problem[] {
  const problems: Problem[] = [];
  const add = (path: string, rule: string, value: unknown, message: Phrase, remedy: Phrase) =>
    problems.push({ path, rule, value, ...sentences(message, remedy) });
  if (lines.length === 0)
    add(
      "lines",
      "delivery-empty",
      0,
      phrase("Nothing was received."),
      order.lines.every((l) => l.isCable)
        ? phrase("Give the serial and the length of one drum at least.")
        : order.lines.some((l) => l.isCable)
          ? phrase("Give a quantity on one line at least; of cable the serial and length of a drum.")
          : phrase("Give a quantity on one line at least."),
    );
  if (note.on > note.today)
    add(
      "on",
      "delivery-future",
      note.on,
      phrase("The delivery lies in the future."),
      phrase("Give today or an earlier day."),
    );
  const serials = new Set<string>();
  for (const l of lines) {
    const ordered = order.lines.find((o) => o.lineNo === l.lineNo);
    const at = `line ${l.lineNo}`;
    if (!ordered) {
      add(
        at,
        "line-unknown",
        l.lineNo,
        phrase("Order {{code}} has no such line.", { code: order.code }),
        phrase("Reload the page."),
      );
      continue;
    }
    if (ordered.receivedC + l.quantityC > ordered.quantityC && !note.overReason) {
      const overC = ordered.receivedC + l.quantityC - ordered.quantityC;
      add(
        `${at} quantity`,
        "over-delivery",
        l.quantityC / 100,
        phrase("That is {{over}} more than is still to come.", {
          over: amountPhrase(overC, ordered.unit),
        }),
        phrase("Correct the quantity, or say why the surplus is taken in."),
      );
    }
    problems.push(
      ...lotProblems(
        `${at} lot`,
        { code: ordered.itemCode, ages: ordered.expires, takesSerials: ordered.takesSerials },
        l,
      ),
    );
    // What goes on hold whole waits for a decision anyway.
    if (l.hold?.quantityC !== l.quantityC)
      problems.push(...pastLastDay(`${at} expires`, { ...l, itemCode: ordered.itemCode }, note.today));
    if (l.hold && (l.hold.quantityC > l.quantityC || ordered.isCable))
      add(
        `${at} hold`,
        "hold-more",
        l.hold.quantityC / 100,
        ordered.isCable
          ? phrase("Cable goes on hold by the drum.")
          : phrase("No more can go on hold than the {{quantity}} that came.", {
              quantity: amountPhrase(l.quantityC, ordered.unit),
            }),
        ordered.isCable ? phrase("Mark the drum.") : phrase("Correct the quantity on hold."),
      );
    problems.push(
      ...receivedSerialProblems(db, {
        ...{ itemCode: ordered.itemCode, takesSerials: ordered.takesSerials },
        ...{ serials: l.serials ?? [], path: `${at} (${ordered.itemCode})` },
        units: Math.floor((l.quantityC - (l.hold?.quantityC ?? 0)) / 100),
      }),
    );
    if (!ordered.isCable) continue;
    const drums = l.drums ?? [];
    const sum = drums.reduce((total, d) => total + d.lengthC, 0);
    if (drums.length === 0 || sum !== l.quantityC)
      add(
        `${at} drums`,
        "drums-sum",
        sum / 100,
        phrase("The drums hold {{sum}} m, the line says {{quantity}} m.", {
          sum: shortFigure(sum / 100),
          quantity: shortFigure(l.quantityC / 100),
        }),
        phrase("List every drum with its length."),
      );
    for (const d of drums) {
      if (isSerialTaken(db, d.serial) || serials.has(d.serial))
        add(
          `${at} serial`,
          "serial-taken",
          d.serial,
          phrase("There is a drum {{serial}} already.", { serial: d.serial }),
          phrase("Check the label; every drum has a serial of its own."),
        );
      serials.add(d.serial);
    }
  }
  return problems;
}

function bookLine(db: Db, order: OrderView, l: DeliveredLine, note: DeliveryNote, by: By): Problem[] {
  const ordered = order.lines.find((o) => o.lineNo === l.lineNo)!;
  const owner: Owner = order.kind === "call-off" ? "customer" : "contractor";
  if (l.lotCode) saveLot(db, { code: l.lotCode, itemCode: ordered.itemCode, expiresOn: l.expiresOn });
  const parts: { quantityC: number; drumSerial?: string; serial?: string }[] = ordered.isCable
    ? l.drums!.map((d) => ({ quantityC: d.lengthC, drumSerial: d.serial }))
    : rowsBySerial(l.quantityC, [...(l.serials ?? [])]);
  const problems: Problem[] = [];
  for (const part of parts) {
    if (part.drumSerial)
      registerDrum(db, { serial: part.drumSerial, itemCode: ordered.itemCode, receivedC: part.quantityC });
    const problem = tryMovement(
      db,
      {
        key: `${note.key} ${order.code} ${l.lineNo} ${part.drumSerial ?? part.serial ?? ""}`.trim(),
        kind: "receipt",
        itemCode: ordered.itemCode,
        lotCode: l.lotCode,
        drumSerial: part.drumSerial,
        serial: part.serial,
        owner,
        toPlace: order.placeCode,
        quantityC: part.quantityC,
        effectiveOn: note.on,
        postedAt: by.at,
        orderCode: order.code,
        reason: note.overReason
          ? ledgerReason("receivedOver", { supplier: order.supplier, why: note.overReason })
          : ledgerReason("received", { supplier: order.supplier }),
        postedBy: by.name,
      },
      `line ${l.lineNo}`,
    );
    if (problem) problems.push(problem);
  }
  db.update(orderLine)
    .set({ receivedC: ordered.receivedC + l.quantityC })
    .where(and(eq(orderLine.orderCode, order.code), eq(orderLine.lineNo, l.lineNo)))
    .run();
  return problems;
}

/** Puts on hold what the clerk doubts: received, but in no netting, kit or cut until somebody decides. */
function holdLine(db: Db, order: OrderView, l: DeliveredLine, note: DeliveryNote, by: By): Problem[] {
  const { itemCode } = order.lines.find((o) => o.lineNo === l.lineNo)!;
  const held = [
    ...(l.hold && l.hold.quantityC > 0 ? [{ ...l.hold, drumSerial: undefined }] : []),
    ...(l.drums ?? []).flatMap(({ serial, lengthC, holdReason }) =>
      holdReason === undefined ? [] : [{ quantityC: lengthC, reason: holdReason, drumSerial: serial }],
    ),
  ];
  return held.flatMap(({ quantityC, reason, drumSerial }) => {
    const found = holdAtDoor(
      db,
      order,
      { ...note, key: `${note.key} ${order.code} ${l.lineNo} hold ${drumSerial ?? ""}`.trim() },
      { itemCode, drumSerial, lotCode: l.lotCode, quantityC, symptom: reason },
      by,
    );
    return found.ok ? [] : found.problems.map((p) => ({ ...p, path: `line ${l.lineNo} hold ${p.path}` }));
  });
}
