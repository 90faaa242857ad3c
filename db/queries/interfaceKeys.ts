/** Keys of the open interface: only the hash of each is kept. */
import { and, desc, eq, isNull, lt, or } from "drizzle-orm";
import type { InstantMillis } from "@/lib/time";
import type { Db } from "../open";
import { interfaceKey } from "../schema";

export type InterfaceKey = typeof interfaceKey.$inferSelect;

export function addInterfaceKey(db: Db, row: typeof interfaceKey.$inferInsert): void {
  db.insert(interfaceKey).values(row).run();
}

/** All of them, the newest first; those that were revoked too, because the ledger names them. */
export function interfaceKeys(db: Db): InterfaceKey[] {
  return db.select().from(interfaceKey).orderBy(desc(interfaceKey.madeAt), interfaceKey.id).all();
}

/** Those that nobody revoked: a caller compares each, so that the time it takes tells nothing. */
export function openInterfaceKeys(db: Db): InterfaceKey[] {
  return db.select().from(interfaceKey).where(isNull(interfaceKey.revokedAt)).orderBy(interfaceKey.id).all();
}

/** The key as it was revoked; undefined when there is none, or none any more. */
export function revokeInterfaceKey(
  db: Db,
  id: string,
  by: { name: string; at: InstantMillis },
): InterfaceKey | undefined {
  return db
    .update(interfaceKey)
    .set({ revokedAt: by.at, revokedBy: by.name })
    .where(and(eq(interfaceKey.id, id), isNull(interfaceKey.revokedAt)))
    .returning()
    .get();
}

/** Notes that it was used. A program that asks every second writes once a minute. */
export function noteKeyUse(db: Db, id: string, now: InstantMillis): void {
  const minuteAgo = (now - 60_000) as InstantMillis;
  db.update(interfaceKey)
    .set({ lastUsedAt: now })
    .where(
      and(
        eq(interfaceKey.id, id),
        or(isNull(interfaceKey.lastUsedAt), lt(interfaceKey.lastUsedAt, minuteAgo)),
      ),
    )
    .run();
}
