import type { Db } from "@/db/open";
import { historyBlocks, type WeatherPlaceRow } from "@/db/queries/weather";
import { historyStamp } from "@/db/queries/weatherViews";
import {
  clockOfMask,
  decodeSeries,
  hourMask,
  joinSeries,
  type MonthlyWorkability,
  monthlyWorkability,
  type ShiftWeek,
  type WeatherPolicy,
  type WeatherSeries,
} from "@/lib/weather";

// Years of hours take tens of milliseconds to read: kept until the place's history or the limits change.
const kept = new Map<string, MonthlyWorkability>();
const KEPT_MOST = 500;

/** All past years of a place as one series; undefined when none were brought in. */
export function historyOf(db: Db, placeCode: string): WeatherSeries | undefined {
  const blocks = historyBlocks(db, placeCode).map((b) => decodeSeries(b.payload));
  return blocks.length > 0 ? joinSeries(blocks) : undefined;
}

/**
 * Share of each month's daylight hours in the shift that suits each class, at a height over open country
 * (terrain II), without a dish and above the frequency limits: the stricter side of what a site may ask.
 */
export function placeClimate(
  db: Db,
  place: WeatherPlaceRow,
  zone: string,
  heightM: number,
  policy: WeatherPolicy,
  shift: ShiftWeek,
): MonthlyWorkability | undefined {
  const { blocks, stamp } = historyStamp(db, place.code);
  if (blocks === 0) return undefined;
  const key = JSON.stringify([place, zone, heightM, stamp, policy, shift]);
  let table = kept.get(key);
  if (!table) {
    const series = historyOf(db, place.code)!;
    const mask = hourMask(
      series,
      {
        heightM,
        terrain: "II",
        latDeg: place.latDeg,
        lonDeg: place.lonDeg,
        elevationM: place.elevationM,
        placeElevationM: place.elevationM,
        zone,
      },
      policy,
    );
    table = monthlyWorkability(mask, clockOfMask(mask, zone), shift, series.source);
    if (kept.size >= KEPT_MOST) kept.clear();
    kept.set(key, table);
  }
  return table;
}
