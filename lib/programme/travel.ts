/** Road distance and time between places, from great circles (common practice: circuity factor and mean speed). */
import { distanceKm, type LatLon } from "@/lib/geo";
import type { RoadSpeeds } from "./types";

/** Defaults from memory: winding rural roads, 1.35 x the straight line at 50 km/h, 10 min around every trip. */
export const DEFAULT_ROADS: RoadSpeeds = { circuity: 1.35, speedKmH: 50, fixedMin: 10 };

/** n x n matrices, row = from. Zero on the diagonal and between places at the same spot. */
export function travelMatrices(
  places: readonly LatLon[],
  roads: RoadSpeeds,
): { km: Float64Array; min: Float64Array } {
  const n = places.length;
  const km = new Float64Array(n * n);
  const min = new Float64Array(n * n);
  for (let a = 0; a < n; a++) {
    for (let b = a + 1; b < n; b++) {
      const road = distanceKm(places[a]!, places[b]!) * roads.circuity;
      const drive = road < 0.05 ? 0 : (road / roads.speedKmH) * 60 + roads.fixedMin;
      km[a * n + b] = km[b * n + a] = road;
      min[a * n + b] = min[b * n + a] = drive;
    }
  }
  return { km, min };
}
