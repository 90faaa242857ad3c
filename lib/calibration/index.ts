export {
  CLIMB_NAME,
  calibratedEstimate,
  calibratedNorms,
  estimateKey,
  type PartMinutes,
  partKeys,
  partMinutes,
  partName,
  partOfTask,
} from "./apply";
export { type Backtest, type BacktestLine, backtest, type Errors, type HeldOut, heldOut } from "./backtest";
export {
  calibrate,
  crewSchemeKey,
  DEFAULT_PRIOR_WEIGHT,
  FARTHEST_RATIO,
  type Fitted,
  isBelieved,
  LEAST_ACTUALS,
} from "./calibration";
export { crewFactor, type Expected, expectedOf, visitFactor } from "./expect";
export { type Effect, LEVELS, type Level } from "./grouping";
export {
  backtestUse,
  FARTHEST_USE,
  type FittedUse,
  LEAST_ENDS,
  learnUse,
  proposedAllowances,
  provenAllowances,
  type UsedLine,
  type UseEffect,
  type UseErrors,
  type UseProposal,
} from "./materialUse";
export {
  accept,
  factorInForce,
  isRejected,
  PROPOSAL_LEVELS,
  type Proposal,
  type ProposalLevel,
  proposals,
  type Rejection,
} from "./proposals";
export { type PriorWeight, shrunkMean, type Variances, variancesOf } from "./shrink";
export {
  type ActualPart,
  type Actuals,
  type ActualVisit,
  type Factor,
  type HourCalibration,
  NO_CALIBRATION,
  WORK_KINDS,
  type WorkKind,
} from "./types";
