/**
 * Places, lots, drums, the ledger of movements and the balances beside it, orders on the way.
 * Quantities are whole hundredths of the item's unit (`...C`), so that metres and pieces add up exactly.
 * Triggers (migrations 0002_ledger, 0004_ledger_days, 0021_faults) refuse edits of the ledger and keep `balance` in step with it.
 */
import { sql } from "drizzle-orm";
import {
  type AnySQLiteColumn,
  check,
  index,
  integer,
  primaryKey,
  sqliteTable,
  text,
  uniqueIndex,
} from "drizzle-orm/sqlite-core";
import type { Owner } from "@/lib/site";
import type { ScrapReason } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { item } from "./catalogue";
import { fault } from "./fault";
import { place } from "./place";

const keep = { onUpdate: "cascade", onDelete: "restrict" } as const;

export const lot = sqliteTable(
  "lot",
  {
    code: text("code").primaryKey(),
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, keep),
    expiresOn: text("expires_on").$type<CalendarDate>(),
  },
  (t) => [index("lot_item").on(t.itemCode)],
);

export const drum = sqliteTable(
  "drum",
  {
    serial: text("serial").primaryKey(),
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, keep),
    receivedC: integer("received_c").notNull(),
  },
  (t) => [check("drum_length", sql`${t.receivedC} > 0`), index("drum_item").on(t.itemCode)],
);

export type MovementKind =
  | "receipt"
  | "issue"
  | "return"
  | "transfer"
  | "cut"
  | "count adjustment"
  | "scrap"
  | "installed"
  | "quality hold"
  | "release"
  | "to repair"
  | "from repair"
  | "exchange"
  | "reversal";

export const movement = sqliteTable(
  "movement",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    /** Idempotency key: the same key moves nothing twice. */
    key: text("key").notNull(),
    kind: text("kind").$type<MovementKind>().notNull(),
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, keep),
    lotCode: text("lot_code").references(() => lot.code, keep),
    drumSerial: text("drum_serial").references(() => drum.serial, keep),
    /** Serial of a single piece that was found faulty: a label on the row, followed from place to place by triggers. */
    serial: text("serial"),
    owner: text("owner").$type<Owner>().notNull(),
    /** null = outside the company's places (supplier, installed, scrapped). */
    fromPlace: text("from_place").references(() => place.code, keep),
    toPlace: text("to_place").references(() => place.code, keep),
    quantityC: integer("quantity_c").notNull(),
    /** Day on which it counts; may lie before the day it was written. */
    effectiveOn: text("effective_on").$type<CalendarDate>().notNull(),
    postedAt: integer("posted_at").notNull(),
    correctsId: integer("corrects_id").references((): AnySQLiteColumn => movement.id),
    orderCode: text("order_code"),
    visitId: text("visit_id"),
    runId: text("run_id"),
    faultId: integer("fault_id").references((): AnySQLiteColumn => fault.id),
    reason: text("reason").notNull(),
    /** Of scrap: why, as one word of a list, so that it can be summed up; null = nobody said, or no scrap. */
    scrapReason: text("scrap_reason").$type<ScrapReason>(),
    postedBy: text("posted_by").notNull(),
  },
  (t) => [
    uniqueIndex("movement_key").on(t.key),
    index("movement_item").on(t.itemCode, t.effectiveOn),
    index("movement_drum").on(t.drumSerial),
    index("movement_visit").on(t.visitId),
    index("movement_from").on(t.itemCode, t.fromPlace, t.effectiveOn),
    index("movement_to").on(t.itemCode, t.toPlace, t.effectiveOn),
    uniqueIndex("movement_corrects").on(t.correctsId),
    index("movement_serial").on(t.serial, t.effectiveOn),
    index("movement_fault").on(t.faultId),
    // Few rows are cuts or of an order: the others need no place in these.
    index("movement_run").on(t.runId).where(sql`${t.runId} IS NOT NULL`),
    index("movement_order").on(t.orderCode, t.itemCode).where(sql`${t.orderCode} IS NOT NULL`),
    check(
      "movement_serial_one",
      sql`${t.serial} IS NULL OR (${t.quantityC} = 100 AND ${t.drumSerial} IS NULL AND length(${t.serial}) > 0)`,
    ),
    check("movement_quantity", sql`${t.quantityC} > 0`),
    check("movement_places", sql`${t.fromPlace} IS NOT NULL OR ${t.toPlace} IS NOT NULL`),
    check(
      "movement_moves",
      sql`${t.fromPlace} IS NULL OR ${t.toPlace} IS NULL OR ${t.fromPlace} <> ${t.toPlace}`,
    ),
    check(
      "movement_kind",
      sql`${t.kind} IN ('receipt','issue','return','transfer','cut','count adjustment','scrap','installed','quality hold','release','to repair','from repair','exchange','reversal')`,
    ),
    check("movement_reversal", sql`(${t.kind} = 'reversal') = (${t.correctsId} IS NOT NULL)`),
    check("movement_owner", sql`${t.owner} IN ('contractor','customer')`),
  ],
);

/**
 * A cut piece that was lost or spoilt after it was cut: its metres left the drum and stay gone, and its run wants
 * another. Taken out again when the piece turns up.
 */
export const runLoss = sqliteTable("run_loss", {
  cutId: integer("cut_id")
    .primaryKey()
    .references(() => movement.id, keep),
  lostOn: text("lost_on").$type<CalendarDate>().notNull(),
  reason: text("reason").notNull(),
  recordedBy: text("recorded_by").notNull(),
  recordedAt: integer("recorded_at").notNull(),
});

/** Serials that were read into the box of a kit, until it is issued: from then on the ledger's rows name them. */
export const kitSerial = sqliteTable(
  "kit_serial",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    visitId: text("visit_id").notNull(),
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, keep),
    serial: text("serial").notNull(),
    readBy: text("read_by").notNull(),
    readAt: integer("read_at").notNull(),
  },
  (t) => [
    // A piece lies in one box.
    uniqueIndex("kit_serial_once").on(t.serial),
    index("kit_serial_visit").on(t.visitId),
    check("kit_serial_word", sql`length(${t.serial}) > 0`),
  ],
);

/** Kept by triggers only. Lot and drum are '' where the item has none. */
export const balance = sqliteTable(
  "balance",
  {
    itemCode: text("item_code").notNull(),
    placeCode: text("place_code").notNull(),
    lotCode: text("lot_code").notNull(),
    drumSerial: text("drum_serial").notNull(),
    owner: text("owner").$type<Owner>().notNull(),
    quantityC: integer("quantity_c").notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.itemCode, t.placeCode, t.lotCode, t.drumSerial, t.owner] }),
    check("balance_not_negative", sql`${t.quantityC} >= 0`),
    index("balance_place").on(t.placeCode),
    index("balance_lots").on(t.lotCode).where(sql`${t.lotCode} <> '' AND ${t.quantityC} > 0`),
  ],
);

export type OrderState = "proposed" | "approved" | "sent" | "partly received" | "closed";

export const purchaseOrder = sqliteTable(
  "purchase_order",
  {
    code: text("code").primaryKey(),
    /** purchase = our own money, call-off = the customer's material. */
    kind: text("kind").$type<"purchase" | "call-off">().notNull(),
    supplier: text("supplier").notNull(),
    state: text("state").$type<OrderState>().notNull(),
    placeCode: text("place_code")
      .notNull()
      .references(() => place.code, keep),
    createdAt: integer("created_at").notNull(),
    createdBy: text("created_by").notNull(),
    /** Day on which it went out; null while it is not sent, or where nobody knows. */
    sentOn: text("sent_on").$type<CalendarDate>(),
    note: text("note").notNull().default(""),
  },
  (t) => [
    check("order_kind", sql`${t.kind} IN ('purchase','call-off')`),
    check("order_state", sql`${t.state} IN ('proposed','approved','sent','partly received','closed')`),
  ],
);

export const orderLine = sqliteTable(
  "order_line",
  {
    orderCode: text("order_code")
      .notNull()
      .references(() => purchaseOrder.code, { onUpdate: "cascade", onDelete: "cascade" }),
    lineNo: integer("line_no").notNull(),
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, keep),
    quantityC: integer("quantity_c").notNull(),
    receivedC: integer("received_c").notNull().default(0),
    dueOn: text("due_on").$type<CalendarDate>().notNull(),
    /** Day first promised by the supplier, when the order was sent; null until then. */
    promisedOn: text("promised_on").$type<CalendarDate>(),
    /** Price of one unit as ordered, in `currency`; null = not agreed, the catalogue's price is shown. */
    priceMinor: integer("price_minor"),
    currency: text("currency"),
  },
  (t) => [
    primaryKey({ columns: [t.orderCode, t.lineNo] }),
    check(
      "order_line_price",
      sql`(${t.priceMinor} IS NULL) = (${t.currency} IS NULL) AND (${t.priceMinor} IS NULL OR ${t.priceMinor} >= 0)`,
    ),
    check("order_line_quantity", sql`${t.quantityC} > 0 AND ${t.receivedC} >= 0`),
    index("order_line_item").on(t.itemCode),
  ],
);

export type TransferState = "planned" | "moved" | "cancelled";

/** A transfer between warehouses that somebody decided on. Moving it posts rows of kind transfer. */
export const stockTransfer = sqliteTable(
  "stock_transfer",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, keep),
    fromPlace: text("from_place")
      .notNull()
      .references(() => place.code, keep),
    toPlace: text("to_place")
      .notNull()
      .references(() => place.code, keep),
    quantityC: integer("quantity_c").notNull(),
    sendOn: text("send_on").$type<CalendarDate>().notNull(),
    arriveOn: text("arrive_on").$type<CalendarDate>().notNull(),
    state: text("state").$type<TransferState>().notNull(),
    plannedBy: text("planned_by").notNull(),
    plannedAt: integer("planned_at").notNull(),
    endedBy: text("ended_by"),
    endedAt: integer("ended_at"),
  },
  (t) => [
    index("stock_transfer_state").on(t.state, t.itemCode),
    check("stock_transfer_state_word", sql`${t.state} IN ('planned','moved','cancelled')`),
    check("stock_transfer_moves", sql`${t.fromPlace} <> ${t.toPlace} AND ${t.quantityC} > 0`),
    check("stock_transfer_days", sql`${t.sendOn} <= ${t.arriveOn}`),
    check("stock_transfer_ended", sql`(${t.state} = 'planned') = (${t.endedAt} IS NULL)`),
  ],
);
