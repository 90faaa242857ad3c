/** How far off the estimates were: under the factors in force, and under proposed ones on actuals held out. */
import { calibrate, isBelieved } from "./calibration";
import { expectedOf, visitFactor } from "./expect";
import { meanOf } from "./shrink";
import type { ActualPart, Actuals, ActualVisit, HourCalibration } from "./types";

export interface Errors {
  actuals: number;
  /** Mean of |worked - estimated| / worked. */
  mape: number;
  /** Estimated over worked in all, less 1: below 0 the estimates are too short. */
  bias: number;
  /** Share of the actuals between P10 and P90; undefined where there is no band. */
  coverage?: number;
}

interface Pair {
  workedMin: number;
  meanMin: number;
  p10Min?: number;
  p90Min?: number;
}

export function errorsOf(pairs: readonly Pair[]): Errors | undefined {
  if (pairs.length === 0) return undefined;
  const sum = (of: (p: Pair) => number) => pairs.reduce((s, p) => s + of(p), 0);
  const hasBand = pairs.every((p) => p.p10Min !== undefined && p.p90Min !== undefined);
  return {
    actuals: pairs.length,
    mape: meanOf(pairs.map((p) => Math.abs(p.workedMin - p.meanMin) / p.workedMin)),
    bias: sum((p) => p.meanMin) / sum((p) => p.workedMin) - 1,
    ...(hasBand && {
      coverage: meanOf(pairs.map((p) => (p.workedMin >= p.p10Min! && p.workedMin <= p.p90Min! ? 1 : 0))),
    }),
  };
}

export const visitErrors = (visits: readonly ActualVisit[], under: HourCalibration): Errors | undefined =>
  errorsOf(visits.map((v) => ({ workedMin: v.workedMin, ...expectedOf(v, under) })));

/** Parts take their own factor, and outside the set-up those of their visit. */
export const partErrors = (parts: readonly ActualPart[], under: HourCalibration): Errors | undefined =>
  errorsOf(
    parts.map((p) => ({
      workedMin: p.workedMin,
      meanMin: p.estimateMin * (under.parts[p.part]?.factor ?? 1) * (p.isSetup ? 1 : visitFactor(p, under)),
    })),
  );

/** Parts that the hops are dealt into: each in turn is foretold from the other four. Common practice. */
const FOLDS = 5;

/** A visit with what was foretold of it by factors that never saw its hop. */
export interface HeldOut {
  visit: ActualVisit;
  meanMin: number;
  p10Min: number;
  p90Min: number;
}

/**
 * Each hop's visits foretold by factors fitted to the other hops: whole hops are held out, since the two ends of an
 * alignment were worked in the same hours. Factors of parts stay as they are in the estimates.
 *
 * @returns empty when all visits are of one hop
 */
export function heldOut({ visits }: Actuals): HeldOut[] {
  const believed = visits.filter(isBelieved);
  const hops = [...new Set(believed.map((v) => v.hopCode))].sort();
  if (hops.length < 2) return [];
  const foldOf = new Map(hops.map((code, i) => [code, i % FOLDS]));
  return Array.from({ length: Math.min(FOLDS, hops.length) }, (_, fold) => {
    const isHeld = (v: ActualVisit) => foldOf.get(v.hopCode) === fold;
    const { calibration } = calibrate({ visits: believed.filter((v) => !isHeld(v)), parts: [] });
    return believed.filter(isHeld).map((visit) => ({ visit, ...expectedOf(visit, calibration) }));
  }).flat();
}

export const heldOutErrors = (rows: readonly HeldOut[]): Errors | undefined =>
  errorsOf(rows.map(({ visit, ...expected }) => ({ workedMin: visit.workedMin, ...expected })));

/** One line of the back-test. */
export interface BacktestLine {
  key: string;
  /** Under the factors in force. */
  inForce: Errors;
  /** Under factors that did not see the visit; undefined for parts, and where nothing could be held out. */
  proposed?: Errors;
}

export interface Backtest {
  all?: Omit<BacktestLine, "key">;
  byCrew: readonly BacktestLine[];
  byScheme: readonly BacktestLine[];
  byWork: readonly BacktestLine[];
  byPart: readonly (BacktestLine & { name: string })[];
}

/** @param held visits foretold by factors that did not see their hop */
export function backtest(
  actuals: Actuals,
  inForce: HourCalibration,
  held: readonly HeldOut[] = heldOut(actuals),
): Backtest {
  const visits = actuals.visits.filter(isBelieved);
  const all = visitErrors(visits, inForce);
  const by = (keyOf: (v: ActualVisit) => string): BacktestLine[] =>
    keysOf(visits, keyOf).map((key) => ({
      key,
      inForce: visitErrors(
        visits.filter((v) => keyOf(v) === key),
        inForce,
      )!,
      proposed: heldOutErrors(held.filter((h) => keyOf(h.visit) === key)),
    }));
  return {
    all: all && { inForce: all, proposed: heldOutErrors(held) },
    byCrew: by((v) => v.crewCode),
    byScheme: by((v) => v.scheme),
    byWork: by((v) => v.kind),
    byPart: keysOf(actuals.parts, (p) => p.part).map((key) => {
      const parts = actuals.parts.filter((p) => p.part === key);
      return { key, name: parts[0]!.name, inForce: partErrors(parts, inForce)! };
    }),
  };
}

const keysOf = <T>(items: readonly T[], keyOf: (item: T) => string): string[] =>
  [...new Set(items.map(keyOf))].sort();
