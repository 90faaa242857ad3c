export { bandedProfile, bandedSegments, historyKey, segmentsKey } from "./bands";
export { type PreparedSeries, prepareSeries } from "./behind";
export { type BlendedFinish, blendedFinish, daylightDays, type PlanWindow, planWindow } from "./blend";
export { decodeSeries, encodeSeries, spanOfBlock } from "./block";
export {
  type MonthlyWorkability,
  monthlyWorkability,
  regionalWorkability,
  shiftHours,
  stretchFromClimate,
} from "./climate";
export {
  chillReachC,
  heatIndexC,
  heatIndexF,
  heatReachC,
  temperatureAtSite,
  windChillC,
  windChillF,
} from "./comfort";
export { clockOfDays, dayMasks } from "./days";
export { discDragN, dynamicPressurePa, hoistLimitMs } from "./drag";
export { earliestFinish } from "./finish";
export {
  type Hindcast,
  type HindcastOptions,
  type HindcastRun,
  hindcast,
  meanOfYear,
  type StretchByDay,
  sameDayIn,
  stretchOfYear,
  stretchOnDays,
} from "./hindcast";
export { type History, jointHistory, type PastHours, pastHours, pastYears, prepareHistory } from "./history";
export { DEFAULT_WEATHER_POLICY, limitsAtSite, type PolicyChange, policyChanges } from "./limits";
export { daylightOnlyMask, factorAt, hourMask, jointMask } from "./masks";
export { decodeMembers, encodeMembers, workableShare } from "./members";
export { type BlendPart, blendSeries, blendShares, joinSeries, nearestPlace, servingPlace } from "./places";
export { buildSeries, type SeriesSource, type WeatherRow } from "./series";
export { daylightMask, type SunTimes, sunTimes } from "./sun";
export { clockOfMask, type FinishTables, finishTables, jointTables } from "./tables";
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
export { conditionsAt, feltAt, type HourConditions, verdictAt } from "./verdict";
export { VERDICT_TEXTS } from "./verdictTexts";
export { type WallClock, wallClock, wallOf } from "./wall-clock";
export { gustAtHeight, TERRAIN, windAtHeight } from "./wind";
export { findWindows, type WorkWindow, type WorkWindows, windowsOf } from "./windows";
