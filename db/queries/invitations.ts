/** One-time addresses under which people choose a password. */
import { eq, gt } from "drizzle-orm";
import type { Db } from "@/db/open";
import { invitation } from "@/db/schema";
import type { InstantMillis } from "@/lib/time";

/** A person has one invitation: an earlier one leads nowhere from now on. */
export function setInvitation(db: Db, row: typeof invitation.$inferInsert): void {
  const { userId: _, ...rest } = row;
  db.insert(invitation).values(row).onConflictDoUpdate({ target: invitation.userId, set: rest }).run();
}

export function removeInvitation(db: Db, userId: string): void {
  db.delete(invitation).where(eq(invitation.userId, userId)).run();
}

export interface OpenInvitation {
  userId: string;
  secretHash: string;
  expiresAt: InstantMillis;
}

/** Those that have not run out. */
export function openInvitations(db: Db, now: InstantMillis): OpenInvitation[] {
  return db
    .select({
      userId: invitation.userId,
      secretHash: invitation.secretHash,
      expiresAt: invitation.expiresAt,
    })
    .from(invitation)
    .where(gt(invitation.expiresAt, now))
    .orderBy(invitation.userId)
    .all();
}
