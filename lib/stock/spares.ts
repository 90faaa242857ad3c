/**
 * Spares of radio variants: how many a warehouse keeps so that units which die meanwhile can be replaced from the shelf.
 * Variants (band, sub-band, spacing, half) never stand in for each other, so each is reckoned by itself.
 *
 * Method: docs/methods/stock.md, "Spares".
 */
import { addDays, type CalendarDate } from "@/lib/time";

/** Figures that a company may set. */
export interface SparePolicy {
  /** Probability that the spares last until what died is back, 0 < level < 1. 0 = no spares unless somebody fixes a number. */
  spareLevel: number;
  /** Days until a dead unit's replacement or repair is back. */
  repairDays: number;
  /** Share of new units that are dead on arrival, before the records say more. */
  deadShare: number;
  /** Units in service that fail in a year, per unit, before the records say more. */
  failuresPerYear: number;
}

/** Units at the ends that a warehouse serves. */
export interface VariantBase {
  /** In service today. */
  installed: number;
  /** To be installed within the repair time. */
  toInstall: number;
}

/** Probability of at most `count` events where `mean` are expected. 0 for a count below nought. */
export function poissonAtMost(count: number, mean: number): number {
  if (!(mean >= 0)) throw new RangeError(`mean must be >= 0, got ${mean}`);
  if (count < 0) return 0;
  if (mean === 0) return 1;
  // In logarithms: exp(-mean) alone is nought from some 745 on.
  let logTerm = -mean;
  let sum = Math.exp(logTerm);
  for (let k = 1; k <= count; k++) {
    logTerm += Math.log(mean / k);
    sum += Math.exp(logTerm);
  }
  return Math.min(1, sum);
}

/** The fewest spares that last through a time in which `mean` units die, with probability `level` at least. */
export function sparesFor(mean: number, level: number): number {
  if (!(level > 0 && level < 1)) throw new RangeError(`service level must be in (0, 1), got ${level}`);
  if (!(mean >= 0)) throw new RangeError(`mean must be >= 0, got ${mean}`);
  let logTerm = -mean;
  let sum = Math.exp(logTerm);
  let count = 0;
  // Beyond any mean the terms vanish: rounding must not keep the sum below a level near one for ever.
  const most = Math.ceil(mean + 12 * Math.sqrt(mean) + 60);
  while (sum < level && count < most) {
    count++;
    logTerm += Math.log(mean / count);
    sum += Math.exp(logTerm);
  }
  return count;
}

const DAYS_A_YEAR = 365.25;

/** Units expected to die in the repair time: of those in service by failing, of those going up by arriving dead. */
export function deadInRepairTime(
  { installed, toInstall }: VariantBase,
  { repairDays, deadShare, failuresPerYear }: Omit<SparePolicy, "spareLevel">,
): number {
  return (installed * failuresPerYear * repairDays) / DAYS_A_YEAR + toInstall * deadShare;
}

/** One variant at one warehouse: what is up at the ends that it serves, what goes up, what is asked for. */
export interface SpareShelf {
  itemCode: string;
  placeCode: string;
  installed: number;
  /** Visits that put more up, one entry a unit, however far away they are. */
  toCome: readonly string[];
  /** 0 <= level < 1; 0 = none unless a number is fixed. */
  level: number;
  /** Somebody's own number, whatever the level says. */
  fixed: number | null;
}

/** What is wanted of spares as far as it does not depend on a plan. */
export interface SpareDemand {
  shelves: readonly SpareShelf[];
  deadShare: number;
  failuresPerYear: number;
  repairDays: number;
}

export interface SpareNumber {
  /** Units that go up within the repair time. */
  toInstall: number;
  /** Expected to die in the repair time. */
  mean: number;
  /** What the level alone would want. */
  byLevel: number;
  wanted: number;
}

/** How many each shelf should keep, when visits begin on the days of `starts`; one that is not there is not planned. */
export function spareNumbers(
  demand: SpareDemand,
  today: CalendarDate,
  starts: ReadonlyMap<string, CalendarDate>,
): (SpareShelf & SpareNumber)[] {
  const soon = addDays(today, demand.repairDays);
  return demand.shelves.map((shelf) => {
    const toInstall = shelf.toCome.filter((visitId) => {
      const on = starts.get(visitId);
      return on !== undefined && on <= soon;
    }).length;
    const mean = deadInRepairTime({ installed: shelf.installed, toInstall }, demand);
    const byLevel = shelf.level > 0 ? sparesFor(mean, shelf.level) : 0;
    return { ...shelf, toInstall, mean, byLevel, wanted: shelf.fixed ?? byLevel };
  });
}

/** Exposure (units, unit-years) for which the rules' figure counts beside the records. Our own choice. */
export const PRIOR_EXPOSURE = 100;

/**
 * A rate drawn toward the rules' figure as long as there are few records: the mean of a gamma prior of that mean and
 * weight `PRIOR_EXPOSURE` after `events` in `exposure`.
 */
export function drawnRate(events: number, exposure: number, prior: number): number {
  return (events + prior * PRIOR_EXPOSURE) / (exposure + PRIOR_EXPOSURE);
}
