/**
 * Pieces found faulty: what was found, and what is promised of their repair. Where a piece stands, and what became of
 * it, is not kept here: the ledger's rows that name the fault say so (lib/stock/faults.ts).
 */
import { sql } from "drizzle-orm";
import { check, index, integer, sqliteTable, text, uniqueIndex } from "drizzle-orm/sqlite-core";
import type { Owner } from "@/lib/site";
import type { FaultCause } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { item } from "./catalogue";
import { place } from "./place";

const keep = { onUpdate: "cascade", onDelete: "restrict" } as const;

export const fault = sqliteTable(
  "fault",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    /** Idempotency key: one form or one line of a report finds one fault. */
    key: text("key").notNull(),
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, keep),
    /** Serial on the piece; null for items without one. */
    serial: text("serial"),
    /** A whole drum; its quantity is what was left on it. */
    drumSerial: text("drum_serial"),
    /** The order on whose receipt it was put on hold; null = found later. */
    orderCode: text("order_code"),
    owner: text("owner").$type<Owner>().notNull(),
    quantityC: integer("quantity_c").notNull(),
    cause: text("cause").$type<FaultCause>().notNull(),
    symptom: text("symptom").notNull(),
    foundOn: text("found_on").$type<CalendarDate>().notNull(),
    /** The visit on which it was found; null = not on a site. */
    visitId: text("visit_id"),
    /** Whom the piece was delivered by; '' = not known. */
    supplier: text("supplier").notNull(),
    /** Warehouse whose hold it goes to, and to which it comes back unless another is named. */
    warehouseCode: text("warehouse_code")
      .notNull()
      .references(() => place.code, keep),
    /** Day on which the repairer promised it back, and to which warehouse; null = nothing promised. */
    expectedBackOn: text("expected_back_on").$type<CalendarDate>(),
    /** The repairer's number or ours on its papers. */
    reference: text("reference").notNull().default(""),
    recordedBy: text("recorded_by").notNull(),
    recordedAt: integer("recorded_at").notNull(),
  },
  (t) => [
    uniqueIndex("fault_key").on(t.key),
    index("fault_item").on(t.itemCode),
    index("fault_serial").on(t.serial),
    check("fault_owner", sql`${t.owner} IN ('contractor','customer')`),
    check("fault_cause", sql`${t.cause} IN ('dead on arrival','failed in service','doubtful')`),
    check("fault_quantity", sql`${t.quantityC} > 0 AND (${t.serial} IS NULL OR ${t.quantityC} = 100)`),
    check("fault_serial_word", sql`${t.serial} IS NULL OR length(${t.serial}) > 0`),
    check("fault_symptom", sql`length(${t.symptom}) > 0`),
  ],
);
