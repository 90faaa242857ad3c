/** Cutting runs from drums. Lengths in whole centimetres (`Cm`) so that metres add up exactly. */
import type { CalendarDate } from "@/lib/time";

export interface RunWanted {
  id: string;
  cableCode: string;
  lengthCm: number;
  neededOn: CalendarDate;
  hopId: string;
  endId: string;
  siteId: string;
  label: string;
}

export interface DrumOnHand {
  id: string;
  serial: string;
  cableCode: string;
  placeId: string;
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
}

export interface CutPolicy {
  sawAllowanceCm: number;
  /** A remnant below this is scrap. */
  minUsefulCm: number;
}

export interface DrumCut {
  runId: string;
  lengthCm: number;
  /** Running metre marks on the drum, counted from its outer end as received. */
  fromMarkCm: number;
  toMarkCm: number;
  cutOn: CalendarDate;
}

export interface DrumPlan {
  drum: DrumOnHand;
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
  /** Least number of new drums that any plan needs, and the gap of this one to it. */
  newDrumLowerBound: number;
  newDrumCount: number;
}
