/** Cutting runs from drums. Lengths in whole centimetres (`Cm`) so that metres add up exactly. */
import type { Random } from "@/lib/random";
import type { CalendarDate } from "@/lib/time";
import type { LinearSolver } from "./linearSolver";

export interface RunWanted {
  id: string;
  cableCode: string;
  lengthCm: number;
  neededOn: CalendarDate;
  hopId: string;
  endId: string;
  siteId: string;
  label: string;
  /** Warehouse whose kit wants it; undefined = it is all the same where it is cut. */
  placeId?: string;
}

export interface DrumOnHand {
  id: string;
  serial: string;
  cableCode: string;
  placeId: string;
  /** Warehouse that a drum on order comes to; undefined = it stands at `placeId`. */
  comesTo?: string;
  receivedCm: number;
  remainingCm: number;
  /** From when it may be cut (a drum on order has its due date). */
  availableOn: CalendarDate;
  isNew: boolean;
}

export interface DrumKind {
  cableCode: string;
  lengthCm: number;
  priceMinor: number;
  leadTimeDays: number;
  /** Warehouse that it is delivered to; absent = wherever it is wanted. */
  comesTo?: string;
}

export interface CutPolicy {
  sawAllowanceCm: number;
  /** A remnant below this is scrap. */
  minUsefulCm: number;
}

/** A cut that the plan may not move. */
export interface FixedCut {
  drumId: string;
  runId: string;
  lengthCm: number;
  cutOn: CalendarDate;
  /** true: already made, and `remainingCm` of its drum is without it. false: promised to this drum, still to be cut. */
  isMade: boolean;
  /** Running mark where a made cut began, if the ledger knows it; where a promised one stands in the list, which gives the order. */
  fromMarkCm?: number;
}

export interface DrumCut {
  runId: string;
  lengthCm: number;
  /** Running metre marks on the drum, counted from its outer end as received. */
  fromMarkCm: number;
  toMarkCm: number;
  cutOn: CalendarDate;
  /** Warehouse whose kit wants it, when the run named one. */
  wantedAt?: string;
  /** Day on which the piece is there, when it is cut at another warehouse. */
  arriveOn?: CalendarDate;
  /** Was promised to this drum by a fixed cut. */
  isFixed?: boolean;
}

export interface DrumPlan {
  drum: DrumOnHand;
  /** Set on a drum that is still to be bought; `drum` then describes it as it will arrive. */
  buy?: DrumKind;
  /** Cuts already made from it, in the order of their marks where known. They lie before the first mark of `cuts`. */
  madeCuts?: readonly FixedCut[];
  /** In cutting order. */
  cuts: readonly DrumCut[];
  allowanceCm: number;
  leftCm: number;
  leftIs: "remnant" | "scrap" | "untouched" | "empty";
}

export interface CuttingPlan {
  cableCode: string;
  drums: readonly DrumPlan[];
  /** Drums to buy: by kind and number, with the date the first is needed. */
  newDrums: readonly { kind: DrumKind; count: number; neededOn: CalendarDate }[];
  /** Runs no drum can give, with the reason. */
  uncut: readonly { run: RunWanted; reason: string }[];
  late: readonly { run: RunWanted; availableOn: CalendarDate }[];
  cutCm: number;
  allowanceCm: number;
  scrapCm: number;
  remnantCm: number;
  /** Least number of new drums that any plan with no more late runs needs, and the number of this one: the gap is their difference. */
  newDrumLowerBound: number;
  newDrumCount: number;
  /** Price of the drums to buy, and the least that any plan with no more late runs pays. Minor units of currency. */
  newDrumPriceMinor?: number;
  newDrumPriceLowerBoundMinor?: number;
  /** Ends whose runs come from more drums than one, counted as drums beyond the first. */
  splitEndCount?: number;
}

export interface CutOptions {
  /** Nothing is cut before this day, and an order placed today arrives a lead time later. */
  today: CalendarDate;
  fixedCuts?: readonly FixedCut[];
  /** Working days (Monday to Friday) that a cut piece is on its way from one warehouse to another; undefined = nothing is sent that way. Without it places are left aside. */
  daysOver?: DaysOver;
  /** Stream for the improvement's ties; the same stream gives the same plan. */
  random?: Random;
  /** Work allowance of the improvement, candidate moves looked at. Default 600 000, some tens of milliseconds. */
  effort?: number;
  /** Asked between moves: true ends the improvement early with the best plan so far. */
  shouldStop?: () => boolean;
  /** Given: the exact method (exact.ts) goes on from the quick one until the purchase is proved the least or time is up. */
  exact?: ExactCutting;
}

export type DaysOver = (fromPlaceId: string, toPlaceId: string) => number | undefined;

export interface ExactCutting {
  solver: LinearSolver;
  /** Asked when a cable's turn comes: gives what says when its time is up. */
  startTime: () => () => boolean;
}
