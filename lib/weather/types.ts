/** Weather series, work classes with their limits, and hour masks. Wind m/s, rain mm/h, temperature degC. */

export type WorkClass =
  | "climb"
  | "hoist"
  | "aloft"
  | "open connection"
  | "ground"
  | "indoor"
  | "alignment";

/** Index = bit order in tables that hold one mask per class. */
export const WORK_CLASSES: readonly WorkClass[] = [
  "climb",
  "hoist",
  "aloft",
  "open connection",
  "ground",
  "indoor",
  "alignment",
];

/**
 * Hourly series, one typed block: index i is the hour that starts at `startsAtMillis + i * 3600000` (UTC).
 * NaN marks a missing value: a gap is never fine weather.
 */
export interface WeatherSeries {
  placeId: string;
  kind: "forecast" | "history" | "member";
  source: string;
  /** Is the series made up (demo)? Shown on screen. */
  isMadeUp: boolean;
  issuedAtMillis: number;
  startsAtMillis: number;
  hours: number;
  /** Mean at 10 m, m/s. */
  windMs: Float32Array;
  gustMs: Float32Array;
  rainMmH: Float32Array;
  tempC: Float32Array;
  humidityPct: Float32Array;
  /** 1 = thunder within reach in this hour, 0 = none, NaN = unknown. */
  thunder: Float32Array;
}

/** Limits of one work class. undefined = this class does not ask. All are "at most" except the minima. */
export interface ClassLimits {
  /** Mean wind at mount height, m/s. */
  windMaxMs?: number;
  /** Gust at mount height, m/s. */
  gustMaxMs?: number;
  rainMaxMmH?: number;
  /** Hours without rain that must lie behind. */
  dryHoursBefore?: number;
  tempMinC?: number;
  tempMaxC?: number;
  windChillMinC?: number;
  heatIndexMaxC?: number;
  /** Needs civil daylight at both ends of the hour. */
  needsDaylight: boolean;
  /** Stops for thunder and for `thunderWaitH` hours after it. */
  stopsForThunder: boolean;
  /** Stops on icing (wet and at or under 0 degC). */
  stopsForIcing: boolean;
  /** Rain limit applies only above this carrier frequency, GHz (alignment). */
  rainAboveGhz?: number;
  source: string;
}

export interface WeatherPolicy {
  version: number;
  limits: Record<WorkClass, ClassLimits>;
  thunderWaitH: number;
  /** Force on the tag line that two people may hold, N: gives the hoist limit by dish diameter. */
  tagLineForceN: number;
  dragCoefficient: number;
  airDensityKgM3: number;
  windProfile: "log" | "power";
  powerExponent: number;
  lapseRateKPerKm: number;
  placeRadiusKm: number;
}

export type LimitingFactor =
  | "none"
  | "wind"
  | "gust"
  | "rain"
  | "dry time"
  | "temperature"
  | "wind chill"
  | "heat index"
  | "daylight"
  | "thunder"
  | "icing"
  | "no data";

export interface HourVerdict {
  workable: boolean;
  factor: LimitingFactor;
  /** The figure and the limit it met, e.g. "gust 14.2 > 13.0 m/s". */
  text: string;
}
