export { HourTables } from "./hourTable";
export { pastYearsFor } from "./pastYears";
export { simulatePlan } from "./risk";
export { gapAfter, lastStaffedDay } from "./staffing";
export type {
  ChainStart,
  Criticality,
  FinishRange,
  HopRisk,
  HourTable,
  KitWait,
  LossCause,
  PastYears,
  PlanRisk,
  RiskInput,
  RiskOptions,
  WindowWeather,
  WorkRange,
} from "./types";
