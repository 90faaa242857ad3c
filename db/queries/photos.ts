/** Photos of visits: what is known of each. */
import { asc, count, desc, eq } from "drizzle-orm";
import type { Db } from "../open";
import { visitPhoto, visitReport } from "../schema";
import { crewsGiven } from "./givenVisits";

export type StoredPhoto = typeof visitPhoto.$inferSelect;

export function photoByKey(db: Db, key: string): StoredPhoto | undefined {
  return db.select().from(visitPhoto).where(eq(visitPhoto.key, key)).get();
}

/** In the order in which they were taken. */
export function photosOfVisit(db: Db, visitId: string): StoredPhoto[] {
  return db
    .select()
    .from(visitPhoto)
    .where(eq(visitPhoto.visitId, visitId))
    .orderBy(asc(visitPhoto.takenAt), asc(visitPhoto.key))
    .all();
}

/** Newest visit's first. */
export function photosOfHop(db: Db, hopCode: string): StoredPhoto[] {
  return db
    .select()
    .from(visitPhoto)
    .where(eq(visitPhoto.hopCode, hopCode))
    .orderBy(desc(visitPhoto.takenAt), asc(visitPhoto.key))
    .all();
}

export function countPhotos(db: Db, visitId: string): number {
  return db.select({ n: count() }).from(visitPhoto).where(eq(visitPhoto.visitId, visitId)).get()?.n ?? 0;
}

export function addPhoto(db: Db, photo: StoredPhoto): void {
  db.insert(visitPhoto).values(photo).run();
}

export function deletePhoto(db: Db, key: string): void {
  db.delete(visitPhoto).where(eq(visitPhoto.key, key)).run();
}

/** Crews that may send photos of a visit: those that the plan sends or sent, and those that reported it. */
export function crewsOfVisit(db: Db, visitId: string): Set<string> {
  const reported = db
    .select({ crew: visitReport.crewCode })
    .from(visitReport)
    .where(eq(visitReport.visitId, visitId))
    .all();
  return new Set([...crewsGiven(db, visitId), ...reported.map((r) => r.crew)]);
}
