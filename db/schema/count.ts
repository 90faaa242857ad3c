/** Counts of a place: begun, counted blind, approved by somebody else, posted at once. */
import { sql } from "drizzle-orm";
import { check, index, integer, primaryKey, sqliteTable, text, uniqueIndex } from "drizzle-orm/sqlite-core";
import type { Owner } from "@/lib/site";
import { item } from "./catalogue";
import { place } from "./place";

export type CountState = "counting" | "counted" | "approved" | "cancelled";

export const countSession = sqliteTable(
  "count_session",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    placeCode: text("place_code")
      .notNull()
      .references(() => place.code, { onUpdate: "cascade", onDelete: "restrict" }),
    state: text("state").$type<CountState>().notNull(),
    startedBy: text("started_by").notNull(),
    startedAt: integer("started_at").notNull(),
    /** When the last line was handed in; null while it is counted. */
    countedAt: integer("counted_at"),
    /** Who approved or cancelled it, and when. */
    endedBy: text("ended_by"),
    endedAt: integer("ended_at"),
    note: text("note").notNull().default(""),
  },
  (t) => [
    check("count_session_state", sql`${t.state} IN ('counting','counted','approved','cancelled')`),
    check("count_session_ended", sql`(${t.state} IN ('approved','cancelled')) = (${t.endedAt} IS NOT NULL)`),
    // One open count a place: two would adjust the same difference twice.
    uniqueIndex("count_session_open").on(t.placeCode).where(sql`${t.state} IN ('counting','counted')`),
  ],
);

export const countLine = sqliteTable(
  "count_line",
  {
    sessionId: integer("session_id")
      .notNull()
      .references(() => countSession.id, { onUpdate: "cascade", onDelete: "cascade" }),
    lineNo: integer("line_no").notNull(),
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, { onUpdate: "cascade", onDelete: "restrict" }),
    /** '' where the item has none, as in the balances. */
    lotCode: text("lot_code").notNull(),
    drumSerial: text("drum_serial").notNull(),
    owner: text("owner").$type<Owner>().notNull(),
    countedC: integer("counted_c"),
    /** By the ledger at the moment of counting: what moved before or after it is no difference. */
    bookC: integer("book_c"),
    countedById: text("counted_by_id"),
    countedByName: text("counted_by_name"),
    countedAt: integer("counted_at"),
  },
  (t) => [
    primaryKey({ columns: [t.sessionId, t.lineNo] }),
    uniqueIndex("count_line_thing").on(t.sessionId, t.itemCode, t.lotCode, t.drumSerial, t.owner),
    index("count_line_item").on(t.itemCode),
    check("count_line_amounts", sql`${t.countedC} >= 0 AND ${t.bookC} >= 0`),
    check(
      "count_line_whole",
      sql`(${t.countedC} IS NULL) = (${t.bookC} IS NULL) AND (${t.countedC} IS NULL) = (${t.countedById} IS NULL)`,
    ),
  ],
);
