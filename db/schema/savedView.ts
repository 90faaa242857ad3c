/** Views of lists that a person keeps by name. */
import { sql } from "drizzle-orm";
import { check, integer, sqliteTable, text, uniqueIndex } from "drizzle-orm/sqlite-core";
import { user } from "./auth";

export type ListKind = "sites" | "hops" | "plan" | "stock" | "kits";

export const savedView = sqliteTable(
  "saved_view",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    userId: text("user_id")
      .notNull()
      .references(() => user.id, { onDelete: "cascade" }),
    list: text("list").$type<ListKind>().notNull(),
    name: text("name").notNull(),
    /** Filters, sort and columns as the address has them, without "?". */
    query: text("query").notNull(),
    savedAt: integer("saved_at").notNull(),
  },
  (t) => [
    uniqueIndex("saved_view_name").on(t.userId, t.list, t.name),
    check("saved_view_list", sql`${t.list} IN ('sites','hops','plan','stock','kits')`),
  ],
);
