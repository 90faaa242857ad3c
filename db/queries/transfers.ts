/** Transfers between warehouses: proposed by the netting, planned by a person, moved in the ledger. */

import { and, asc, eq } from "drizzle-orm";
import { phrase, shortFigure } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import { pickLots } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { item, planTransfer, stockTransfer } from "../schema";
import { loadCatalogue } from "./catalogue";
import { tryMovement, wholeOrNothing } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import { addLogEntry, type By, type LogAction } from "./log";
import { loadBalances, loadLots } from "./shelves";

export type PlannedTransferRow = typeof stockTransfer.$inferSelect;

/** Decided on, not moved yet. */
export function loadPlannedTransfers(db: Db, itemCode?: string): PlannedTransferRow[] {
  return db
    .select()
    .from(stockTransfer)
    .where(
      and(eq(stockTransfer.state, "planned"), itemCode ? eq(stockTransfer.itemCode, itemCode) : undefined),
    )
    .orderBy(asc(stockTransfer.sendOn), asc(stockTransfer.id))
    .all();
}

export interface TransferView {
  id: number;
  itemCode: string;
  name: string;
  unit: string;
  fromPlace: string;
  toPlace: string;
  quantity: number;
  sendOn: CalendarDate;
  arriveOn: CalendarDate;
  daysLate: number;
  /** The sender gives what it keeps back, since a visit would stop. */
  fromReserve: boolean;
}

/** What the netting of a plan proposes to send, first to leave first. */
export function proposedTransfers(db: Db, planId: number, itemCode?: string): readonly TransferView[] {
  return remembered(db, `transfers ${planId} ${itemCode ?? ""}`, ["plan", "design"], () =>
    readProposed(db, planId, itemCode),
  );
}

function readProposed(db: Db, planId: number, itemCode?: string): TransferView[] {
  return db
    .select({ t: planTransfer, name: item.name, unit: item.unit })
    .from(planTransfer)
    .innerJoin(item, eq(item.code, planTransfer.itemCode))
    .where(and(eq(planTransfer.planId, planId), itemCode ? eq(planTransfer.itemCode, itemCode) : undefined))
    .orderBy(planTransfer.sendOn, planTransfer.fromPlace, planTransfer.toPlace, planTransfer.itemCode)
    .all()
    .map(({ t: { quantityC, planId: _, ...t }, name, unit }) => ({
      ...t,
      name,
      unit,
      quantity: quantityC / 100,
    }));
}

/** What was decided on and waits to be moved. */
export function transfersToMove(db: Db, itemCode?: string): TransferView[] {
  const items = new Map(loadCatalogue(db).map((i) => [i.code, i]));
  return loadPlannedTransfers(db, itemCode).map((t) => ({
    id: t.id,
    itemCode: t.itemCode,
    name: items.get(t.itemCode)!.name,
    unit: items.get(t.itemCode)!.unit,
    fromPlace: t.fromPlace,
    toPlace: t.toPlace,
    quantity: t.quantityC / 100,
    sendOn: t.sendOn,
    arriveOn: t.arriveOn,
    daysLate: 0,
    fromReserve: false,
  }));
}

export type ComingTransfer = TransferView & { state: "proposed" | "planned" };

/** What is to come to a warehouse from the others, by item: planned ones first, then what the netting proposes. */
export function transfersTo(db: Db, planId: number, placeCode: string): Map<string, ComingTransfer[]> {
  const coming: ComingTransfer[] = [
    ...transfersToMove(db).map((t) => ({ ...t, state: "planned" as const })),
    ...proposedTransfers(db, planId).map((t) => ({ ...t, state: "proposed" as const })),
  ];
  const byItem = new Map<string, ComingTransfer[]>();
  for (const t of coming) {
    if (t.toPlace !== placeCode) continue;
    byItem.set(t.itemCode, [...(byItem.get(t.itemCode) ?? []), t]);
  }
  return byItem;
}

/** What a kit gets of what comes over. */
export interface KitTransfer {
  /** With its arrival the kit is whole, or it is the nearest that comes; null = what comes goes to kits before it. */
  transfer: (ComingTransfer & { isTooLate: boolean }) | null;
}

/**
 * What comes over for a kit, by item. The netting gives shelves by turn: a kit that stops with the proposed transfers too
 * gets nothing of any of them; one that stops only without them waits for a proposed one. Of those that come in time the last counts,
 * for kits before it take what comes earlier. Items for which nothing comes are left out.
 */
export function transfersFor(
  db: Db,
  planId: number,
  kit: { visitId: string; placeCode: string; pickOn: CalendarDate },
  itemCodes: readonly string[],
): Map<string, KitTransfer> {
  const coming = transfersTo(db, planId, kit.placeCode);
  const stops = db.$client.prepare(
    `SELECT EXISTS (SELECT 1 FROM json_each(body, '$.stops') WHERE json_extract(value, '$.visitId') = $visitId) AS alone,
            EXISTS (SELECT 1 FROM json_each(body, '$.stopsLeft') WHERE json_extract(value, '$.visitId') = $visitId) AS still
     FROM plan_netting WHERE plan_id = $planId AND place_code = $placeCode AND item_code = $itemCode`,
  );
  return new Map(
    [...new Set(itemCodes)].flatMap((itemCode): [string, KitTransfer][] => {
      const all = (coming.get(itemCode) ?? [])
        .map((c) => ({ ...c, isTooLate: c.arriveOn > kit.pickOn }))
        .sort((a, b) => (a.arriveOn < b.arriveOn ? -1 : a.arriveOn > b.arriveOn ? 1 : 0));
      if (all.length === 0) return [];
      const of = stops.get({ planId, placeCode: kit.placeCode, visitId: kit.visitId, itemCode }) as
        | { alone: 0 | 1; still: 0 | 1 }
        | undefined;
      if (of?.still) return [[itemCode, { transfer: all.find((c) => c.isTooLate) ?? null }]];
      const serving = of?.alone ? all.filter((c) => c.state === "proposed") : all;
      const transfer = serving.filter((c) => !c.isTooLate).at(-1) ?? serving[0] ?? null;
      return [[itemCode, { transfer }]];
    }),
  );
}

const subject = (id: number) => `transfer ${id}`;

/** A proposed transfer by what it is: every netting numbers them anew, and a page may stand open meanwhile. */
export type ShownTransfer = Pick<
  typeof planTransfer.$inferSelect,
  "itemCode" | "fromPlace" | "toPlace" | "quantityC" | "sendOn"
>;

/**
 * Decides on proposed transfers: the netting counts on them from now on. One that is not proposed as it was shown is
 * refused, and none is planned then.
 */
export function planTransfers(
  db: Db,
  planId: number,
  shown: readonly ShownTransfer[],
  by: By,
): Result<number[]> {
  return wholeOrNothing(db, () => {
    const planned: number[] = [];
    for (const of of shown) {
      const alike = db
        .select()
        .from(planTransfer)
        .where(
          and(
            eq(planTransfer.planId, planId),
            eq(planTransfer.itemCode, of.itemCode),
            eq(planTransfer.fromPlace, of.fromPlace),
            eq(planTransfer.toPlace, of.toPlace),
          ),
        )
        .orderBy(asc(planTransfer.sendOn), asc(planTransfer.id))
        .all();
      const proposal = alike.find((p) => p.quantityC === of.quantityC && p.sendOn === of.sendOn);
      if (!proposal) return refused(notAsShown(of, alike[0]));
      db.delete(planTransfer)
        .where(and(eq(planTransfer.planId, planId), eq(planTransfer.id, proposal.id)))
        .run();
      const { itemCode, fromPlace, toPlace, quantityC, sendOn, arriveOn } = proposal;
      const row = { itemCode, fromPlace, toPlace, quantityC, sendOn, arriveOn };
      const made = db
        .insert(stockTransfer)
        .values({ ...row, state: "planned", plannedBy: by.name, plannedAt: by.at })
        .returning({ id: stockTransfer.id })
        .get();
      log(db, made.id, "transfer planned", by, { ...row, quantity: quantityC / 100 });
      planned.push(made.id);
    }
    return ok(planned);
  });
}

/** @param now what the netting proposes of the item between the two places instead */
function notAsShown(of: ShownTransfer, now: ShownTransfer | undefined): Problem {
  const way = { item: of.itemCode, from: of.fromPlace, to: of.toPlace };
  return {
    path: "transfer",
    rule: now ? "transfer-changed" : "transfer-unknown",
    value: of.itemCode,
    ...sentences(
      now
        ? phrase(
            "{{item}} from {{from}} to {{to}} is proposed as {{quantity}} on {{day}} by now, not as it was shown.",
            { ...way, quantity: shortFigure(now.quantityC / 100), day: now.sendOn },
          )
        : phrase(
            "{{item}} from {{from}} to {{to}} is not proposed any more: it was planned, or needs were netted again.",
            way,
          ),
      phrase("Reload the page and choose from the list as it stands."),
    ),
  };
}

function log(db: Db, id: number, action: LogAction, by: By, detail: unknown): void {
  addLogEntry(db, { at: by.at, userName: by.name, action, subject: subject(id), detail });
}

/** The transfer when it waits to be moved; what is wrong otherwise. */
function waiting(db: Db, id: number): Result<PlannedTransferRow> {
  const row = db.select().from(stockTransfer).where(eq(stockTransfer.id, id)).get();
  if (row?.state === "planned") return ok(row);
  return refused({
    path: "transfer",
    rule: "transfer-state",
    value: row?.state ?? id,
    ...sentences(
      row
        ? phrase("Transfer {{id}} was {{state}} by {{endedBy}}.", {
            id: String(id),
            state: phrase(row.state),
            endedBy: row.endedBy ?? "",
          })
        : phrase("There is no transfer {{id}}.", { id: String(id) }),
      phrase("Reload the page."),
    ),
  });
}

/**
 * Posts what was moved as transfers in the ledger, lots that expire first first, and ends the transfer. Less than was
 * planned may have been moved; more is refused.
 */
export function moveTransfer(
  db: Db,
  note: { id: number; quantityC: number; on: CalendarDate; today: CalendarDate },
  by: By,
): Result<{ rows: number }> {
  return wholeOrNothing(db, () => {
    const found = waiting(db, note.id);
    if (!found.ok) return found;
    const t = found.value;
    const problems: Problem[] = [];
    if (note.quantityC <= 0 || note.quantityC > t.quantityC)
      problems.push({
        path: "quantity",
        rule: "transfer-quantity",
        value: note.quantityC / 100,
        ...sentences(
          phrase("Transfer {{id}} is of {{quantity}}.", {
            id: String(t.id),
            quantity: shortFigure(t.quantityC / 100),
          }),
          phrase(
            "Give what was moved, above nought and no more than planned; record any surplus as a movement of its own.",
          ),
        ),
      });
    if (note.on > note.today)
      problems.push({
        path: "on",
        rule: "future",
        value: note.on,
        ...sentences(phrase("The day lies in the future."), phrase("Give today or an earlier day.")),
      });
    if (problems.length > 0) return refused(...problems);
    const expiry = new Map(loadLots(db).map((l) => [l.code, l.expiresOn]));
    const shelf = loadBalances(db, t.itemCode).filter(
      (b) => b.placeCode === t.fromPlace && b.drumSerial === "",
    );
    const { picks, missing } = pickLots(
      shelf.map((b, i) => ({
        lotId: String(i),
        quantity: b.quantityC,
        expiresOn: expiry.get(b.lotCode) ?? undefined,
        receivedOn: note.on,
      })),
      note.quantityC,
      note.on,
    );
    if (missing > 0)
      return refused({
        path: "quantity",
        rule: "not-on-hand",
        value: note.quantityC / 100,
        ...sentences(
          phrase("{{fromPlace}} holds {{missing}} less of {{item}} than that, without what has expired.", {
            fromPlace: t.fromPlace,
            missing: shortFigure(missing / 100),
            item: t.itemCode,
          }),
          phrase("Correct the quantity, or count the place."),
        ),
      });
    for (const [part, { lotId, quantity }] of picks.entries()) {
      const b = shelf[Number(lotId)]!;
      const refusal = tryMovement(
        db,
        {
          key: `${subject(t.id)} ${part}`,
          kind: "transfer",
          itemCode: t.itemCode,
          lotCode: b.lotCode || undefined,
          owner: b.owner,
          fromPlace: t.fromPlace,
          toPlace: t.toPlace,
          quantityC: quantity,
          effectiveOn: note.on,
          postedAt: by.at,
          reason: ledgerReason("transfer", { id: String(t.id) }),
          postedBy: by.name,
        },
        "quantity",
      );
      if (refusal) problems.push(refusal);
    }
    if (problems.length > 0) return refused(...problems);
    end(db, t.id, "moved", by);
    log(db, t.id, "transfer moved", by, {
      on: note.on,
      quantity: note.quantityC / 100,
      of: t.quantityC / 100,
    });
    return ok({ rows: picks.length });
  });
}

/** Ends a transfer that will not be made. */
export function cancelTransfer(db: Db, id: number, reason: string, by: By): Result<number> {
  const found = waiting(db, id);
  if (!found.ok) return found;
  end(db, id, "cancelled", by);
  log(db, id, "transfer cancelled", by, { reason });
  return ok(id);
}

function end(db: Db, id: number, state: "moved" | "cancelled", by: By): void {
  db.update(stockTransfer)
    .set({ state, endedBy: by.name, endedAt: by.at })
    .where(eq(stockTransfer.id, id))
    .run();
}
