/** What becomes of a piece that was found faulty: where it stands follows from the ledger's rows that name the fault. */

export type FaultCause = "dead on arrival" | "failed in service" | "doubtful";
export const FAULT_CAUSES: readonly FaultCause[] = ["dead on arrival", "failed in service", "doubtful"];

export type FaultState =
  | "on hold"
  | "in repair"
  | "back from repair"
  | "released"
  | "exchanged"
  | "returned"
  | "scrapped"
  | "taken back";

/** Kinds of rows that move a faulty piece, in the ledger's words. */
export type FaultMovementKind =
  | "quality hold"
  | "release"
  | "to repair"
  | "from repair"
  | "exchange"
  | "return"
  | "scrap";

const STATE_AFTER: Record<FaultMovementKind, FaultState> = {
  "quality hold": "on hold",
  release: "released",
  "to repair": "in repair",
  "from repair": "back from repair",
  exchange: "exchanged",
  return: "returned",
  scrap: "scrapped",
};

/** @param kinds of the fault's rows that stand (not taken back, no reversals), oldest first */
export function faultState(kinds: readonly FaultMovementKind[]): FaultState {
  const last = kinds.at(-1);
  return last === undefined ? "taken back" : STATE_AFTER[last];
}

/**
 * What may be done next with it. Nobody mends a drum of cable, or an item that is only the wrong one: they are
 * released, go back to their supplier or are scrapped.
 */
export function faultSteps(state: FaultState, isBeyondRepair = false): readonly FaultMovementKind[] {
  if (state === "on hold")
    return [...(isBeyondRepair ? [] : (["to repair"] as const)), "release", "return", "scrap"];
  if (state === "in repair") return ["from repair", "exchange", "scrap"];
  return [];
}

export interface ShareOfPieces {
  /** Null when nothing was received. */
  share: number | null;
  /** Four fifths of what the supplier's true share may be, given so few pieces. */
  low: number;
  high: number;
}

/** 90 % quantile of the normal distribution: four fifths lie within it on both sides. */
const Z = 1.2815515655446004;

/**
 * Share of the pieces received that were dead on arrival. The band is Wilson's: it stays between nought and one and
 * says something when none of a few were bad. More dead than received (older deliveries) counts as all of them.
 */
export function deadShare(dead: number, received: number): ShareOfPieces {
  if (received <= 0) return { share: null, low: 0, high: 1 };
  const p = Math.min(1, dead / received);
  const z2n = (Z * Z) / received;
  const centre = (p + z2n / 2) / (1 + z2n);
  const half = (Z * Math.sqrt((p * (1 - p)) / received + z2n / (4 * received))) / (1 + z2n);
  return { share: p, low: Math.max(0, centre - half), high: Math.min(1, centre + half) };
}
