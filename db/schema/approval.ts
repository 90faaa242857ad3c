/** Up to which amount a role approves an order on its own, where the organisation decided it (lib/stock/approval). */
import { sql } from "drizzle-orm";
import { check, integer, primaryKey, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { LimitedRole } from "@/lib/stock";

export const approvalLimit = sqliteTable(
  "approval_limit",
  {
    role: text().$type<LimitedRole>().notNull(),
    /** ISO 4217. */
    currency: text().notNull(),
    upToMinor: integer("up_to_minor").notNull(),
    changedBy: text("changed_by").notNull(),
    changedAt: integer("changed_at").notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.role, t.currency] }),
    check("approval_limit_role", sql`${t.role} IN ('manager', 'logistics')`),
    check("approval_limit_currency", sql`${t.currency} GLOB '[A-Z][A-Z][A-Z]'`),
    check("approval_limit_amount", sql`${t.upToMinor} BETWEEN 0 AND 100000000000`),
  ],
);
