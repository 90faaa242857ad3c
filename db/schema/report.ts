/** What came back from the field, what was imported, and who did what. Rows are added; a file may correct a day's hours. */
import { sql } from "drizzle-orm";
import {
  type AnySQLiteColumn,
  blob,
  check,
  index,
  integer,
  primaryKey,
  real,
  sqliteTable,
  text,
  uniqueIndex,
} from "drizzle-orm/sqlite-core";
import type { Remedy } from "@/lib/acceptance";
import type { EndSide } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { hop } from "./design";

export const visitReport = sqliteTable(
  "visit_report",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    /** Idempotency key made on the phone. */
    key: text("key").notNull(),
    visitId: text("visit_id").notNull(),
    hopCode: text("hop_code")
      .notNull()
      .references(() => hop.code, { onUpdate: "cascade", onDelete: "cascade" }),
    crewCode: text("crew_code").notNull(),
    workedOn: text("worked_on").$type<CalendarDate>().notNull(),
    outcome: text("outcome").$type<"done" | "part done" | "hold">().notNull(),
    workedMin: real("worked_min").notNull(),
    /** Part done: what the crew says is left, coming back included; null = nobody said, the whole visit is planned again. */
    leftMin: real("left_min"),
    holdReason: text("hold_reason"),
    note: text("note").notNull().default(""),
    reportedBy: text("reported_by").notNull(),
    reportedAt: integer("reported_at").notNull(),
    /** The report of the same visit in whose place this one stands; that one counts no more. */
    correctsId: integer("corrects_id").references((): AnySQLiteColumn => visitReport.id),
    /** A hold that was lifted holds nothing any more; the hours of its report count. */
    liftedAt: integer("lifted_at"),
    liftedBy: text("lifted_by"),
    liftedWhy: text("lifted_why"),
  },
  (t) => [
    uniqueIndex("visit_report_key").on(t.key),
    uniqueIndex("visit_report_corrects").on(t.correctsId),
    index("visit_report_visit").on(t.visitId),
    check("visit_report_outcome", sql`${t.outcome} IN ('done','part done','hold')`),
    check("visit_report_hold", sql`${t.outcome} <> 'hold' OR length(${t.holdReason}) > 0`),
    check(
      "visit_report_left",
      sql`${t.leftMin} IS NULL OR (${t.outcome} = 'part done' AND ${t.leftMin} > 0 AND ${t.leftMin} <= 10080)`,
    ),
    check("visit_report_minutes", sql`${t.workedMin} >= 0 AND ${t.workedMin} <= 10080`),
  ],
);

export const reportUse = sqliteTable(
  "report_use",
  {
    reportId: integer("report_id")
      .notNull()
      .references(() => visitReport.id, { onDelete: "cascade" }),
    lineNo: integer("line_no").notNull(),
    itemCode: text("item_code").notNull(),
    runId: text("run_id"),
    drumSerial: text("drum_serial"),
    usedC: integer("used_c").notNull(),
    leftC: integer("left_c").notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.reportId, t.lineNo] }),
    check("report_use_amounts", sql`${t.usedC} >= 0 AND ${t.leftC} >= 0`),
  ],
);

/** A reading by which a hop is accepted. Of several of one thing the latest row counts. */
export const acceptanceReading = sqliteTable(
  "acceptance_reading",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    hopCode: text("hop_code")
      .notNull()
      .references(() => hop.code, { onUpdate: "cascade", onDelete: "cascade" }),
    /** Which reading of the hop: lib/acceptance. */
    askedId: text("asked_id").notNull(),
    /** A figure in the reading's unit, or whether it passed: one of the two. */
    value: real("value"),
    passed: integer("passed", { mode: "boolean" }),
    /** Receive level: the target it was held against where the design had none. */
    targetLevelDbm: real("target_level_dbm"),
    takenOn: text("taken_on").$type<CalendarDate>().notNull(),
    note: text("note").notNull().default(""),
    /** The report it came with; null = entered on the hop's page. */
    reportId: integer("report_id").references(() => visitReport.id, { onDelete: "cascade" }),
    /** The wrong one of the same thing in whose place it was entered: that one counts no more. */
    correctsId: integer("corrects_id").references((): AnySQLiteColumn => acceptanceReading.id, {
      onDelete: "set null",
    }),
    recordedBy: text("recorded_by").notNull(),
    recordedAt: integer("recorded_at").notNull(),
  },
  (t) => [
    index("acceptance_reading_hop").on(t.hopCode, t.askedId),
    check("acceptance_reading_one", sql`(${t.value} IS NULL) <> (${t.passed} IS NULL)`),
    check("acceptance_reading_passed", sql`${t.passed} IS NULL OR ${t.passed} IN (0, 1)`),
  ],
);

/** A visit that failed readings ask for. Withdrawn ones stay as a record; a done one has its report. */
export const revisit = sqliteTable(
  "revisit",
  {
    /** As in the plan: `${hopCode}/${side}/revisit`, `.../revisit-2` for the second. */
    visitId: text("visit_id").primaryKey(),
    hopCode: text("hop_code")
      .notNull()
      .references(() => hop.code, { onUpdate: "cascade", onDelete: "cascade" }),
    side: text("side").$type<EndSide>().notNull(),
    no: integer("no").notNull(),
    remedy: text("remedy").$type<Remedy>().notNull(),
    isJoint: integer("is_joint", { mode: "boolean" }).notNull(),
    cause: text("cause").notNull(),
    /** Its hours, kept by the last plan that was made; null until then. */
    estimate: text("estimate", { mode: "json" }).$type<unknown>(),
    openedBy: text("opened_by").notNull(),
    openedAt: integer("opened_at").notNull(),
    withdrawnBy: text("withdrawn_by"),
    withdrawnAt: integer("withdrawn_at"),
    withdrawnWhy: text("withdrawn_why"),
  },
  (t) => [
    uniqueIndex("revisit_end_no").on(t.hopCode, t.side, t.no),
    check("revisit_side", sql`${t.side} IN ('near','far')`),
    check("revisit_no", sql`${t.no} BETWEEN 1 AND 99`),
    check("revisit_remedy", sql`${t.remedy} IN ('align again','connections','earthing','indoor unit')`),
    check("revisit_joint", sql`${t.isJoint} = 0 OR ${t.remedy} = 'align again'`),
    check(
      "revisit_withdrawn",
      sql`(${t.withdrawnAt} IS NULL) = (${t.withdrawnBy} IS NULL) AND (${t.withdrawnAt} IS NULL) = (${t.withdrawnWhy} IS NULL)`,
    ),
  ],
);

/** Minutes that the crew timed for single tasks of the visit; a report need not have any. */
export const reportPart = sqliteTable(
  "report_part",
  {
    reportId: integer("report_id")
      .notNull()
      .references(() => visitReport.id, { onDelete: "cascade" }),
    /** Part of the hour norms. */
    part: text("part").notNull(),
    workedMin: real("worked_min").notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.reportId, t.part] }),
    check("report_part_minutes", sql`${t.workedMin} > 0 AND ${t.workedMin} <= 10080`),
  ],
);

/** Factors that the actuals spoke for and a person turned down; accepted ones are versions of the policy. */
export const calibrationRejection = sqliteTable(
  "calibration_rejection",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    proposalId: text("proposal_id").notNull(),
    /** In force and proposed then: factors, for the range a standard deviation. */
    inForce: real("in_force").notNull(),
    proposed: real("proposed").notNull(),
    actuals: integer("actuals").notNull(),
    reason: text("reason").notNull(),
    rejectedBy: text("rejected_by").notNull(),
    rejectedAt: integer("rejected_at").notNull(),
  },
  (t) => [
    index("calibration_rejection_proposal").on(t.proposalId),
    check("calibration_rejection_reason", sql`length(${t.reason}) > 0`),
  ],
);

export const importRun = sqliteTable(
  "import_run",
  {
    id: text("id").primaryKey(),
    state: text("state").$type<"read" | "previewed" | "applied" | "discarded">().notNull(),
    createdBy: text("created_by").notNull(),
    createdAt: integer("created_at").notNull(),
    summary: text("summary", { mode: "json" }).$type<unknown>(),
  },
  (t) => [check("import_state", sql`${t.state} IN ('read','previewed','applied','discarded')`)],
);

export const importFile = sqliteTable(
  "import_file",
  {
    importId: text("import_id")
      .notNull()
      .references(() => importRun.id, { onDelete: "cascade" }),
    seq: integer("seq").notNull(),
    fileName: text("file_name").notNull(),
    kind: text("kind"),
    matching: text("matching", { mode: "json" }).$type<unknown>(),
    bytes: blob("bytes", { mode: "buffer" }).notNull(),
    /** Fate of every row, as the preview found it. */
    preview: text("preview", { mode: "json" }).$type<unknown>(),
  },
  (t) => [primaryKey({ columns: [t.importId, t.seq] })],
);

export const logEntry = sqliteTable(
  "log_entry",
  {
    id: integer("id").primaryKey({ autoIncrement: true }),
    at: integer("at").notNull(),
    userName: text("user_name").notNull(),
    action: text("action").notNull(),
    subject: text("subject").notNull(),
    detail: text("detail", { mode: "json" }).$type<unknown>().notNull(),
  },
  (t) => [index("log_at").on(t.at), index("log_subject").on(t.subject)],
);
