export { accountOf, type MetreAccount } from "./account";
export { cutDrums, DEFAULT_CUT_POLICY } from "./drums";
export type {
  CutOptions,
  CutPolicy,
  CuttingPlan,
  DrumCut,
  DrumKind,
  DrumOnHand,
  DrumPlan,
  FixedCut,
  RunWanted,
} from "./types";
