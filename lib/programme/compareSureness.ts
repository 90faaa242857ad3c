/** Two simulated plans side by side: how sure their finishes are, and which promises become surer or less sure. */
import type { CalendarDate } from "@/lib/time";
import type { RiskByName } from "./planRisk";

/** A promise that is kept in fewer runs than this is at risk: P80 lies after it. */
const SURE_SHARE = 0.8;

/** Shares of 2,000 runs differ by chance by some 0.02; a change from here on is one of the plan. Our own choice. */
export const NOTICEABLE_SHARE = 0.05;

export interface Sureness {
  /** undefined = after the last day that the runs were followed to. */
  p50On?: CalendarDate;
  p80On?: CalendarDate;
  allPromisesMetShare?: number;
  /** Hops whose promise is kept in fewer than four runs of five. */
  unsureHops: number;
  /** Hops with a promise that were run, or that missed it already. */
  promisedHops: number;
}

/** @param missed hops whose promise has passed by now: kept in no run, whether they were run or not */
export function surenessOf(
  { programme, allPromisesMetShare, hops }: Pick<RiskByName, "programme" | "allPromisesMetShare" | "hops">,
  missed: ReadonlySet<string> = new Set(),
): Sureness {
  const shares = [
    ...hops.filter((h) => !missed.has(h.hopCode)).flatMap((h) => h.promiseMetShare ?? []),
    ...[...missed].map(() => 0),
  ];
  return {
    p50On: programme?.p50On,
    p80On: programme?.p80On,
    allPromisesMetShare: missed.size > 0 ? 0 : allPromisesMetShare,
    unsureHops: shares.filter((share) => share < SURE_SHARE).length,
    promisedHops: shares.length,
  };
}

export interface PromiseChange {
  hopCode: string;
  /** Shares of runs, 0 to 1; undefined = that plan does not finish the hop. */
  before?: number;
  after?: number;
  p80Before?: CalendarDate;
  p80After?: CalendarDate;
}

/**
 * Hops whose promise is kept in noticeably fewer or more runs, and unsure ones that only one of the plans finishes.
 * The one that loses most first; a promise that a plan does not finish counts as kept in no run.
 */
export function promiseChanges(
  before: Pick<RiskByName, "hops">,
  after: Pick<RiskByName, "hops">,
): PromiseChange[] {
  const was = promisedByCode(before);
  const is = promisedByCode(after);
  return [...new Set([...was.keys(), ...is.keys()])]
    .map((hopCode): PromiseChange => {
      const [then, now] = [was.get(hopCode), is.get(hopCode)];
      return {
        hopCode,
        before: then?.promiseMetShare,
        after: now?.promiseMetShare,
        p80Before: then?.p80On,
        p80After: now?.p80On,
      };
    })
    .filter((c) =>
      c.before === undefined || c.after === undefined
        ? (c.before ?? c.after ?? 1) < SURE_SHARE
        : Math.abs(c.after - c.before) >= NOTICEABLE_SHARE,
    )
    .sort((a, b) => gainOf(a) - gainOf(b) || (a.hopCode < b.hopCode ? -1 : 1));
}

const promisedByCode = ({ hops }: Pick<RiskByName, "hops">) =>
  new Map(hops.filter((h) => h.promiseMetShare !== undefined).map((h) => [h.hopCode, h]));

const gainOf = (c: PromiseChange): number => (c.after ?? 0) - (c.before ?? 0);
