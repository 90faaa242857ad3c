/**
 * Factors on the hours from what was worked: how far off the estimates are by part, kind of work, crew, and crew with
 * scheme, each drawn toward 1 as long as few actuals stand behind it.
 *
 * Method: docs/methods/calibration.md.
 */
import { normalQuantile } from "@/lib/hours";
import { crewFactor, visitFactor } from "./expect";
import { type Effect, Grouping, type Level } from "./grouping";
import { meanOf, type PriorWeight } from "./shrink";
import { effectsTogether } from "./together";
import {
  type ActualPart,
  type Actuals,
  type ActualVisit,
  type HourCalibration,
  NO_CALIBRATION,
  WORK_KINDS,
  type WorkKind,
} from "./types";

/** Actuals that the prior counts for where the data do not tell it. Our own choice. */
export const DEFAULT_PRIOR_WEIGHT = 5;

/** A report so many times off its estimate is taken for an error of entry and left out. Our own choice. */
export const FARTHEST_RATIO = 4;

export interface Fitted {
  /** With every effect in it, whatever its size; version 0. */
  calibration: HourCalibration;
  effects: readonly Effect[];
  /** Weight of the prior by level. */
  weights: Readonly<Record<Level, PriorWeight>>;
  /** Actuals left out because they are more than FARTHEST_RATIO times off. */
  leftOut: readonly ActualVisit[];
}

export interface CalibrateOptions {
  defaultK?: number;
  /** Whose factors of parts are in the visits' estimates; default none. */
  inForce?: HourCalibration;
}

export const crewSchemeKey = (v: Pick<ActualVisit, "crewCode" | "scheme">) => `${v.crewCode}|${v.scheme}`;

/**
 * Logarithm of worked over estimated minutes, without the set-up, which is the same for everyone. A visit that took
 * hardly more than its set-up counts as the fastest that is believed.
 */
export function logRatio(v: ActualVisit): number {
  return Math.log(Math.max(v.workedMin - v.setupMin, v.workMin / FARTHEST_RATIO) / v.workMin);
}

export function isBelieved(v: ActualVisit): boolean {
  const ratio = v.workedMin / (v.setupMin + v.workMin);
  return v.workMin > 0 && ratio <= FARTHEST_RATIO && ratio >= 1 / FARTHEST_RATIO;
}

export function calibrate(actuals: Actuals, options: CalibrateOptions = {}): Fitted {
  const { defaultK = DEFAULT_PRIOR_WEIGHT, inForce = NO_CALIBRATION } = options;
  const believed = actuals.visits.filter(isBelieved);
  const part = partEffects(actuals, fitVisits(believed, defaultK), defaultK);
  // A task that takes longer makes its visits longer: what the parts explain is not charged to crews a second time.
  const visits = believed.map(underParts(part.effects(), inForce));
  const levels = fitVisits(visits, defaultK);
  const all = [...levels, part];
  const effects = all.flatMap((g) => g.effects());
  return {
    calibration: { ...calibrationOf(effects), spread: spreadOf(visits, levels) },
    effects,
    weights: Object.fromEntries(all.map((g) => [g.level, g.weight])) as Fitted["weights"],
    leftOut: actuals.visits.filter((v) => !isBelieved(v)),
  };
}

/** Fewer actuals make no proposal. Our own choice. */
export const LEAST_ACTUALS = 3;

/** Standard deviations on each side that hold four fifths. */
export const Z_FOUR_FIFTHS = normalQuantile(0.9);

/** Are there actuals enough to tell the effect from the factor in force, which then lies outside four fifths of it? */
export const isTold = (e: Effect, inForce: number): boolean =>
  e.actuals >= LEAST_ACTUALS && Math.abs(Math.log(e.factor / inForce)) >= Z_FOUR_FIFTHS * e.logSd;

/** Visits as their estimates would be with the parts' told factors in place of those in force. */
function underParts(effects: readonly Effect[], inForce: HourCalibration): (v: ActualVisit) => ActualVisit {
  const changes = effects.flatMap((e) => {
    const before = inForce.parts[e.key]?.factor ?? 1;
    return isTold(e, before) ? [[e.key, e.factor / before - 1] as const] : [];
  });
  return (v) => {
    const stretch = changes.reduce((sum, [part, c]) => sum + c * (v.partShares?.get(part) ?? 0), 1);
    const { workMin, p10Min, p50Min, p90Min } = v;
    return {
      ...v,
      workMin: workMin * stretch,
      p10Min: p10Min * stretch,
      p50Min: p50Min * stretch,
      p90Min: p90Min * stretch,
    };
  };
}

/** Effects of kind of work, crew, and crew with scheme. */
function fitVisits(visits: readonly ActualVisit[], defaultK: number): Grouping<ActualVisit>[] {
  const levels = [
    new Grouping("work", visits, (v) => v.kind),
    new Grouping("crew", visits, (v) => v.crewCode),
    new Grouping("crew and scheme", visits, crewSchemeKey),
  ];
  fitTogether(levels, visits.map(logRatio), defaultK);
  return levels;
}

/**
 * The levels' effects together. The kind of work is a fixed effect, so that what all crews share is not split between
 * it and every single crew; it is drawn toward 1 by its own number of actuals afterwards.
 */
function fitTogether(
  levels: readonly Grouping<ActualVisit>[],
  values: readonly number[],
  defaultK: number,
): void {
  const rest = (of: Grouping<ActualVisit>) =>
    values.map((x, i) => x - levels.reduce((sum, g) => (g === of ? sum : sum + g.effectAt(i)), 0));
  for (const level of levels) level.weigh(rest(level), defaultK);
  const found = effectsTogether(
    levels.map((level, l) => level.equationLevel(l === 0 ? 0 : level.weight.k)),
    values,
  );
  levels.forEach((level, l) => {
    level.take(l === 0 ? found[l]!.map((effect, group) => level.drawn(effect, group)) : found[l]!);
  });
  for (const level of levels) level.measure(rest(level));
}

/**
 * What each part differs by from the other parts of its kind of work. A slow crew is slow in every part, and that all
 * parts take longer shows in the visits' totals: neither counts a second time here. Set-up has no factor but its own.
 */
function partEffects(
  { parts }: Actuals,
  levels: readonly Grouping<ActualVisit>[],
  defaultK: number,
): Grouping<ActualPart> {
  const believed = parts.filter(
    (p) =>
      p.workedMin > 0 &&
      p.estimateMin > 0 &&
      Math.abs(Math.log(p.workedMin / p.estimateMin)) <= PART_FARTHEST,
  );
  const ofVisits = calibrationOf(levels.flatMap((g) => g.effects()));
  const beyondCrew = (p: ActualPart) =>
    Math.log(p.workedMin / p.estimateMin) - (p.isSetup ? 0 : Math.log(crewFactor(p, ofVisits)));
  const usual = new Map(WORK_KINDS.map((kind) => [kind, usualOf(believed, kind, beyondCrew)]));
  const values = believed.map((p) => beyondCrew(p) - (p.isSetup ? 0 : usual.get(p.kind)!));
  const grouping = new Grouping("part", believed, (p) => p.part);
  grouping.weigh(values, defaultK);
  grouping.fit(values);
  return grouping;
}

/** Median over the parts of a kind of work of each part's mean; 0 without any. */
function usualOf(parts: readonly ActualPart[], kind: WorkKind, logOf: (p: ActualPart) => number): number {
  const byPart = new Map<string, number[]>();
  for (const p of parts) {
    if (p.isSetup || p.kind !== kind) continue;
    const list = byPart.get(p.part);
    if (list) list.push(logOf(p));
    else byPart.set(p.part, [logOf(p)]);
  }
  const means = [...byPart.values()].map(meanOf).sort((a, b) => a - b);
  if (means.length === 0) return 0;
  return (means[Math.floor((means.length - 1) / 2)]! + means[Math.floor(means.length / 2)]!) / 2;
}

/** A short task varies more than a visit: ten times off is an error of entry. */
const PART_FARTHEST = Math.log(10);

function calibrationOf(effects: readonly Effect[]): HourCalibration {
  return effects.reduce((c, e) => withFactor(c, e.level, e.key, e), NO_CALIBRATION);
}

/** The calibration with one factor set. */
export function withFactor(
  c: HourCalibration,
  level: Level,
  key: string,
  { factor, actuals }: { factor: number; actuals: number },
): HourCalibration {
  const set = { factor, actuals };
  switch (level) {
    case "part":
      return { ...c, parts: { ...c.parts, [key]: set } };
    case "work":
      return { ...c, work: { ...c.work, [key]: set } };
    case "crew":
      return { ...c, crews: { ...c.crews, [key]: set } };
    case "crew and scheme": {
      const at = key.lastIndexOf("|");
      const [crew, scheme] = [key.slice(0, at), key.slice(at + 1)];
      return { ...c, crewSchemes: { ...c.crewSchemes, [crew]: { ...c.crewSchemes[crew], [scheme]: set } } };
    }
  }
}

/** How many of the actuals' degrees of freedom the effects use up: a group that is drawn half the way counts half. */
const freedomOf = (levels: readonly Grouping<ActualVisit>[]): number =>
  levels.reduce(
    (sum, g) => sum + g.effects().reduce((s, e) => s + e.actuals / (e.actuals + g.weight.k), 0),
    0,
  );

/** Standard deviation of what the factors leave, on the work after the set-up, around the estimate's P50. */
function spreadOf(
  visits: readonly ActualVisit[],
  levels: readonly Grouping<ActualVisit>[],
): HourCalibration["spread"] {
  const freedom = visits.length - freedomOf(levels);
  if (freedom < 1) return undefined;
  const calibration = calibrationOf(levels.flatMap((g) => g.effects()));
  const squares = visits.reduce((sum, v) => {
    const median = v.p50Min * visitFactor(v, calibration);
    return sum + Math.log(Math.max(v.workedMin - v.setupMin, median / FARTHEST_RATIO) / median) ** 2;
  }, 0);
  return { logSd: Math.sqrt(squares / freedom), actuals: visits.length };
}
