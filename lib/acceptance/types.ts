/** What a hop is accepted by: readings at its ends, held against targets and limits. */
import type { EndSide } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";

export type ReadingKind =
  | "receive level"
  | "cross-polar"
  | "switch-over"
  | "earth resistance"
  | "photos"
  | "error run";

export interface AcceptanceLimits {
  /** Receive level may differ so much from its target, either way, dB. */
  levelToleranceDb: number;
  /** Cross-polar discrimination at least, dB. */
  crossPolarMinDb: number;
  /** Earth resistance at most, ohm. */
  earthMaxOhm: number;
  /** Length of the error run, hours, and errored seconds allowed in it. It needs nobody on site. */
  errorRunH: number;
  errorRunMaxS: number;
}

/** One reading that a hop asks for. */
export interface AskedReading {
  /** Unique within the hop, e.g. `near/receive level/R1`, `error run`. */
  id: string;
  kind: ReadingKind;
  /** undefined = of the hop as a whole. */
  side?: EndSide;
  /** Which ODU, where there is one reading for each. */
  oduLabel?: string;
  /** A figure with its unit, or just passed or not. */
  form: { figure: "dBm" | "dB" | "ohm" | "s" } | "passed";
  /** What the design promises; undefined = it is given with the reading. */
  targetLevelDbm?: number;
}

/** A reading as it was reported. `value` for a figure, `passed` for the others. */
export interface Reading {
  askedId: string;
  value?: number;
  passed?: boolean;
  /** Receive level: the target it was held against where the design has none. */
  targetLevelDbm?: number;
  takenOn: CalendarDate;
}

export type ReadingState = "open" | "passed" | "failed";

export interface JudgedReading {
  asked: AskedReading;
  state: ReadingState;
  /** The latest reading. */
  reading?: Reading;
  /** Figure and limit in words, e.g. "-44.1 dBm, 4.6 dB below the target of -39.5 dBm (3 dB allowed)". */
  words: string;
}

export interface Acceptance {
  /** accepted: every reading passed. failed: at least one did not. open: some are missing, none failed. */
  state: "open" | "failed" | "accepted";
  readings: JudgedReading[];
  /** Day of the last reading of an accepted hop. */
  acceptedOn?: CalendarDate;
}

/** What is done about a failed reading. */
export type Remedy = "align again" | "connections" | "earthing" | "indoor unit";
