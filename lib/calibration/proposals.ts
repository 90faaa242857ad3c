/** What a person may accept or reject: each factor that the actuals speak for and that differs from the one in force. */
import type { Scheme } from "@/lib/site";
import { type Fitted, isTold, LEAST_ACTUALS, withFactor, Z_FOUR_FIFTHS } from "./calibration";
import { type Effect, LEVELS, type Level } from "./grouping";
import type { HourCalibration, WorkKind } from "./types";

export const PROPOSAL_LEVELS = [...LEVELS, "range"] as const;
export type ProposalLevel = (typeof PROPOSAL_LEVELS)[number];

export interface Proposal {
  /** `level: key`, the same as long as it speaks of the same thing. */
  id: string;
  level: ProposalLevel;
  key: string;
  actuals: number;
  /** Factor in force; of the range the standard deviation, 0 = the tasks' own. */
  inForce: number;
  proposed: number;
  /** What the actuals alone would give; undefined for the range. */
  plainFactor?: number;
  /** Four fifths of what the factor may be, given the data. */
  low?: number;
  high?: number;
}

/** A change of less than this is not worth a decision: log 1.02, two per cent. Our own choice. */
const LEAST_CHANGE = Math.log(1.02);

/** Factors are kept to a thousandth: nobody can tell more. */
const rounded = (x: number) => Math.round(x * 1000) / 1000;

export function proposals(fitted: Fitted, inForce: HourCalibration): Proposal[] {
  const factors = fitted.effects
    .filter((e) => isTold(e, factorInForce(inForce, e.level, e.key)))
    .map((e) => proposalOf(e, factorInForce(inForce, e.level, e.key)))
    .filter((p) => Math.abs(Math.log(p.proposed / p.inForce)) >= LEAST_CHANGE);
  const inOrder = factors.sort(
    (a, b) => PROPOSAL_LEVELS.indexOf(a.level) - PROPOSAL_LEVELS.indexOf(b.level) || (a.key < b.key ? -1 : 1),
  );
  return [...inOrder, ...rangeProposal(fitted, inForce)];
}

function proposalOf(e: Effect, inForce: number): Proposal {
  return {
    id: `${e.level}: ${e.key}`,
    level: e.level,
    key: e.key,
    actuals: e.actuals,
    inForce,
    proposed: rounded(e.factor),
    plainFactor: e.plainFactor,
    low: e.factor * Math.exp(-Z_FOUR_FIFTHS * e.logSd),
    high: e.factor * Math.exp(Z_FOUR_FIFTHS * e.logSd),
  };
}

function rangeProposal({ calibration: { spread } }: Fitted, inForce: HourCalibration): Proposal[] {
  if (!spread || spread.actuals < LEAST_ACTUALS) return [];
  const before = inForce.spread?.logSd ?? 0;
  const proposed = rounded(spread.logSd);
  if (Math.abs(proposed - before) < LEAST_CHANGE) return [];
  return [
    { id: "range: all", level: "range", key: "all", actuals: spread.actuals, inForce: before, proposed },
  ];
}

export function factorInForce(c: HourCalibration, level: Level, key: string): number {
  switch (level) {
    case "part":
      return c.parts[key]?.factor ?? 1;
    case "work":
      return c.work[key as WorkKind]?.factor ?? 1;
    case "crew":
      return c.crews[key]?.factor ?? 1;
    case "crew and scheme": {
      const at = key.lastIndexOf("|");
      return c.crewSchemes[key.slice(0, at)]?.[key.slice(at + 1) as Scheme]?.factor ?? 1;
    }
  }
}

/** The calibration in force with these proposals accepted. The caller numbers the version. */
export function accept(inForce: HourCalibration, accepted: readonly Proposal[]): HourCalibration {
  let made = inForce;
  for (const { level, key, proposed, actuals } of accepted) {
    made =
      level === "range"
        ? { ...made, spread: { logSd: proposed, actuals } }
        : withFactor(made, level, key, { factor: proposed, actuals });
  }
  return made;
}

export interface Rejection {
  proposalId: string;
  /** Actuals behind it then. */
  actuals: number;
}

/** A rejected proposal comes back only when more actuals have come. */
export function isRejected(p: Pick<Proposal, "id" | "actuals">, rejections: readonly Rejection[]): boolean {
  return rejections.some((r) => r.proposalId === p.id && r.actuals >= p.actuals);
}
