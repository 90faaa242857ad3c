export { type PreparedSeries, prepareSeries } from "./behind";
export { heatIndexC, heatIndexF, temperatureAtSite, windChillC, windChillF } from "./comfort";
export { clockOfDays, dayMasks } from "./days";
export { discDragN, dynamicPressurePa, hoistLimitMs } from "./drag";
export { clockOfMask, earliestFinish, type FinishTables, finishTables } from "./finish";
export { DEFAULT_WEATHER_POLICY, limitsAtSite, type PolicyChange, policyChanges } from "./limits";
export { daylightOnlyMask, hourMask, jointMask } from "./masks";
export { daylightMask, type SunTimes, sunTimes } from "./sun";
export type {
  ClassLimits,
  HourMask,
  HourVerdict,
  LimitingFactor,
  ShiftWeek,
  SiteProfile,
  SpellSegment,
  WeatherPlace,
  WeatherPolicy,
  WeatherSeries,
  WorkClass,
} from "./types";
export { LIMITING_FACTORS, WORK_CLASSES } from "./types";
export type { WallClock } from "./wall-clock";
export { gustAtHeight, TERRAIN, windAtHeight } from "./wind";
export { findWindows, type WorkWindow, type WorkWindows, windowsOf } from "./windows";
