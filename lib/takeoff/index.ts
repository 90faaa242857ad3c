export { type CutLength, cableLossDb, cutLength, dripLoopM } from "./cable";
export { MATCHED_ON, missingCode } from "./catalogue";
export { checkSites } from "./checkSites";
export { CONNECTORS_PER_RUN, SCHEME_COUNTS, type SchemeCounts } from "./counts";
export { voltageAtOdu, warmLoopOhm } from "./dcFeed";
export { DEFAULT_CATALOGUE } from "./defaultCatalogue";
export { DEFAULT_RULES } from "./defaultRules";
export { earthRun, type RunEarthing } from "./earthing";
export { effectOfRules, withRules } from "./effect";
export { DEFAULT_POLICY, fullPolicy, POLICY_FIGURES, type PolicyFigure } from "./policy";
export { rollUp } from "./rollUp";
export { DRIVERS, type DriverMeaning } from "./rules";
export { takeOff, takeOffEnd } from "./takeoff";
export { type Helix, type TapePass, tapeHelix, type WrapTape, wrapTape } from "./tape";
export type {
  CheckState,
  DesignCheck,
  Driver,
  EarthingPoint,
  EndTakeoff,
  FullPolicy,
  HopTakeoff,
  ProgrammeCheck,
  ProgrammeLine,
  ProgrammeNeed,
  RoundingLevel,
  RuleEffect,
  RuleEffectLine,
  RunPlan,
  TakeoffContext,
  TakeoffInput,
  TakeoffLine,
  TakeoffPolicy,
  TakeoffRule,
  WorkDrivers,
} from "./types";
