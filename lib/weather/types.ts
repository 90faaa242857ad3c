/** Weather series, work classes with their limits, and hour masks. Wind m/s, rain mm/h, temperature degC. */
import type { LatLon } from "@/lib/geo";
import type { TerrainCategory } from "@/lib/site";

export type WorkClass = "climb" | "hoist" | "aloft" | "open connection" | "ground" | "indoor" | "alignment";

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
  /** Of a member: its number within the issue, from 1. */
  memberNo?: number;
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
  /** Rain limit applies only above this carrier frequency, GHz (alignment). An unknown band counts as above. */
  rainAboveGhz?: number;
  /** Rain limit for the people aloft where `rainAboveGhz` lifts the one for the radio path, mm/h. */
  rainMaxBelowMmH?: number;
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
  /** Change of temperature with elevation, K per km upwards: negative. */
  lapseRateKPerKm: number;
  placeRadiusKm: number;
  /** Hours for which wet steel counts as iced when it is at or under 0 degC. Default 6. */
  icingMemoryH?: number;
  /** What counts as daylight. Default civil twilight. */
  daylight?: "civil" | "sun up";
  /** Taken off both ends of daylight for horizon and refraction, minutes. Default 10. */
  daylightMarginMin?: number;
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

/** Index = code in `HourMask.factor`. */
export const LIMITING_FACTORS: readonly LimitingFactor[] = [
  "none",
  "wind",
  "gust",
  "rain",
  "dry time",
  "temperature",
  "wind chill",
  "heat index",
  "daylight",
  "thunder",
  "icing",
  "no data",
];

/** Where a weather series belongs to. */
export interface WeatherPlace extends LatLon {
  id: string;
  name: string;
  elevationM: number;
}

/** What the weather needs to know of a site and the work on it. */
export interface SiteProfile {
  /** Height of the work above ground, m. */
  heightM: number;
  terrain: TerrainCategory;
  latDeg: number;
  lonDeg: number;
  elevationM: number;
  /** Elevation of the place whose series is read, m. */
  placeElevationM: number;
  /** IANA time zone. */
  zone: string;
  /** Largest dish to hoist, m; undefined = no dish, the class limit alone holds. */
  diameterM?: number;
  /** Carrier frequency, GHz; undefined = unknown, the stricter rain limit holds. */
  bandGhz?: number;
}

/** Which hours suit each work class at one site and height. */
export interface HourMask {
  startsAtMillis: number;
  hours: number;
  /** Bit c of hour h = class `WORK_CLASSES[c]` may be worked for the whole hour. */
  workable: Uint8Array;
  /** `factor[h * WORK_CLASSES.length + c]`: index into LIMITING_FACTORS of what stops class c in hour h. */
  factor: Uint8Array;
}

export interface HourVerdict {
  workable: boolean;
  factor: LimitingFactor;
  /** The figure and the limit it met, e.g. "gust 14.2 > 13.0 m/s". */
  text: string;
}

/**
 * A stretch of work that asks for one work class, as `WorkSegment` of lib/hours. Neighbours with the same
 * `spell` form one unbroken stretch together (connect and weatherproof).
 */
export interface SpellSegment {
  workClass: WorkClass;
  durationMin: number;
  splittable: boolean;
  spell?: string;
}

/** Working hours of a crew, wall-clock minutes of the day; index 0 = Monday; null = nobody works. */
export type ShiftWeek = readonly ({ fromMin: number; toMin: number } | null)[];
