/** What actual hours say about the estimates: the reports as data, and the factors that people accept. */
import type { EndSide, Scheme } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";

/** A factor that was accepted, and how many actuals stood behind it then. */
export interface Factor {
  factor: number;
  actuals: number;
}

export type WorkKind = "install" | "alignment";
export const WORK_KINDS: readonly WorkKind[] = ["install", "alignment"];

/**
 * Accepted factors on minutes; 1 where nothing stands. A task's minutes take its part's factor; the work of a visit
 * after its set-up takes the factors of its kind, its crew, and its crew with its scheme, multiplied.
 */
export interface HourCalibration {
  /** 0 = as delivered: nothing accepted. */
  version: number;
  /** By part of the norms. */
  parts: Readonly<Record<string, Factor>>;
  work: Readonly<Partial<Record<WorkKind, Factor>>>;
  /** By crew code. */
  crews: Readonly<Record<string, Factor>>;
  /** By crew code, then scheme. */
  crewSchemes: Readonly<Record<string, Readonly<Partial<Record<Scheme, Factor>>>>>;
  /** Standard deviation of log(actual / estimate) that makes the range; undefined = the tasks' own ranges do. */
  spread?: { logSd: number; actuals: number };
}

export const NO_CALIBRATION: HourCalibration = {
  version: 0,
  parts: {},
  work: {},
  crews: {},
  crewSchemes: {},
};

/** Quantiles of the work after the set-up, minutes. */
export interface WorkBand {
  p10Min: number;
  p50Min: number;
  p90Min: number;
}

/** A finished visit beside what the norms say of it for the crew that did it. */
export interface ActualVisit extends WorkBand {
  visitId: string;
  hopCode: string;
  side: EndSide;
  kind: WorkKind;
  scheme: Scheme;
  crewCode: string;
  /** Last day worked. */
  workedOn: CalendarDate;
  /** All of the visit's reports together, one crew's time on site. */
  workedMin: number;
  /** Set-up of the estimate: it counts as estimated. */
  setupMin: number;
  /**
   * Work after the set-up by the norms (factors of parts in force included) for this crew's people and pace, without
   * the factors of work, crew and scheme. The band is on the same footing, without the accepted spread.
   */
  workMin: number;
  /** Shares of the work after the set-up that parts hold on the chain which sets its length; undefined = not known. */
  partShares?: ReadonlyMap<string, number>;
}

/** Minutes that a crew timed for one part of a visit. */
export interface ActualPart {
  visitId: string;
  hopCode: string;
  kind: WorkKind;
  scheme: Scheme;
  crewCode: string;
  part: string;
  /** As the norms name it. */
  name: string;
  /** Set-up takes everyone the same: no factor of work or crew is on it. */
  isSetup: boolean;
  workedMin: number;
  /** By the norms without any factor. */
  estimateMin: number;
}

export interface Actuals {
  visits: readonly ActualVisit[];
  parts: readonly ActualPart[];
}
