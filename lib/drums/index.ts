export { accountOf, type MetreAccount } from "./account";
export {
  bestFitDecreasing,
  binsBound,
  firstFitDecreasing,
  type Packing,
  type PackOptions,
  packBins,
} from "./bins";
export { cutDrums, DEFAULT_CUT_POLICY, UNCUT_REASONS } from "./drums";
export { type CuttingContext, validateCutting } from "./judge";
export { highsSolver, type LinearModel, type LinearSolver } from "./linearSolver";
export { type ListedCut, type MarkNow, marksNow, promisedCuts } from "./promised";
export type {
  CutOptions,
  CutPolicy,
  CuttingPlan,
  DaysOver,
  DrumCut,
  DrumKind,
  DrumOnHand,
  DrumPlan,
  ExactCutting,
  FixedCut,
  RunWanted,
} from "./types";
