/** Places: warehouses, vehicles, sites, holds. */
import type { Db } from "../open";
import { type PlaceKind, place } from "../schema";

export interface Place {
  code: string;
  name: string;
  kind: PlaceKind;
  latDeg: number | null;
  lonDeg: number | null;
}

export function loadPlaces(db: Db): Place[] {
  return db.select().from(place).orderBy(place.kind, place.code).all();
}

export function savePlace(db: Db, p: Place): void {
  const { code: _, ...rest } = p;
  db.insert(place).values(p).onConflictDoUpdate({ target: place.code, set: rest }).run();
}
