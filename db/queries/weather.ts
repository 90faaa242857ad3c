/** Weather places and their series, as stored blocks. */
import { and, desc, eq } from "drizzle-orm";
import type { Db } from "../open";
import { weatherBlock, weatherPlace } from "../schema";

export interface WeatherPlaceRow {
  code: string;
  name: string;
  latDeg: number;
  lonDeg: number;
  elevationM: number;
}

export type WeatherBlockRow = typeof weatherBlock.$inferSelect;

export function loadWeatherPlaces(db: Db): WeatherPlaceRow[] {
  return db.select().from(weatherPlace).orderBy(weatherPlace.code).all();
}

export function saveWeatherPlace(db: Db, p: WeatherPlaceRow): void {
  const { code: _, ...rest } = p;
  db.insert(weatherPlace).values(p).onConflictDoUpdate({ target: weatherPlace.code, set: rest }).run();
}

/** Stores a block; the same place, kind, issue and start replaces what stood there. */
export function saveWeatherBlock(db: Db, b: WeatherBlockRow): void {
  db.insert(weatherBlock)
    .values(b)
    .onConflictDoUpdate({
      target: [weatherBlock.placeCode, weatherBlock.kind, weatherBlock.issuedAt, weatherBlock.startsAt],
      set: { hours: b.hours, source: b.source, isMadeUp: b.isMadeUp, payload: b.payload },
    })
    .run();
}

/** Codes of the places for which a forecast stands, and of those with past hours. */
export function placesWithHours(db: Db): Record<"forecast" | "history", ReadonlySet<string>> {
  const codes = (kind: WeatherBlockRow["kind"]) =>
    new Set(
      db
        .selectDistinct({ code: weatherBlock.placeCode })
        .from(weatherBlock)
        .where(eq(weatherBlock.kind, kind))
        .all()
        .map((r) => r.code),
    );
  return { forecast: codes("forecast"), history: codes("history") };
}

/** The latest forecast of a place, or undefined. */
export function latestForecast(db: Db, placeCode: string): WeatherBlockRow | undefined {
  return db
    .select()
    .from(weatherBlock)
    .where(and(eq(weatherBlock.placeCode, placeCode), eq(weatherBlock.kind, "forecast")))
    .orderBy(desc(weatherBlock.issuedAt), desc(weatherBlock.startsAt))
    .limit(1)
    .get();
}

const blocksOfIssue = (
  db: Db,
  kind: WeatherBlockRow["kind"],
  placeCode: string,
  issuedAt: number,
): WeatherBlockRow[] =>
  db
    .select()
    .from(weatherBlock)
    .where(
      and(
        eq(weatherBlock.placeCode, placeCode),
        eq(weatherBlock.kind, kind),
        eq(weatherBlock.issuedAt, issuedAt),
      ),
    )
    .orderBy(weatherBlock.startsAt)
    .all();

/** What stands of one issue of a place's forecast. */
export const forecastBlocks = (db: Db, placeCode: string, issuedAt: number): WeatherBlockRow[] =>
  blocksOfIssue(db, "forecast", placeCode, issuedAt);

/** The members of one issue at a place. */
export const memberBlock = (db: Db, placeCode: string, issuedAt: number): WeatherBlockRow | undefined =>
  blocksOfIssue(db, "member", placeCode, issuedAt)[0];

export function deleteWeatherBlock(
  db: Db,
  {
    placeCode,
    kind,
    issuedAt,
    startsAt,
  }: Pick<WeatherBlockRow, "placeCode" | "kind" | "issuedAt" | "startsAt">,
): void {
  db.delete(weatherBlock)
    .where(
      and(
        eq(weatherBlock.placeCode, placeCode),
        eq(weatherBlock.kind, kind),
        eq(weatherBlock.issuedAt, issuedAt),
        eq(weatherBlock.startsAt, startsAt),
      ),
    )
    .run();
}

/** History blocks of a place in time order. */
export function historyBlocks(db: Db, placeCode: string): WeatherBlockRow[] {
  return db
    .select()
    .from(weatherBlock)
    .where(and(eq(weatherBlock.placeCode, placeCode), eq(weatherBlock.kind, "history")))
    .orderBy(weatherBlock.startsAt)
    .all();
}
