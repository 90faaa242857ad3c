export { amountOf } from "./counted";
export { evaluate, price } from "./evaluate";
export { explain } from "./explain";
export { type Begun, type GoesOn, goOn } from "./goOn";
export { judge } from "./judge";
export { type BrokenSince, brokenSince } from "./newlyBroken";
export { crewPace } from "./pace";
export { REASONS } from "./reasons";
export {
  type Route,
  type RoutingCase,
  type RoutingOptions,
  type RoutingPlan,
  routeVisits,
  type VehicleKind,
} from "./routing";
export {
  type JointCase,
  type JointOptions,
  type JointPart,
  type JointPlan,
  type JointStop,
  type JointVisit,
  routeJointVisits,
} from "./routing/joint";
export { PEOPLE } from "./rules/people";
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
  ScarceItem,
  ScheduleOptions,
  ScheduleProblem,
  ScheduleProgress,
  UnplacedVisit,
  VisitKind,
  VisitNeeds,
  VisitWindow,
} from "./types";
export { DEFAULT_WEIGHTS, weightedTotal } from "./weights";
export {
  type Alternative,
  type Move,
  type MoveEffect,
  type StatedPlace,
  tryMove,
  tryMoves,
  tryPlaces,
  tryTimes,
  type WhyHere,
  whyHere,
} from "./whatIf";
