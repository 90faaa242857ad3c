export { compositionOn, crewDays, fullComposition, isAway, skillsOn } from "./crewDays";
export { type Release, releaseOf } from "./gates";
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
