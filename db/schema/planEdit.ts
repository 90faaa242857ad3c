/** What planners changed in a plan by hand, change by change: who, what, and how each visit stood before and after. */
import { sql } from "drizzle-orm";
import { check, index, integer, primaryKey, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { plan, type planVisit } from "./plan";

export type PlanEditKind = "move" | "pin" | "free" | "undo" | "redo";

/** A visit's place; null crew and times = none, with the reason. */
export type NewPlace = Pick<
  typeof planVisit.$inferSelect,
  | "visitId"
  | "crewCode"
  | "startOn"
  | "startMin"
  | "endOn"
  | "endMin"
  | "riskMin"
  | "isPinned"
  | "unplacedRule"
  | "unplacedDetail"
>;

export interface PlaceChange {
  before: NewPlace;
  after: NewPlace;
}

export const planEdit = sqliteTable(
  "plan_edit",
  {
    planId: integer("plan_id")
      .notNull()
      .references(() => plan.id, { onUpdate: "cascade", onDelete: "cascade" }),
    editNo: integer("edit_no").notNull(),
    kind: text("kind").$type<PlanEditKind>().notNull(),
    /** Whose it is: undo and redo go by person. The name stays readable when the account is gone. */
    userId: text("user_id").notNull(),
    byName: text("by_name").notNull(),
    at: integer("at").notNull(),
    /** What was done, as a sentence goes on after its kind: "VH001/near/install". */
    words: text("words").notNull(),
    /** Of the plan after it: who read an earlier one has not seen it. */
    revision: integer("revision").notNull(),
    changes: text("changes", { mode: "json" }).$type<PlaceChange[]>().notNull(),
    /** Hard rules that it broke when it was accepted. */
    broken: text("broken", { mode: "json" }).$type<string[]>().notNull(),
    /** Of an undo or redo: the edit that it takes back or does again. */
    ofNo: integer("of_no"),
    /** undone = can be done again; dropped = undone, and something else was done after. */
    state: text("state").$type<"done" | "undone" | "dropped">().notNull().default("done"),
  },
  (t) => [
    primaryKey({ columns: [t.planId, t.editNo] }),
    index("plan_edit_person").on(t.planId, t.userId, t.state),
    check("plan_edit_kind", sql`${t.kind} IN ('move','pin','free','undo','redo')`),
    check("plan_edit_state", sql`${t.state} IN ('done','undone','dropped')`),
    check("plan_edit_of", sql`(${t.kind} IN ('undo','redo')) = (${t.ofNo} IS NOT NULL)`),
  ],
);
