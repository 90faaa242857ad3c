/** Road distance and time between places, from great circles (common practice: circuity factor and mean speed). */
import { distanceKm, type LatLon } from "@/lib/geo";
import type { RoadSpeeds } from "./types";

/** Defaults from memory: winding rural roads, 1.35 x the straight line at 50 km/h, 10 min around every trip. */
export const DEFAULT_ROADS: RoadSpeeds = { circuity: 1.35, speedKmH: 50, fixedMin: 10 };

/** Minutes on the road between two places; 0 at the same spot. */
export function driveMin(a: LatLon, b: LatLon, roads: RoadSpeeds): number {
  const roadKm = distanceKm(a, b) * roads.circuity;
  return roadKm < 0.05 ? 0 : (roadKm / roads.speedKmH) * 60 + roads.fixedMin;
}

/** A day's round: from the depot over the stops in order and back, minutes. */
export function roundMin(depot: LatLon, stops: readonly LatLon[], roads: RoadSpeeds): number {
  const way = [depot, ...stops, depot];
  return way.slice(1).reduce((sum, place, i) => sum + driveMin(way[i]!, place, roads), 0);
}

/** n x n matrices, row = from. Zero on the diagonal and between places at the same spot. */
export function travelMatrices(
  places: readonly LatLon[],
  roads: RoadSpeeds,
): { km: Float32Array; min: Float32Array } {
  const n = places.length;
  const km = new Float32Array(n * n);
  const min = new Float32Array(n * n);
  for (let a = 0; a < n; a++) {
    for (let b = a + 1; b < n; b++) {
      km[a * n + b] = km[b * n + a] = distanceKm(places[a]!, places[b]!) * roads.circuity;
      min[a * n + b] = min[b * n + a] = driveMin(places[a]!, places[b]!, roads);
    }
  }
  return { km, min };
}
