/** What came back from the field, what was imported, and who did what. Rows are added, never edited. */
import { sql } from "drizzle-orm";
import {
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
    holdReason: text("hold_reason"),
    note: text("note").notNull().default(""),
    reportedBy: text("reported_by").notNull(),
    reportedAt: integer("reported_at").notNull(),
  },
  (t) => [
    uniqueIndex("visit_report_key").on(t.key),
    index("visit_report_visit").on(t.visitId),
    check("visit_report_outcome", sql`${t.outcome} IN ('done','part done','hold')`),
    check("visit_report_hold", sql`${t.outcome} <> 'hold' OR length(${t.holdReason}) > 0`),
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
