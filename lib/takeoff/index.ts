export { type CutLength, cutLength, dripLoopM } from "./cable";
export { missingCode } from "./catalogue";
export { checkSites } from "./checkSites";
export { CHECK_TEXTS } from "./checkTexts";
export { CONNECTORS_PER_RUN, SCHEME_COUNTS, type SchemeCounts } from "./counts";
export { voltageAtOdu, warmLoopOhm } from "./dcFeed";
export { DEFAULT_CATALOGUE } from "./defaultCatalogue";
export { DEFAULT_RULES } from "./defaultRules";
export { DRIVERS, type DriverMeaning } from "./drivers";
export { earthRun, type RunEarthing } from "./earthing";
export { type EffectOptions, effectOfRules, withRules } from "./effect";
export { LINE_REASONS, NEXT_REASON } from "./lineReasons";
export { parsePolicy, parseRules } from "./parse";
export { DEFAULT_POLICY, fullPolicy, POLICY_FIGURES, type PolicyFigure } from "./policy";
export { rollUp } from "./rollUp";
export { cableLossDb } from "./runFeed";
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
