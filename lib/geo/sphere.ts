/** Distances and directions on a sphere. Angles in degrees, distances in kilometres. */

/** IUGG mean radius R1 = (2a + b) / 3, km (value from memory; tests pass the radius of each published case). */
export const MEAN_EARTH_RADIUS_KM = 6371.0088;

export interface LatLon {
  /** Latitude, degrees north. */
  latDeg: number;
  /** Longitude, degrees east. */
  lonDeg: number;
}

const rad = (deg: number) => (deg * Math.PI) / 180;
const deg = (r: number) => (r * 180) / Math.PI;

/** Great-circle distance by the haversine formula, km. */
export function distanceKm(a: LatLon, b: LatLon, radiusKm = MEAN_EARTH_RADIUS_KM): number {
  const sLat = Math.sin(rad(b.latDeg - a.latDeg) / 2);
  const sLon = Math.sin(rad(b.lonDeg - a.lonDeg) / 2);
  const h = sLat * sLat + Math.cos(rad(a.latDeg)) * Math.cos(rad(b.latDeg)) * sLon * sLon;
  return 2 * radiusKm * Math.asin(Math.min(1, Math.sqrt(h)));
}

/** Initial bearing from `a` to `b`, degrees clockwise from true north, 0 <= x < 360. */
export function bearingDeg(a: LatLon, b: LatLon): number {
  const dLon = rad(b.lonDeg - a.lonDeg);
  const y = Math.sin(dLon) * Math.cos(rad(b.latDeg));
  const x =
    Math.cos(rad(a.latDeg)) * Math.sin(rad(b.latDeg)) -
    Math.sin(rad(a.latDeg)) * Math.cos(rad(b.latDeg)) * Math.cos(dLon);
  return (deg(Math.atan2(y, x)) + 360) % 360;
}

/** The point `km` away from `from` along the great circle that starts at `bearing`. */
export function destination(from: LatLon, bearing: number, km: number): LatLon {
  const d = km / MEAN_EARTH_RADIUS_KM;
  const lat1 = rad(from.latDeg);
  const lat2 = Math.asin(
    Math.sin(lat1) * Math.cos(d) + Math.cos(lat1) * Math.sin(d) * Math.cos(rad(bearing)),
  );
  const lon2 =
    rad(from.lonDeg) +
    Math.atan2(
      Math.sin(rad(bearing)) * Math.sin(d) * Math.cos(lat1),
      Math.cos(d) - Math.sin(lat1) * Math.sin(lat2),
    );
  return { latDeg: deg(lat2), lonDeg: ((deg(lon2) + 540) % 360) - 180 };
}
