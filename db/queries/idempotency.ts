/** What was answered to an action that came with a key, so that the same request sent twice is carried out once. */
import { eq, lt } from "drizzle-orm";
import type { Db } from "@/db/open";
import { idempotencyKey } from "@/db/schema";
import type { InstantMillis } from "@/lib/time";

export interface KeyUse {
  key: string;
  userId: string;
  action: string;
}

/** The stored answer; "other" when somebody else, or another action, used the key; undefined when it is new. */
export function answerForKey(db: Db, use: KeyUse): { result: unknown } | "other" | undefined {
  const row = db.select().from(idempotencyKey).where(eq(idempotencyKey.key, use.key)).get();
  if (!row) return undefined;
  return row.userId === use.userId && row.action === use.action ? { result: row.result } : "other";
}

export function keepAnswer(db: Db, use: KeyUse, result: unknown, now: InstantMillis): void {
  db.insert(idempotencyKey)
    .values({ ...use, result, createdAt: now })
    .run();
}

export function forgetAnswers(db: Db, before: InstantMillis): number {
  return db.delete(idempotencyKey).where(lt(idempotencyKey.createdAt, before)).run().changes;
}
