/** Views of lists kept by name, each person's own. */
import { and, asc, eq } from "drizzle-orm";
import type { Db } from "../open";
import { type ListKind, savedView } from "../schema";

export interface KeptView {
  id: number;
  name: string;
  query: string;
}

export function viewsOf(db: Db, userId: string, list: ListKind): KeptView[] {
  return db
    .select({ id: savedView.id, name: savedView.name, query: savedView.query })
    .from(savedView)
    .where(and(eq(savedView.userId, userId), eq(savedView.list, list)))
    .orderBy(asc(savedView.name))
    .all();
}

/** One of this person's own; that of somebody else counts as none. */
export function ownView(db: Db, userId: string, id: number): (KeptView & { list: ListKind }) | undefined {
  return db
    .select({ id: savedView.id, name: savedView.name, query: savedView.query, list: savedView.list })
    .from(savedView)
    .where(and(eq(savedView.userId, userId), eq(savedView.id, id)))
    .get();
}

export function addView(db: Db, view: typeof savedView.$inferInsert): number {
  return db.insert(savedView).values(view).returning({ id: savedView.id }).get().id;
}

export function changeView(
  db: Db,
  id: number,
  change: { name?: string; query?: string; savedAt: number },
): void {
  db.update(savedView).set(change).where(eq(savedView.id, id)).run();
}

export function removeView(db: Db, id: number): void {
  db.delete(savedView).where(eq(savedView.id, id)).run();
}
