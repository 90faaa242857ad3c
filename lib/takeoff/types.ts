/** What the take-off gives: lines with their reasons, checks with figure and limit, and the counts that drive hours. */
import type { CatalogueItem, CouplerSplit, EndSide, Hop, ItemCategory, Owner, Site } from "@/lib/site";

/** Closed list of what a rule may count. Documented in docs/methods/takeoff.md. */
export type Driver =
  | "hops"
  | "ends"
  | "antennas"
  | "antennas from 1.2 m"
  | "antennas from 2.4 m"
  | "ODUs"
  | "couplers"
  | "orthomode couplings"
  | "waveguide flanges"
  | "runs"
  | "metres of cut cable"
  | "metres of outdoor route"
  | "metres of indoor route"
  | "connectors"
  | "earthing points"
  | "ODU earthing leads"
  | "wraps"
  | "entries"
  | "drip loops"
  | "IDUs"
  | "remote ODUs"
  | "metres of ODU earthing lead"
  | "ties outdoors"
  | "ties indoors"
  | "cable hangers"
  | "metres of self-amalgamating tape"
  | "metres of PVC tape"
  | "polarisation parts to buy"
  | "IDU power feeds";

export type RoundingLevel = "run" | "end" | "site" | "order";

/** One row of rule data: quantity = (driver x factor + offset) x (1 + allowance), rounded up to `step` at `level`. */
export interface TakeoffRule {
  id: string;
  /** What the line is called on screen. */
  name: string;
  /** Exact catalogue code, or a category whose item is found by attributes (cable diameter, band ...). */
  itemCode?: string;
  category: ItemCategory;
  driver: Driver;
  factor: number;
  /** Added once per end when the driver is above zero. */
  offset: number;
  /** 0.05 = 5 %. */
  allowance: number;
  /** When set, the allowance is this figure of the policy and `allowance` is not used. */
  allowanceFrom?: "connectorLoss" | "tieLoss";
  /** What the rule counts in, where the item is sold in another unit: metres of tape in rolls, grams in tubes. */
  measure?: "m" | "g";
  step: number;
  level: RoundingLevel;
  /** All that are set must hold. */
  when: {
    schemes?: readonly string[];
    structures?: readonly string[];
    mounts?: readonly string[];
    polarisations?: readonly string[];
  };
  /** "common practice", "from memory" or a citation. */
  source: string;
  enabled: boolean;
}

export interface RunPlan {
  /** `${endId}/${oduLabel}`. */
  id: string;
  oduLabel: string;
  role: string;
  cableCode: string;
  cableDiameterMm: number;
  routeM: number;
  surplusM: number;
  /** Rounded up to the cut step: one piece, no joint. */
  cutM: number;
  outdoorM: number;
  indoorM: number;
  bends: number;
  /** Distance from the ODU along the run and height above ground, m. */
  earthingPoints: readonly EarthingPoint[];
  ties: RunTies;
  lossDbAtLow?: number;
  lossDbAtHigh?: number;
  voltageAtOduV?: number;
}

/** Ties of a run by what drives them, exact, without loss. */
export interface RunTies {
  /** 0 where hangers hold the outdoor route. */
  onRoute: number;
  atDripLoop: number;
  atEarthingPoints: number;
  atWraps: number;
  indoors: number;
}

export interface EarthingPoint {
  kind: "near ODU" | "structure foot" | "entry" | "intermediate" | "middle";
  distanceM: number;
  heightM: number;
  /** Metres it was moved to clear a bend; 0 when not moved. */
  movedM: number;
}

export interface TakeoffLine {
  ruleId: string;
  itemCode: string;
  name: string;
  unit: string;
  owner: Owner;
  /** Exact, before rounding: what the programme's roll-up adds. */
  exact: number;
  /** Rounded as the rule says when its level is run, end or site; equals `exact` for level "order". */
  quantity: number;
  level: RoundingLevel;
  step: number;
  /** "47.0 m = 42.0 route + 5.0 surplus". */
  reason: string;
}

export type CheckState = "pass" | "warn" | "fail";

export interface DesignCheck {
  /** Stable key, e.g. `half-clash`. */
  rule: string;
  state: CheckState;
  /** Where: end side, ODU, antenna or run label. */
  where: string;
  message: string;
  figure?: number;
  limit?: number;
  unit?: string;
  /** What was done about it, or what the reader should do. */
  remedy: string;
}

/** Counts that the hours estimate multiplies its norms with. All per end. */
export interface WorkDrivers {
  maxMountHeightM: number;
  antennaCount: number;
  largestDiameterM: number;
  antennaAreaM2: number;
  antennaMassKg: number;
  /** Heaviest single lift, kg. */
  heaviestLiftKg: number;
  oduCount: number;
  couplerCount: number;
  orthomodeCount: number;
  polarisationChanges: number;
  runCount: number;
  cableM: number;
  outdoorM: number;
  indoorM: number;
  connectorCount: number;
  earthingPointCount: number;
  oduLeadCount: number;
  wrapCount: number;
  tieCount: number;
  entryCount: number;
  bridgeM: number;
}

export interface EndTakeoff {
  endId: string;
  siteId: string;
  side: EndSide;
  runs: readonly RunPlan[];
  lines: readonly TakeoffLine[];
  checks: readonly DesignCheck[];
  drivers: WorkDrivers;
  massKg: number;
  volumeL: number;
  /** Extra tasks that the design asks for, e.g. "change polarisation part". */
  extraTasks: readonly string[];
}

export interface HopTakeoff {
  hopId: string;
  near: EndTakeoff;
  far: EndTakeoff;
  /** Checks that concern both ends together. */
  checks: readonly DesignCheck[];
}

export interface TakeoffContext {
  sites: ReadonlyMap<string, Site>;
  catalogue: readonly CatalogueItem[];
  rules: readonly TakeoffRule[];
  policy: TakeoffPolicy;
}

/** Figures that a company may set. Every default carries its mark in policy.ts. */
export interface TakeoffPolicy {
  /** Version that plans record. */
  version: number;
  surplusM: number;
  cutStepM: number;
  dripLoopDiameterM: number;
  /** Both terminations of a run together, m. */
  terminationM: number;
  maxEarthingSpacingM: number;
  shortRunM: number;
  minEarthingPoints: number;
  bendClearanceM: number;
  minEarthingSectionMm2: number;
  connectorLoss: number;
  tieLoss: number;
  tiesOrHangers: "ties" | "hangers";
  hangerSpacingM: number;
  /** Stretched width / relaxed width of self-amalgamating tape, planned. */
  tapeWidthRatio: number;
  tapeOverlap: number;
  tapeBeyondMm: number;
  tapeEndLossMm: number;
  wrapLengthMm: number;
  handHoistMaxKg: number;
  conductorMaxTempC: number;
  /** Entries are wrapped too. */
  wrapsEntry: boolean;
  lossOfSurgeArrestorDb: number;

  /* Optional: a policy saved before these came in gets the default (policy.ts). */
  /** Distance of the first earthing point from the ODU along the run, m. */
  nearOduM?: number;
  /** Distance of the last earthing point from the entry, outside, m. */
  beforeEntryM?: number;
  /** Height of the cable entry where the design data gives none, m. */
  entryHeightM?: number;
  couplerSplit?: CouplerSplit;
  /** Stretched width / relaxed width of PVC tape. */
  pvcWidthRatio?: number;
  /** Added to the cable's diameter where connector or kit give no wrap diameter, mm. */
  wrapDiameterAddMm?: number;
  tiesPerOutdoorM?: number;
  tiesPerIndoorM?: number;
  tiesPerDripLoop?: number;
  tiesPerEarthingPoint?: number;
  tiesPerWrap?: number;
  /** Two antennas of a space diversity end: least and largest height difference, m. */
  diversityMinM?: number;
  diversityMaxM?: number;
  hopMinM?: number;
  hopMaxKm?: number;
}

/** A policy with every figure set. */
export type FullPolicy = Required<TakeoffPolicy>;

export type TakeoffInput = Pick<Hop, "id" | "scheme" | "bandGhz" | "near" | "far">;

/** One item of the programme's need, over any number of hops. */
export interface ProgrammeLine {
  itemCode: string;
  name: string;
  unit: string;
  owner: Owner;
  /** Sum of the ends' exact quantities, before any rounding. */
  exact: number;
  /** What to have: each part rounded once, at the level its rule names. */
  quantity: number;
  /** For comparison: what rounding up at every site would give. */
  siteRounded: number;
  /** How many ends take it. */
  endCount: number;
  ruleIds: readonly string[];
  reason: string;
}

export interface ProgrammeNeed {
  lines: readonly ProgrammeLine[];
  /** Ends with at least one failed check: their lines may be short of the truth. */
  failingEndIds: readonly string[];
}

/** What a change of rules does to one item of the programme. */
export interface RuleEffectLine {
  itemCode: string;
  name: string;
  unit: string;
  owner: Owner;
  before: number;
  after: number;
  difference: number;
  /** Difference in money, minor units of `currency`; undefined when the catalogue has no such item. */
  differenceMinor?: number;
  currency?: string;
}

export interface RuleEffect {
  /** Items whose quantity changes, largest change of money first. */
  lines: readonly RuleEffectLine[];
  /** Checks that fail with the change and did not before. */
  newFails: readonly (DesignCheck & { endId: string })[];
  /** Checks that failed before and no longer do. */
  solvedFails: readonly (DesignCheck & { endId: string })[];
}

/** A check over many hops: where it stands is a site, a hop or a pair of hops. */
export interface ProgrammeCheck extends DesignCheck {
  siteId?: string;
  hopIds: readonly string[];
}
