export {
  fromMercator,
  fromWorld,
  type GridPosition,
  MERCATOR_LAT_MOST_DEG,
  MERCATOR_RADIUS_M,
  toMercator,
  toWorld,
  type WorldPosition,
} from "./mercator";
export { bearingDeg, destination, distanceKm, type LatLon, MEAN_EARTH_RADIUS_KM } from "./sphere";
