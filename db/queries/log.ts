/** The log: who did what to what, and when. */
import { desc, eq } from "drizzle-orm";
import type { Db } from "../open";
import { logEntry } from "../schema";

/** Who does it, and when. */
export interface By {
  name: string;
  at: number;
}

/**
 * Everything that is ever logged, as it is kept, searched and exported; screens say it in the reader's language. A new
 * action stands here first: no other is taken.
 */
export const LOG_ACTIONS = [
  // people
  "create account",
  "change role",
  "close account",
  "open account",
  "reset password",
  "reset second factor",
  "end sessions",
  "lift rest",
  "accept invitation",
  "change own password",
  "turn on second factor",
  "renew backup codes",
  "turn off second factor",
  "end own session",
  "end other sessions",
  // design
  "import",
  "import discarded",
  "start catalogue",
  "add gate",
  "change gate",
  "add site",
  "change site",
  "add hop",
  "change hop",
  "record readings",
  "open revisit",
  "withdraw revisit",
  // plan
  "put plan in force",
  "discard draft",
  "give times anew",
  "move visit",
  "pin visit",
  "free visit",
  "undo plan edit",
  "redo plan edit",
  "report visit",
  "lift hold",
  "deleted a photo",
  "make calendar address",
  "revoke calendar address",
  // crews
  "add certificate",
  "change certificate",
  "remove certificate",
  "add leave",
  "change leave",
  "remove leave",
  // rules
  "change takeoff policy",
  "change takeoff rules",
  "change hour norms",
  "change hour calibration",
  "change weather limits",
  "change plan weights",
  "change cutting",
  "change stock",
  "change acceptance limits",
  "reject hour calibration",
  "reject allowances",
  "change buyer",
  "approval limit changed",
  "make interface key",
  "revoke interface key",
  // stock
  "order proposed",
  "order approved",
  "order sent",
  "order received",
  "order closed",
  "order changed",
  "order brought in by a file",
  "delivery day changed",
  "wrong item received",
  "receipt taken back",
  "return to the supplier taken back",
  "receipt recorded",
  "return recorded",
  "transfer recorded",
  "scrap recorded",
  "count adjustment recorded",
  "ledger row taken back",
  "run cut",
  "coil came over",
  "coil not there after all",
  "run lost",
  "run found again",
  "kit issued",
  "missing part of a kit issued",
  "issue taken back",
  "kit returned",
  "count begun",
  "count handed in",
  "recount asked for",
  "count approved",
  "count cancelled",
  "transfer planned",
  "transfer moved",
  "transfer cancelled",
  "fault recorded",
  "fault: to repair",
  "fault: from repair",
  "fault: exchange",
  "fault: release",
  "fault: return",
  "fault: scrap",
  "fault: parted",
  "fault: promised back",
  "radio hung",
  "radio taken down",
  "ordering changed",
  "spares decided",
  // map
  "brought in map outlines",
  "removed map outlines",
  "set the map's tile address",
  "removed the map's tile address",
] as const;

export type LogAction = (typeof LOG_ACTIONS)[number];

export function addLogEntry(
  db: Db,
  e: { at: number; userName: string; action: LogAction; subject: string; detail?: unknown },
): void {
  db.insert(logEntry)
    .values({ ...e, detail: e.detail ?? {} })
    .run();
}

export function loadLog(db: Db, limit: number, subject?: string) {
  return (
    db
      .select()
      .from(logEntry)
      .where(subject ? eq(logEntry.subject, subject) : undefined)
      // The demonstration's past is written in the order of its subjects, and a clock may be set back.
      .orderBy(desc(logEntry.at), desc(logEntry.id))
      .limit(limit)
      .all()
  );
}
