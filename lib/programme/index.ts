export { compositionOn, crewDays, fullComposition, isAway, skillsOn } from "./crewDays";
export { type Release, releaseOf } from "./gates";
export { accessOf, afterSetup, buildProblem, type HopEstimates, type ProblemParts } from "./problem";
export { DEFAULT_ROADS, travelMatrices } from "./travel";
export type {
  Crew,
  CrewMember,
  Depot,
  KitNeedLine,
  NamedVisit,
  OrderOnTheWay,
  ProgrammeInput,
  ProgrammePlan,
  ProgrammeVisit,
  RoadSpeeds,
  StockPosition,
  WeatherAtPlace,
} from "./types";
export { kitLinesOf, parseVisitId, SIDES, type VisitWork, visitIdOf, visitsOf } from "./visits";
export {
  commonShift,
  type VisitWindows,
  visitWindows,
  type WindowBasis,
  type WindowWanted,
} from "./visitWindows";
export { endWork, hopWork } from "./work";
