/** Plans and what follows from them: visits, kits, cutting lists, netting. One plan at most is in force. */
import { sql } from "drizzle-orm";
import {
  check,
  foreignKey,
  index,
  integer,
  primaryKey,
  real,
  sqliteTable,
  text,
  uniqueIndex,
} from "drizzle-orm/sqlite-core";
import type { CuttingPlan } from "@/lib/drums";
import type { RiskByName } from "@/lib/programme";
import type { PlanCost, VisitKind } from "@/lib/schedule";
import type { EndSide } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { crew } from "./crew";
import { hop, linkEnd, site } from "./design";

const cascade = { onUpdate: "cascade", onDelete: "cascade" } as const;

export const plan = sqliteTable(
  "plan",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    state: text("state").$type<"draft" | "in force" | "past">().notNull(),
    firstDay: text("first_day").$type<CalendarDate>().notNull(),
    dayCount: integer("day_count").notNull(),
    seed: text("seed").notNull(),
    iterations: integer("iterations").notNull(),
    cost: text("cost", { mode: "json" }).$type<PlanCost>().notNull(),
    lowerBound: real("lower_bound").notNull(),
    /** Versions of the rule data it was made with, and notes on how settling stock and plan ended. */
    basis: text("basis", { mode: "json" }).$type<Record<string, unknown>>().notNull(),
    createdBy: text("created_by").notNull(),
    createdAt: integer("created_at").notNull(),
    publishedAt: integer("published_at"),
    /** Rises with every edit: the second of two planners is told. */
    revision: integer("revision").notNull().default(1),
  },
  (t) => [
    check("plan_state", sql`${t.state} IN ('draft','in force','past')`),
    check("plan_days", sql`${t.dayCount} > 0`),
    uniqueIndex("plan_one_in_force").on(t.state).where(sql`${t.state} = 'in force'`),
  ],
);

export const planVisit = sqliteTable(
  "plan_visit",
  {
    planId: integer("plan_id")
      .notNull()
      .references(() => plan.id, cascade),
    /** `${hopCode}/${side}/${kind}`: the same in every plan. */
    visitId: text("visit_id").notNull(),
    kind: text("kind").$type<VisitKind>().notNull(),
    hopCode: text("hop_code")
      .notNull()
      .references(() => hop.code, cascade),
    side: text("side").$type<EndSide>().notNull(),
    siteCode: text("site_code")
      .notNull()
      .references(() => site.code, cascade),
    durationMin: integer("duration_min").notNull(),
    /** Done at both ends in the same hours. */
    isJoint: integer("is_joint", { mode: "boolean" }).notNull().default(false),
    kitReadyOn: text("kit_ready_on").$type<CalendarDate>(),
    crewCode: text("crew_code").references(() => crew.code, cascade),
    startOn: text("start_on").$type<CalendarDate>(),
    startMin: integer("start_min"),
    endOn: text("end_on").$type<CalendarDate>(),
    endMin: integer("end_min"),
    /** Minutes between P50 and P80 that past weather adds on its day; 0 inside the forecast. */
    riskMin: integer("risk_min").notNull().default(0),
    isPinned: integer("is_pinned", { mode: "boolean" }).notNull().default(false),
    /** Set when it could not be placed: the rule that stops it, and the detail. */
    unplacedRule: text("unplaced_rule"),
    unplacedDetail: text("unplaced_detail"),
  },
  (t) => [
    primaryKey({ columns: [t.planId, t.visitId] }),
    index("plan_visit_crew").on(t.planId, t.crewCode, t.startOn),
    index("plan_visit_hop").on(t.planId, t.hopCode),
    check("plan_visit_placed", sql`(${t.crewCode} IS NULL) = (${t.startOn} IS NULL)`),
    check("plan_visit_or_reason", sql`(${t.crewCode} IS NULL) <> (${t.unplacedRule} IS NULL)`),
    check("plan_visit_order", sql`${t.startOn} IS NULL OR ${t.startOn} <= ${t.endOn}`),
    check("plan_visit_kind", sql`${t.kind} IN ('install','alignment','acceptance','revisit')`),
    check("plan_visit_side", sql`${t.side} IN ('near','far')`),
  ],
);

export const planCutting = sqliteTable(
  "plan_cutting",
  {
    planId: integer("plan_id")
      .notNull()
      .references(() => plan.id, cascade),
    cableCode: text("cable_code").notNull(),
    body: text("body", { mode: "json" }).$type<CuttingPlan>().notNull(),
  },
  (t) => [primaryKey({ columns: [t.planId, t.cableCode] })],
);

export interface NettingBody {
  /** Day of the first entry of each series: the day of the netting, not always the plan's first. */
  firstOn: CalendarDate;
  /** Spares that the place keeps back; absent = none. */
  spares?: number;
  /** One entry a day, in units. */
  gross: number[];
  scheduled: number[];
  projectedWithoutOrders: number[];
  projected: number[];
  runsOutDay?: number;
  /** As long as nothing is ordered and nothing proposed is sent. */
  stops: { visitId: string; siteCode: string; day: number; missing: number }[];
  /** Of these what the proposed transfers do not save. */
  stopsLeft: { visitId: string; siteCode: string; day: number; missing: number }[];
  /** What remains to be bought after the proposed transfers. */
  orders: { quantity: number; receiptDay: number; releaseDay: number; pastDueDays: number }[];
}

export const planNetting = sqliteTable(
  "plan_netting",
  {
    planId: integer("plan_id")
      .notNull()
      .references(() => plan.id, cascade),
    itemCode: text("item_code").notNull(),
    /** The warehouse; '' = all of them together (cable). */
    placeCode: text("place_code").notNull().default(""),
    runsOutOn: text("runs_out_on").$type<CalendarDate>(),
    onHandC: integer("on_hand_c").notNull(),
    totalNeedC: integer("total_need_c").notNull(),
    body: text("body", { mode: "json" }).$type<NettingBody>().notNull(),
  },
  (t) => [primaryKey({ columns: [t.planId, t.itemCode, t.placeCode] })],
);

/** Transfers that the netting of a plan proposes; accepted ones move to `stock_transfer`. */
export const planTransfer = sqliteTable(
  "plan_transfer",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    planId: integer("plan_id")
      .notNull()
      .references(() => plan.id, cascade),
    itemCode: text("item_code").notNull(),
    fromPlace: text("from_place").notNull(),
    toPlace: text("to_place").notNull(),
    quantityC: integer("quantity_c").notNull(),
    sendOn: text("send_on").$type<CalendarDate>().notNull(),
    arriveOn: text("arrive_on").$type<CalendarDate>().notNull(),
    /** Days after it is wanted; 0 = in time. */
    daysLate: integer("days_late").notNull(),
    /** The sender gives what it keeps back, since a visit would stop. */
    fromReserve: integer("from_reserve", { mode: "boolean" }).notNull().default(false),
  },
  (t) => [
    index("plan_transfer_plan").on(t.planId, t.itemCode),
    check("plan_transfer_moves", sql`${t.fromPlace} <> ${t.toPlace} AND ${t.quantityC} > 0`),
  ],
);

/** How sure a plan is (docs/methods/risk.md); one row a plan, replaced by the next simulation of it. */
/** With the last rows of log and reports that the run knew; left out by runs from before they were kept. */
type StoredRiskBody = RiskByName & { seen?: { logId: number; reportId: number } };

export const planRisk = sqliteTable("plan_risk", {
  planId: integer("plan_id")
    .primaryKey()
    .references(() => plan.id, cascade),
  /** Of the plan when it was run: a later edit makes the figures out of date. */
  planRevision: integer("plan_revision").notNull(),
  madeAt: integer("made_at").notNull(),
  body: text("body", { mode: "json" }).$type<StoredRiskBody>().notNull(),
});

export const kit = sqliteTable(
  "kit",
  {
    planId: integer("plan_id").notNull(),
    visitId: text("visit_id").notNull(),
    pickOn: text("pick_on").$type<CalendarDate>().notNull(),
    placeCode: text("place_code").notNull(),
    state: text("state").$type<"planned" | "picked" | "issued">().notNull(),
    massKg: real("mass_kg").notNull(),
    volumeL: real("volume_l").notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.planId, t.visitId] }),
    foreignKey({
      columns: [t.planId, t.visitId],
      foreignColumns: [planVisit.planId, planVisit.visitId],
      name: "kit_visit",
    })
      .onUpdate("cascade")
      .onDelete("cascade"),
    check("kit_state", sql`${t.state} IN ('planned','picked','issued')`),
    index("kit_pick").on(t.planId, t.pickOn),
  ],
);

export const kitLine = sqliteTable(
  "kit_line",
  {
    planId: integer("plan_id").notNull(),
    visitId: text("visit_id").notNull(),
    lineNo: integer("line_no").notNull(),
    itemCode: text("item_code").notNull(),
    name: text("name").notNull(),
    /** What its visit uses by the take-off. */
    neededC: integer("needed_c").notNull(),
    /** What goes into the box for it: 0 = the vehicle has it opened already. */
    boxC: integer("box_c").notNull().default(0),
    pickedC: integer("picked_c").notNull().default(0),
    /** Who ticked it off; null = nobody, or a cut that laid its run into the box. */
    pickedBy: text("picked_by"),
    /** What stock will not cover on the pick date. */
    shortC: integer("short_c").notNull(),
    drumSerial: text("drum_serial"),
    runId: text("run_id"),
    lotCode: text("lot_code"),
    reason: text("reason").notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.planId, t.visitId, t.lineNo] }),
    foreignKey({
      columns: [t.planId, t.visitId],
      foreignColumns: [kit.planId, kit.visitId],
      name: "kit_line_kit",
    })
      .onUpdate("cascade")
      .onDelete("cascade"),
    check("kit_line_amounts", sql`${t.neededC} > 0 AND ${t.pickedC} >= 0 AND ${t.shortC} >= 0`),
  ],
);

/** Take-off and hours of an end, kept until its design, the catalogue or the rules change (`basis` differs). */
export const endEstimate = sqliteTable("end_estimate", {
  endId: text("end_id")
    .primaryKey()
    .references(() => linkEnd.id, cascade),
  basis: text("basis").notNull(),
  takeoff: text("takeoff", { mode: "json" }).$type<unknown>().notNull(),
  estimate: text("estimate", { mode: "json" }).$type<unknown>().notNull(),
  failCount: integer("fail_count").notNull(),
  warnCount: integer("warn_count").notNull(),
  cableM: real("cable_m").notNull(),
  massKg: real("mass_kg").notNull(),
  installMin: real("install_min").notNull(),
  p80Min: real("p80_min").notNull(),
});

export const hopEstimate = sqliteTable("hop_estimate", {
  hopCode: text("hop_code")
    .primaryKey()
    .references(() => hop.code, cascade),
  basis: text("basis").notNull(),
  checks: text("checks", { mode: "json" }).$type<unknown>().notNull(),
  alignment: text("alignment", { mode: "json" }).$type<unknown>().notNull(),
  /** Of the far end where it differs from the near end's; null = the same. */
  alignmentFar: text("alignment_far", { mode: "json" }).$type<unknown>(),
  /** By side, where the readings have a visit of their own. */
  acceptance: text("acceptance", { mode: "json" }).$type<unknown>(),
  alignmentMin: real("alignment_min").notNull(),
  failCount: integer("fail_count").notNull(),
  warnCount: integer("warn_count").notNull(),
});
