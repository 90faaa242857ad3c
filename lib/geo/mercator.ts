/**
 * The web's Mercator map: spherical formulas on WGS 84 positions (EPSG:3857). Conformal enough to draw on, no ground to
 * measure on: lengths come from sphere.ts.
 */
import type { LatLon } from "./sphere";

/** Semi-major axis of WGS 84, m (EPSG method 1024 takes it as the sphere's radius). */
export const MERCATOR_RADIUS_M = 6_378_137;
/** Where the square world ends: atan(sinh(pi)), degrees. */
export const MERCATOR_LAT_MOST_DEG = 85.05112877980659;

const rad = (deg: number) => (deg * Math.PI) / 180;
const deg = (r: number) => (r * 180) / Math.PI;

export interface GridPosition {
  eastM: number;
  northM: number;
}

export function toMercator({ latDeg, lonDeg }: LatLon): GridPosition {
  return {
    eastM: MERCATOR_RADIUS_M * rad(lonDeg),
    northM: MERCATOR_RADIUS_M * Math.log(Math.tan(Math.PI / 4 + rad(latDeg) / 2)),
  };
}

export function fromMercator({ eastM, northM }: GridPosition): LatLon {
  return {
    latDeg: deg(Math.PI / 2 - 2 * Math.atan(Math.exp(-northM / MERCATOR_RADIUS_M))),
    lonDeg: deg(eastM / MERCATOR_RADIUS_M),
  };
}

/** A position on the square world: x from 0 at 180° west to 1 at 180° east, y from 0 in the north to 1 in the south. */
export interface WorldPosition {
  x: number;
  y: number;
}

const HALF_WORLD_M = Math.PI * MERCATOR_RADIUS_M;

/** Positions beyond the square world's edge are drawn at its edge. */
export function toWorld({ latDeg, lonDeg }: LatLon): WorldPosition {
  const lat = Math.min(MERCATOR_LAT_MOST_DEG, Math.max(-MERCATOR_LAT_MOST_DEG, latDeg));
  const { eastM, northM } = toMercator({ latDeg: lat, lonDeg });
  return { x: 0.5 + eastM / (2 * HALF_WORLD_M), y: 0.5 - northM / (2 * HALF_WORLD_M) };
}

export function fromWorld({ x, y }: WorldPosition): LatLon {
  return fromMercator({ eastM: (x - 0.5) * 2 * HALF_WORLD_M, northM: (0.5 - y) * 2 * HALF_WORLD_M });
}
