/** Stock kept against chance, the level at which to reorder, and the figures both are fed with. */
import { type CalendarDate, daysBetween } from "@/lib/time";

/**
 * Safety stock against varying use at a fixed lead time: `z sigma sqrt(L)`.
 *
 * @param serviceLevel probability of no shortage in a lead time, 0.5 <= level < 1
 * @param useSd        standard deviation of the use per period, item's unit
 * @param leadTime     in the same periods
 */
export function safetyStock(serviceLevel: number, useSd: number, leadTime: number): number {
  return safetyStockBothVary(serviceLevel, { useMean: 0, useSd, leadTimeMean: leadTime, leadTimeSd: 0 });
}

export interface UseAndLeadTime {
  /** Per period. */
  useMean: number;
  useSd: number;
  /** In periods. */
  leadTimeMean: number;
  leadTimeSd: number;
}

/**
 * Safety stock when use and lead time both vary, independently: `z sqrt(L s_d^2 + d^2 s_L^2)`.
 * @throws RangeError on a service level outside [0.5, 1) or a negative figure
 */
export function safetyStockBothVary(serviceLevel: number, figures: UseAndLeadTime): number {
  if (!(serviceLevel >= 0.5 && serviceLevel < 1)) {
    throw new RangeError(`service level must be in [0.5, 1), got ${serviceLevel}`);
  }
  const { useMean, useSd, leadTimeMean, leadTimeSd } = figures;
  if (![useMean, useSd, leadTimeMean, leadTimeSd].every((figure) => figure >= 0)) {
    throw new RangeError(`use and lead time must be >= 0, got ${JSON.stringify(figures)}`);
  }
  const sd = Math.sqrt(leadTimeMean * useSd ** 2 + useMean ** 2 * leadTimeSd ** 2);
  return normalQuantile(serviceLevel) * sd;
}

/** Order when on hand + on order falls to this: mean use over the mean lead time, plus safety stock. */
export function reorderPoint(serviceLevel: number, figures: UseAndLeadTime): number {
  return figures.useMean * figures.leadTimeMean + safetyStockBothVary(serviceLevel, figures);
}

/** Mean and sample standard deviation of the use per period; the deviation of fewer than two periods is 0. */
export function meanAndSd(usePerPeriod: readonly number[]): { mean: number; sd: number } {
  const n = usePerPeriod.length;
  if (n === 0) return { mean: 0, sd: 0 };
  const mean = usePerPeriod.reduce((sum, use) => sum + use, 0) / n;
  const squares = usePerPeriod.reduce((sum, use) => sum + (use - mean) ** 2, 0);
  return { mean, sd: n < 2 ? 0 : Math.sqrt(squares / (n - 1)) };
}

export interface Delivery {
  /** Day on which the order went out; undefined = not known, and nothing is said of the lead time. */
  orderedOn?: CalendarDate;
  promisedOn?: CalendarDate;
  receivedOn: CalendarDate;
}

export interface LeadTimeStatistics {
  /** Deliveries whose lead time is known. */
  count: number;
  meanDays: number;
  sdDays: number;
  /** Deliveries with a promised date. */
  promised: number;
  /** Of these: share that came after it, 0..1, and by how many days on average. */
  lateShare: number;
  meanDaysLate: number;
}

/** What deliveries say about a supplier's lead time: feeds `safetyStockBothVary`. */
export function leadTimeStatistics(deliveries: readonly Delivery[]): LeadTimeStatistics {
  const leads = deliveries.flatMap((d) => (d.orderedOn ? daysBetween(d.orderedOn, d.receivedOn) : []));
  const days = meanAndSd(leads);
  const promised = deliveries.filter((d) => d.promisedOn !== undefined);
  const late = promised.map((d) => daysBetween(d.promisedOn!, d.receivedOn)).filter((by) => by > 0);
  return {
    count: leads.length,
    meanDays: days.mean,
    sdDays: days.sd,
    promised: promised.length,
    lateShare: promised.length === 0 ? 0 : late.length / promised.length,
    meanDaysLate: meanAndSd(late).mean,
  };
}

/**
 * The standard normal deviate below which the share `p` lies. Relative error about 1e-16.
 *
 * @throws RangeError unless 0 < p < 1
 * Source: Wichura 1988, Applied Statistics 37, algorithm AS 241 (PPND16), coefficients from memory, rounded to doubles;
 * the tests hold it
 * against the normal distribution itself.
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`p must be in (0, 1), got ${p}`);
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(CENTRE_TOP, r)) / polynomial(CENTRE_BOTTOM, r);
  }
  const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  const z =
    r <= 5
      ? polynomial(MIDDLE_TOP, r - 1.6) / polynomial(MIDDLE_BOTTOM, r - 1.6)
      : polynomial(TAIL_TOP, r - 5) / polynomial(TAIL_BOTTOM, r - 5);
  return q < 0 ? -z : z;
}

/** Coefficients from the constant upwards. */
function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, c) => sum * x + c, 0);
}

const CENTRE_TOP = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987,
  67265.7709270087, 33430.57558358813, 2509.0809287301227,
];
const CENTRE_BOTTOM = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271,
  28729.085735721943, 5226.495278852854,
];
const MIDDLE_TOP = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
  0.2417807251774506, 0.022723844989269184, 0.0007745450142783414,
];
const MIDDLE_BOTTOM = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
  0.0005475938084995345, 1.0507500716444169e-9,
];
const TAIL_TOP = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
  0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7,
];
const TAIL_BOTTOM = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133,
  1.8463183175100548e-5, 1.421511758316446e-7, 2.0442631033899397e-15,
];
