export { bearingDeg, destination, distanceKm, type LatLon, MEAN_EARTH_RADIUS_KM } from "./sphere";
