export { type ActualsInput, actualsOf, completedEndsOf, type WorkedVisit } from "./actuals";
export { onSiteFromMin, setupDueMin } from "./arrival";
export { usedAsPlanned } from "./boxQuantities";
export {
  CHANGE_KINDS,
  type ChangedVisit,
  type ChangeKind,
  COST_LINES,
  type CostChange,
  type CostLine,
  changedVisits,
  costChanges,
  costLinesOf,
  type HopFinish,
  hopFinishes,
  type InForceEffect,
  inForceEffect,
  type MovedHop,
  movedHops,
  type PlaceChanges,
  placeChanges,
  shownChange,
  withMissed,
  withoutLater,
} from "./comparePlans";
export { type PromiseChange, promiseChanges, type Sureness, surenessOf } from "./compareSureness";
export {
  type Away,
  compositionOn,
  crewDays,
  fullComposition,
  isAway,
  notAway,
  skillsOn,
  whoGoes,
} from "./crewDays";
export { type CrewGap, crewGap } from "./crewGap";
export { type CrewLimit, crewLimit, type EndingCertificate, endingCertificate, isStillSo } from "./crewLimit";
export { type CrewStep, crewSteps } from "./crewSteps";
export { daysFrom, deratedStretch, type RestDay, restDays } from "./derating";
export {
  crewPaces,
  HopWorker,
  type KeptPaces,
  paceBasis,
  referenceCrew,
  type WorkedHop,
} from "./estimates";
export { type Release, releaseOf, unmetGates } from "./gates";
export { type GroupMove, movesOfGroup } from "./groupMove";
export { type FurtherHolds, furtherHolds, stillPlanned } from "./holds";
export { type HoursEffect, hoursEffect, type VisitChange, type VisitToDo } from "./hoursEffect";
export { cutsStayUntil, keptCuts } from "./keptCuts";
export { type KitReady, readyKits, servedInTurn } from "./kitClaims";
export {
  type KitWanted,
  kitsOfPlan,
  ON_ORDER,
  type PlannedKit,
  type PlannedKitLine,
  pickDate,
  plannedKits,
  transferDaysOf,
} from "./kits";
export { type HopSoFar, type Missing, missingForPlan } from "./missing";
export { type VisitMissingPeople, visitsMissingPeople } from "./missingPeople";
export {
  ALL_WAREHOUSES,
  type NettingInput,
  netPlaces,
  netProgramme,
  nettedAt,
  type PlacedNeed,
  type PlaceNetting,
  type ProgrammeNetting,
  type SparesKept,
  sparesKept,
  transferRules,
  warehousesOf,
} from "./netProgramme";
export {
  type BrokenByName,
  brokenByName,
  effectOfMove,
  effectOfMoves,
  effectOfPlaces,
  effectOfTimes,
  isPlaced,
  judgeAgainst,
  leftBehind,
  type NamedEffect,
  type NamedMove,
  type NamedPlace,
  type OtherPlace,
  otherPlaces,
  type PlanRow,
  placedFromRows,
  planFromRows,
  problemAgainst,
  type StopByName,
  type StoredNight,
  storedNights,
  type VisitShift,
  type WhyHereByName,
} from "./planEdit";
export {
  type FinishByName,
  type KnownForRisk,
  type PreparedRisk,
  planRisk,
  type RiskByName,
  riskInputOf,
  type SlipByName,
  type StandIn,
  type VisitShare,
} from "./planRisk";
export { accessOf, afterSetup, buildProblem, type ProblemParts } from "./problem";
export {
  designStops,
  openVisits,
  type PreparedProgramme,
  type ProgrammeOptions,
  type ProgrammePlan,
  type ProgrammeStage,
  planProgramme,
  prepareProgramme,
  takeoffContext,
} from "./programme";
export {
  addWorkdays,
  type DesignNow,
  HELD_BY,
  type HopAcceptance,
  type HopProgress,
  type HopState,
  hopProgress,
  missedPromises,
  type PlannedVisitTimes,
  type ProgrammeSummary,
  type ProgressPoint,
  progressCurve,
  reasonNow,
  type SimulatedFinish,
  summary,
} from "./progress";
export {
  type CausingVisit,
  causesAtVisit,
  type HopToExplain,
  hopsBehind,
  type PromiseCause,
  promiseCauses,
} from "./promiseCauses";
export {
  type DoubtedReport,
  hoursDoubt,
  type ReportDoubt,
  type ReportedHours,
  reportDoubts,
  type UseKnown,
  type VisitKnown,
} from "./reportDoubts";
export {
  cutForKits,
  drumKinds,
  drumsToCut,
  runsWanted,
  SETTLED,
  type Settled,
  settle,
  startAfter,
} from "./settle";
export { lastOpening, type ShutGate, shutGates } from "./shutGates";
export { DEFAULT_ROADS, driveMin, roundMin, travelMatrices } from "./travel";
export type {
  CompletedEnds,
  Crew,
  CrewMember,
  Depot,
  ForecastAtPlace,
  KitNeedLine,
  NamedVisit,
  OrderOnTheWay,
  PlannedTransfer,
  ProgrammeInput,
  ProgrammeVisit,
  Revisit,
  RoadSpeeds,
  ShelfStock,
  StockPosition,
  WeatherAtPlace,
  WorkLeft,
} from "./types";
export { underWay, withUnderWay } from "./underWay";
export {
  awaitedBy,
  type EstimatedRevisit,
  type HopEstimates,
  isInstallDone,
  jointPartnerOf,
  kitLinesOf,
  type NamedWork,
  parseVisitId,
  RUN_LINE_NAME,
  SIDES,
  type VisitWork,
  visitIdOf,
  visitPhrase,
} from "./visits";
export {
  type EndOnTower,
  ForecastReader,
  type HoursMet,
  mostFrequent,
  type VisitDay,
  type VisitHoursMet,
  visitDays,
} from "./visitWeather";
export {
  commonShift,
  type KeptPast,
  pastBasis,
  type VisitWindows,
  visitWindows,
  type WindowBasis,
  type WindowMet,
  type WindowWanted,
} from "./visitWindows";
export { HELPS, type Help, type HelpRow, type LocalMinute, whatHelps } from "./whatHelps";
export { endWork, hopWork, realignWork } from "./work";
