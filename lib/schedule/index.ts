export { evaluate } from "./evaluate";
export { explain } from "./explain";
export { judge } from "./judge";
export { type RoutingCase, type RoutingOptions, type RoutingPlan, routeVisits } from "./routing";
export { schedule } from "./schedule";
export type {
  BrokenRule,
  CrewDay,
  NightAway,
  PlacedVisit,
  Plan,
  PlanCost,
  PlanCrew,
  PlanHop,
  PlanPlace,
  PlanVisit,
  PlanWeights,
  ScheduleOptions,
  ScheduleProblem,
  ScheduleProgress,
  UnplacedVisit,
  VisitKind,
  VisitNeeds,
  VisitWindow,
} from "./types";
export { DEFAULT_WEIGHTS, weightedTotal } from "./weights";
export { type Alternative, type Move, type MoveEffect, tryMove, type WhyHere, whyHere } from "./whatIf";
