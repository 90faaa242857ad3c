/**
 * Allowances of the take-off from what was really used: by row of the rules how much more (or less) than the design
 * counts, drawn toward the allowance in force as long as few ends stand behind it.
 *
 * Method: docs/methods/calibration.md, "Material".
 */
import { Z_FOUR_FIFTHS } from "./calibration";
import { meanOf } from "./shrink";

/** What one end used of one row of the rules. */
export interface UsedLine {
  hopCode: string;
  ruleId: string;
  /** What the design counts, without any allowance and unrounded, in the item's unit. */
  counted: number;
  used: number;
}

/** Ends without which nothing is said of a row. Our own choice. */
export const LEAST_ENDS = 5;

/** Used so many times more or less than counted: an error of entry, left out. Our own choice. */
export const FARTHEST_USE = 4;

/** How far rows' true allowances lie from those in force, where the rows do not tell it: five points. Our own choice. */
export const DEFAULT_BETWEEN_SD = 0.05;

/** Scatter below which no row is believed to be: one point. Ends that all report as planned would look certain. */
const LEAST_SD = 0.01;

export interface UseEffect {
  ruleId: string;
  ends: number;
  inForce: number;
  /** What the uses alone say. */
  plain: number;
  /** Drawn toward the one in force. */
  allowance: number;
  /** Standard deviation of it. */
  sd: number;
}

export interface FittedUse {
  effects: readonly UseEffect[];
  /** Standard deviation of the rows' true allowances around those in force. */
  betweenSd: number;
  isFromData: boolean;
  leftOut: readonly UsedLine[];
}

export function isBelievedUse({ counted, used }: UsedLine): boolean {
  return counted > 0 && used > 0 && used <= FARTHEST_USE * counted && used >= counted / FARTHEST_USE;
}

interface Row {
  ruleId: string;
  ends: number;
  /** Mean of used / counted - 1 - allowance in force, each end weighing as much as it counts. */
  mean: number;
  variance: number;
}

/** @param inForce allowance by row; rows that are not in it are left aside */
export function learnUse(lines: readonly UsedLine[], inForce: ReadonlyMap<string, number>): FittedUse {
  const known = lines.filter((l) => inForce.has(l.ruleId));
  const byRule = new Map<string, UsedLine[]>();
  for (const line of known.filter(isBelievedUse)) {
    const list = byRule.get(line.ruleId);
    if (list) list.push(line);
    else byRule.set(line.ruleId, [line]);
  }
  const rows = [...byRule]
    .filter(([, own]) => own.length >= 2)
    .map(([ruleId, own]) => rowOf(ruleId, own, inForce.get(ruleId)!))
    .sort((a, b) => (a.ruleId < b.ruleId ? -1 : 1));
  const between = betweenRows(rows);
  const effects = rows.map(({ ruleId, ends, mean, variance }): UseEffect => {
    const k = variance / between.variance;
    return {
      ruleId,
      ends,
      inForce: inForce.get(ruleId)!,
      plain: inForce.get(ruleId)! + mean,
      allowance: inForce.get(ruleId)! + (ends / (ends + k)) * mean,
      sd: Math.sqrt(variance / (ends + k)),
    };
  });
  return {
    effects,
    betweenSd: Math.sqrt(between.variance),
    isFromData: between.isFromData,
    leftOut: known.filter((l) => !isBelievedUse(l)),
  };
}

function rowOf(ruleId: string, own: readonly UsedLine[], allowance: number): Row {
  const weight = own.reduce((sum, l) => sum + l.counted, 0);
  const off = (l: UsedLine) => l.used / l.counted - 1 - allowance;
  const mean = own.reduce((sum, l) => sum + l.counted * off(l), 0) / weight;
  const square = own.reduce((sum, l) => sum + l.counted * (off(l) - mean) ** 2, 0) / weight;
  const ends = own.length;
  return { ruleId, ends, mean, variance: Math.max(LEAST_SD ** 2, (square * ends) / (ends - 1)) };
}

/** Rows from which their spread is told. */
const LEAST_ROWS = 4;

/** Variance between rows by moments: that of their means, less what the ends' scatter makes of it. */
function betweenRows(rows: readonly Row[]): { variance: number; isFromData: boolean } {
  const told = rows.filter((r) => r.ends >= LEAST_ENDS);
  if (told.length < LEAST_ROWS) return { variance: DEFAULT_BETWEEN_SD ** 2, isFromData: false };
  // Around nought: the prior says that the allowances in force are right.
  const ofMeans = meanOf(told.map((r) => r.mean ** 2));
  const ofScatter = meanOf(told.map((r) => r.variance / r.ends));
  return { variance: Math.max(LEAST_SD ** 2, ofMeans - ofScatter), isFromData: true };
}

export interface UseProposal {
  /** `use: rule`, the same as long as it speaks of the same row. */
  id: string;
  ruleId: string;
  actuals: number;
  /** 1 + allowance, as a factor on what the design counts. */
  inForce: number;
  proposed: number;
  plainFactor: number;
  low: number;
  high: number;
}

/** A change of less than a point is not worth a decision. Our own choice. */
const LEAST_CHANGE = 0.01;

/** Allowances are kept to half a point; the take-off knows none below nought. */
const rounded = (allowance: number) => Math.max(0, Math.round(allowance * 200) / 200);

/** Rows whose allowance in force lies outside four fifths of what the uses say it may be. */
export function proposedAllowances({ effects }: FittedUse): UseProposal[] {
  return effects.flatMap((e): UseProposal[] => {
    if (e.ends < LEAST_ENDS || Math.abs(e.allowance - e.inForce) < Z_FOUR_FIFTHS * e.sd) return [];
    const proposed = rounded(e.allowance);
    if (Math.abs(proposed - e.inForce) < LEAST_CHANGE - 1e-9) return [];
    return [
      {
        id: `use: ${e.ruleId}`,
        ruleId: e.ruleId,
        actuals: e.ends,
        inForce: 1 + e.inForce,
        proposed: 1 + proposed,
        plainFactor: 1 + e.plain,
        low: 1 + e.allowance - Z_FOUR_FIFTHS * e.sd,
        high: 1 + e.allowance + Z_FOUR_FIFTHS * e.sd,
      },
    ];
  });
}

export interface UseErrors {
  ruleId: string;
  ends: number;
  /** Sum of |used - foretold| over sum of used. */
  inForce: number;
  proposed: number;
  /** Foretold over used in all, less 1. */
  biasInForce: number;
  biasProposed: number;
}

/**
 * Proposals by which hops held out come nearer to what they used in all. That is what an allowance is fitted for, since
 * stock is ordered in sums; line by line a row may be further off, where a few ends use much more than the others.
 */
export function provenAllowances(
  proposals: readonly UseProposal[],
  test: readonly UseErrors[],
): (UseProposal & { test: UseErrors })[] {
  const errors = new Map(test.map((e) => [e.ruleId, e]));
  return proposals.flatMap((p) => {
    const held = errors.get(p.ruleId);
    return held && Math.abs(held.biasProposed) < Math.abs(held.biasInForce) ? [{ ...p, test: held }] : [];
  });
}

/** Parts that the hops are dealt into. Common practice. */
const FOLDS = 5;

/**
 * How far off each row was under the allowance in force, and under one fitted to other hops' ends. Fitted ones count
 * only where they would be proposed, so that the comparison is of what a person would have accepted.
 */
export function backtestUse(lines: readonly UsedLine[], inForce: ReadonlyMap<string, number>): UseErrors[] {
  const believed = lines.filter((l) => inForce.has(l.ruleId) && isBelievedUse(l));
  const hops = [...new Set(believed.map((l) => l.hopCode))].sort();
  const foldOf = new Map(hops.map((hop, i) => [hop, i % FOLDS]));
  const fitted = Array.from({ length: FOLDS }, (_, fold) => {
    const others = believed.filter((l) => foldOf.get(l.hopCode) !== fold);
    return new Map(proposedAllowances(learnUse(others, inForce)).map((p) => [p.ruleId, p.proposed - 1]));
  });
  const sums = new Map<
    string,
    { ends: number; used: number; off: [number, number]; told: [number, number] }
  >();
  for (const l of believed) {
    const before = inForce.get(l.ruleId)!;
    const after = fitted[foldOf.get(l.hopCode)!]!.get(l.ruleId) ?? before;
    const sum = sums.get(l.ruleId) ?? { ends: 0, used: 0, off: [0, 0], told: [0, 0] };
    sums.set(l.ruleId, sum);
    sum.ends++;
    sum.used += l.used;
    [before, after].forEach((allowance, i) => {
      const told = l.counted * (1 + allowance);
      sum.told[i]! += told;
      sum.off[i]! += Math.abs(l.used - told);
    });
  }
  return [...sums]
    .map(([ruleId, s]) => ({
      ruleId,
      ends: s.ends,
      inForce: s.off[0] / s.used,
      proposed: s.off[1] / s.used,
      biasInForce: s.told[0] / s.used - 1,
      biasProposed: s.told[1] / s.used - 1,
    }))
    .sort((a, b) => (a.ruleId < b.ruleId ? -1 : 1));
}
