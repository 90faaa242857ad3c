/**
 * Learning curves. Exponent `b = log2(rate)`: at 80 % each doubling of the count takes 80 % of what it took.
 * Crawford: unit n takes T1 n^b. Wright: the average of the first n units is T1 n^b.
 */

/** @throws RangeError unless 0 < rate <= 1 */
export function learningExponent(rate: number): number {
  if (!(rate > 0 && rate <= 1)) throw new RangeError(`learning rate must be in (0, 1], got ${rate}`);
  return Math.log2(rate);
}

/** Crawford: time of unit n as a share of the first unit's. */
export function crawfordUnit(n: number, rate: number): number {
  checkUnit(n);
  return n ** learningExponent(rate);
}

/** Crawford: time of the first n units together, in times of the first unit. */
export function crawfordTotal(n: number, rate: number): number {
  checkUnit(n);
  const b = learningExponent(rate);
  let total = 0;
  for (let i = 1; i <= n; i++) total += i ** b;
  return total;
}

/** Wright: average time of the first n units, in times of the first unit. */
export function wrightAverage(n: number, rate: number): number {
  checkUnit(n);
  return n ** learningExponent(rate);
}

/** Wright: time of the first n units together, in times of the first unit. */
export function wrightTotal(n: number, rate: number): number {
  return n * wrightAverage(n, rate);
}

/** Wright: time of unit n, the difference of two totals, in times of the first unit. */
export function wrightUnit(n: number, rate: number): number {
  return n === 1 ? 1 : wrightTotal(n, rate) - wrightTotal(n - 1, rate);
}

export interface LearningPolicy {
  /** Share that each doubling takes; 0.95 from memory, common practice: calibrate. */
  rate: number;
  /** Ends after which nothing more is learned. */
  floorAfterEnds: number;
}

/** As the norms hold it: with what a crew is taken to have done before its first report here. */
export interface CrewLearning extends LearningPolicy {
  /** Ends of each scheme that a crew is taken to have done elsewhere; our own choice. */
  endsBefore: number;
}

export const DEFAULT_LEARNING: CrewLearning = { rate: 0.95, floorAfterEnds: 20, endsBefore: 10 };

/**
 * Factor on the norm for a crew's next end of a scheme, by Crawford's unit curve.
 *
 * The norm stands for a practised crew, so the factor is 1 at the floor and above 1 before it.
 *
 * @param completedEnds ends of that scheme that the crew has finished, >= 0
 */
export function learningFactor(completedEnds: number, policy: LearningPolicy = DEFAULT_LEARNING): number {
  if (!(completedEnds >= 0)) throw new RangeError(`completedEnds must be >= 0, got ${completedEnds}`);
  const floor = Math.max(1, policy.floorAfterEnds);
  const unit = Math.min(Math.floor(completedEnds) + 1, floor);
  return crawfordUnit(unit, policy.rate) / crawfordUnit(floor, policy.rate);
}

/** Factor for a crew that has reported so many ends of a scheme done. */
export const practiceFactor = (reportedEnds: number, learning: CrewLearning): number =>
  learningFactor(reportedEnds + learning.endsBefore, learning);

function checkUnit(n: number): void {
  if (!Number.isInteger(n) || n < 1)
    throw new RangeError(`unit number must be a whole number >= 1, got ${n}`);
}
