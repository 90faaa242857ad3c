/**
 * Which radio hangs where: its serial at an end of a hop and a position of its design, from a day on, until it is taken
 * down. Quantities stay with the ledger; this says which piece it is (docs/decisions/027).
 */
import { sql } from "drizzle-orm";
import { check, index, integer, sqliteTable, text, uniqueIndex } from "drizzle-orm/sqlite-core";
import type { EndSide } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { item } from "./catalogue";

/** Why it does not hang there any more. */
export type TakenDown = "faulty" | "exchanged" | "moved" | "written wrong";

export const hungUnit = sqliteTable(
  "hung_unit",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    /** Idempotency key: one line of a report, or one form. */
    key: text("key").notNull(),
    serial: text("serial").notNull(),
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, { onUpdate: "cascade", onDelete: "restrict" }),
    hopCode: text("hop_code").notNull(),
    side: text("side").$type<EndSide>().notNull(),
    /** Label of the radio in the design of the end. */
    oduLabel: text("odu_label").notNull(),
    hungOn: text("hung_on").$type<CalendarDate>().notNull(),
    /** The visit on which a crew reported it; null = recorded at the desk. */
    visitId: text("visit_id"),
    recordedBy: text("recorded_by").notNull(),
    recordedAt: integer("recorded_at").notNull(),
    endedOn: text("ended_on").$type<CalendarDate>(),
    endedWhy: text("ended_why").$type<TakenDown>(),
    endedBy: text("ended_by"),
    endedAt: integer("ended_at"),
  },
  (t) => [
    uniqueIndex("hung_key").on(t.key),
    index("hung_serial").on(t.serial),
    // A radio hangs in one place, and a place holds one radio.
    uniqueIndex("hung_once").on(t.serial).where(sql`${t.endedOn} IS NULL`),
    uniqueIndex("hung_one").on(t.hopCode, t.side, t.oduLabel).where(sql`${t.endedOn} IS NULL`),
    check("hung_serial_word", sql`length(${t.serial}) > 0`),
    check("hung_side", sql`${t.side} IN ('near','far')`),
    check("hung_days", sql`${t.endedOn} IS NULL OR ${t.endedOn} >= ${t.hungOn}`),
    check(
      "hung_ended",
      sql`(${t.endedOn} IS NULL) = (${t.endedWhy} IS NULL) AND (${t.endedOn} IS NULL) = (${t.endedAt} IS NULL)`,
    ),
    check(
      "hung_why",
      sql`${t.endedWhy} IS NULL OR ${t.endedWhy} IN ('faulty','exchanged','moved','written wrong')`,
    ),
  ],
);
