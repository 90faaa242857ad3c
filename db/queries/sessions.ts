/** Where people are signed in. The token of a session never leaves the database. */
import { and, desc, eq, gt, ne } from "drizzle-orm";
import type { Db } from "@/db/open";
import { session } from "@/db/schema";
import type { InstantMillis } from "@/lib/time";

export interface OpenSession {
  id: string;
  userId: string;
  startedAt: InstantMillis;
  /** Known to the day: a session in use is renewed once a day. */
  renewedAt: InstantMillis;
  address: string | null;
  /** What the browser calls itself. */
  browser: string | null;
}

/** Sessions that have not run out, the latest first; of one person or of everybody. */
export function openSessions(db: Db, now: InstantMillis, userId?: string): OpenSession[] {
  return db
    .select()
    .from(session)
    .where(
      and(
        gt(session.expiresAt, new Date(now)),
        userId === undefined ? undefined : eq(session.userId, userId),
      ),
    )
    .orderBy(desc(session.updatedAt), session.id)
    .all()
    .map((row) => ({
      id: row.id,
      userId: row.userId,
      startedAt: row.createdAt.getTime() as InstantMillis,
      renewedAt: row.updatedAt.getTime() as InstantMillis,
      address: row.ipAddress,
      browser: row.userAgent,
    }));
}

/** Ends one session of this person; false when there is none such. */
export function endSession(db: Db, userId: string, id: string): boolean {
  return (
    db
      .delete(session)
      .where(and(eq(session.userId, userId), eq(session.id, id)))
      .run().changes > 0
  );
}

/** Ends the person's sessions, but for the one that is kept; how many there were. */
export function endSessions(db: Db, userId: string, keptId?: string): number {
  return db
    .delete(session)
    .where(and(eq(session.userId, userId), keptId === undefined ? undefined : ne(session.id, keptId)))
    .run().changes;
}
