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
  /** Hops with a promise that were run. */
  promisedHops: number;
}

export function surenessOf({
  programme,
  allPromisesMetShare,
  hops,
}: Pick<RiskByName, "programme" | "allPromisesMetShare" | "hops">): Sureness {
  const shares = hops.flatMap((h) => h.promiseMetShare ?? []);
  return {
    p50On: programme?.p50On,
    p80On: programme?.p80On,
    allPromisesMetShare,
    unsureHops: shares.filter((share) => share < SURE_SHARE).length,
    promisedHops: shares.length,
  };
}

export interface PromiseChange {
  hopCode: string;
  /** Shares of runs, 0 to 1. */
  before: number;
  after: number;
  p80Before?: CalendarDate;
  p80After?: CalendarDate;
}

/** Hops whose promise is kept in noticeably fewer or more runs, the one that loses most first; hops that both plans ran. */
export function promiseChanges(
  before: Pick<RiskByName, "hops">,
  after: Pick<RiskByName, "hops">,
): PromiseChange[] {
  const was = new Map(before.hops.map((h) => [h.hopCode, h]));
  return after.hops
    .flatMap((now): PromiseChange[] => {
      const then = was.get(now.hopCode);
      if (then?.promiseMetShare === undefined || now.promiseMetShare === undefined) return [];
      if (Math.abs(now.promiseMetShare - then.promiseMetShare) < NOTICEABLE_SHARE) return [];
      return [
        {
          hopCode: now.hopCode,
          before: then.promiseMetShare,
          after: now.promiseMetShare,
          p80Before: then.p80On,
          p80After: now.p80On,
        },
      ];
    })
    .sort((a, b) => a.after - a.before - (b.after - b.before) || (a.hopCode < b.hopCode ? -1 : 1));
}
