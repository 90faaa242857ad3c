/** The log: who did what to what, and when. */
import { desc, eq } from "drizzle-orm";
import type { Db } from "../open";
import { logEntry } from "../schema";

/** Who does it, and when. */
export interface By {
  name: string;
  at: number;
}

export function addLogEntry(
  db: Db,
  e: { at: number; userName: string; action: string; subject: string; detail?: unknown },
): void {
  db.insert(logEntry)
    .values({ ...e, detail: e.detail ?? {} })
    .run();
}

export function loadLog(db: Db, limit: number, subject?: string) {
  return db
    .select()
    .from(logEntry)
    .where(subject ? eq(logEntry.subject, subject) : undefined)
    .orderBy(desc(logEntry.id))
    .limit(limit)
    .all();
}
