/** How many spares of a radio variant a warehouse keeps, where somebody decided it; without a row the rules' level counts. */
import { sql } from "drizzle-orm";
import { check, integer, primaryKey, real, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { item } from "./catalogue";
import { place } from "./place";

export const spareRule = sqliteTable(
  "spare_rule",
  {
    itemCode: text("item_code")
      .notNull()
      .references(() => item.code, { onUpdate: "cascade", onDelete: "cascade" }),
    placeCode: text("place_code")
      .notNull()
      .references(() => place.code, { onUpdate: "cascade", onDelete: "cascade" }),
    /** A number that somebody fixed, or a service level of its own: one of the two. */
    fixedQuantity: integer("fixed_quantity"),
    serviceLevel: real("service_level"),
    reason: text("reason").notNull(),
    changedBy: text("changed_by").notNull(),
    changedAt: integer("changed_at").notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.itemCode, t.placeCode] }),
    check("spare_rule_one", sql`(${t.fixedQuantity} IS NULL) <> (${t.serviceLevel} IS NULL)`),
    check("spare_rule_fixed", sql`${t.fixedQuantity} IS NULL OR ${t.fixedQuantity} BETWEEN 0 AND 10000`),
    check(
      "spare_rule_level",
      sql`${t.serviceLevel} IS NULL OR (${t.serviceLevel} > 0 AND ${t.serviceLevel} < 1)`,
    ),
    check("spare_rule_reason", sql`length(${t.reason}) > 0`),
  ],
);
