/** Failed attempts of the last minutes, by what was tried: whatever the way, guessing is slowed down in one place. */
import { and, count, eq, gte, lt } from "drizzle-orm";
import { type Db, writing } from "@/db/open";
import { type AttemptKind, failedAttempt } from "@/db/schema";
import type { InstantMillis } from "@/lib/time";

const isOf = (kind: AttemptKind, subject: string) =>
  and(eq(failedAttempt.kind, kind), eq(failedAttempt.subject, subject.trim().toLowerCase()));

/** Failed attempts of this kind at this subject since `since`. */
export function failedAttempts(db: Db, kind: AttemptKind, subject: string, since: InstantMillis): number {
  return (
    db
      .select({ n: count() })
      .from(failedAttempt)
      .where(and(isOf(kind, subject), gte(failedAttempt.at, since)))
      .get()?.n ?? 0
  );
}

/** Remembers a failed attempt and forgets those before `forgetBefore`, whosever they were. */
export function recordFailedAttempt(
  db: Db,
  kind: AttemptKind,
  subject: string,
  at: InstantMillis,
  forgetBefore: InstantMillis,
): void {
  writing(db, () => {
    db.delete(failedAttempt).where(lt(failedAttempt.at, forgetBefore)).run();
    db.insert(failedAttempt).values({ kind, subject: subject.trim().toLowerCase(), at }).run();
  });
}

export function clearFailedAttempts(db: Db, kind: AttemptKind, subject: string): void {
  db.delete(failedAttempt).where(isOf(kind, subject)).run();
}
