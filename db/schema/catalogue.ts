/** Catalogue items and the rule data that a company edits: versions are kept, the newest is in force. */
import { sql } from "drizzle-orm";
import { check, index, integer, primaryKey, real, sqliteTable, text } from "drizzle-orm/sqlite-core";
import type { ItemAttributes, ItemCategory, Owner, Unit } from "@/lib/site";
import type { LotRule } from "@/lib/stock";

export interface StoredBreak {
  fromQuantity: number;
  priceMinor: number;
}

export const item = sqliteTable(
  "item",
  {
    code: text("code").primaryKey(),
    name: text("name").notNull(),
    category: text("category").$type<ItemCategory>().notNull(),
    unit: text("unit").$type<Unit>().notNull(),
    massKg: real("mass_kg").notNull(),
    volumeL: real("volume_l").notNull(),
    attributes: text("attributes", { mode: "json" }).$type<ItemAttributes>().notNull(),
    owner: text("owner").$type<Owner>().notNull(),
    leadTimeDays: integer("lead_time_days").notNull(),
    lotRule: text("lot_rule").$type<LotRule["kind"]>().notNull().default("minimum"),
    orderMultiple: real("order_multiple").notNull(),
    minimumOrder: real("minimum_order").notNull(),
    safetyStock: real("safety_stock").notNull(),
    priceMinor: integer("price_minor").notNull(),
    currency: text("currency").notNull(),
    shelfLifeDays: integer("shelf_life_days"),
    /** What placing an order costs; null = the figure of the rules. */
    orderCostMinor: integer("order_cost_minor"),
    /** What a year on the shelf costs, as a share of the price; null = the figure of the rules. */
    holdingSharePerYear: real("holding_share_per_year"),
    /** Lower prices of a whole order from a quantity on, rising quantities. */
    priceBreaks: text("price_breaks", { mode: "json" }).$type<StoredBreak[]>().notNull().default([]),
  },
  (t) => [
    check("item_unit", sql`${t.unit} IN ('piece','m','roll','can','tube','pack')`),
    check("item_owner", sql`${t.owner} IN ('contractor','customer')`),
    check("item_amounts", sql`${t.massKg} >= 0 AND ${t.volumeL} >= 0 AND ${t.priceMinor} >= 0`),
    check("item_order", sql`${t.orderMultiple} > 0 AND ${t.minimumOrder} >= 0 AND ${t.safetyStock} >= 0`),
    check("item_lead", sql`${t.leadTimeDays} >= 0`),
    check(
      "item_lot_rule",
      sql`${t.lotRule} IN ('lot for lot','fixed multiple','minimum','Silver-Meal','Wagner-Whitin','price breaks')`,
    ),
    check(
      "item_lot_costs",
      sql`(${t.orderCostMinor} IS NULL OR ${t.orderCostMinor} >= 0) AND (${t.holdingSharePerYear} IS NULL OR ${t.holdingSharePerYear} >= 0)`,
    ),
    index("item_category").on(t.category),
  ],
);

export type PolicyKind =
  | "takeoff policy"
  | "takeoff rules"
  | "hour norms"
  | "hour calibration"
  | "weather limits"
  | "plan weights"
  | "cutting"
  | "stock"
  | "acceptance limits";

export const policy = sqliteTable(
  "policy",
  {
    kind: text("kind").$type<PolicyKind>().notNull(),
    version: integer("version").notNull(),
    body: text("body", { mode: "json" }).$type<unknown>().notNull(),
    changedBy: text("changed_by").notNull(),
    changedAt: integer("changed_at").notNull(),
    reason: text("reason").notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.kind, t.version] }),
    check("policy_version", sql`${t.version} >= 1`),
    check(
      "policy_kind",
      sql`${t.kind} IN ('takeoff policy','takeoff rules','hour norms','hour calibration','weather limits','plan weights','cutting','stock','acceptance limits')`,
    ),
  ],
);
