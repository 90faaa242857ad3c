/** Of two cutting lists of one cable the one that leaves cuts where a list in force has them, unless the other serves better. */
import type { CutPolicy, CuttingPlan } from "@/lib/drums";
import { type CalendarDate, daysBetween } from "@/lib/time";

/**
 * Lists are printed days ahead, and each movement nets anew: a cut changes its drum only for something that counts. That
 * is fewer runs uncut, fewer runs or days late, a lower price of drums to buy, or scrap less by a length that would be
 * worth keeping. What remains of the cost (docs/methods/drums.md) is not worth a cut on another drum.
 *
 * @param steady the list that keeps every cut of the list in force that still serves
 * @param fresh  the list that keeps only those of the coming days
 */
export function steadierCuts(steady: CuttingPlan, fresh: CuttingPlan, policy: CutPolicy): CuttingPlan {
  if (isWorthMoving(steady, fresh, policy)) return fresh;
  const { newDrumLowerBound, newDrumPriceLowerBoundMinor } = fresh;
  // Bounds of lists that may move more hold for this one too, and do not hide what moving would save.
  return { ...steady, newDrumLowerBound, newDrumPriceLowerBoundMinor };
}

function isWorthMoving(steady: CuttingPlan, fresh: CuttingPlan, { minUsefulCm }: CutPolicy): boolean {
  const served = compare(servingOf(fresh), servingOf(steady));
  if (served !== 0) return served < 0;
  // Kits are planned on the day on which the cheaper list has their runs, too.
  if (makesLater(fresh, steady)) return false;
  const price = (fresh.newDrumPriceMinor ?? 0) - (steady.newDrumPriceMinor ?? 0);
  if (price !== 0) return price < 0;
  if (fresh.newDrumCount !== steady.newDrumCount) return fresh.newDrumCount < steady.newDrumCount;
  return steady.scrapCm - fresh.scrapCm >= minUsefulCm;
}

const lateDays = ({ run, availableOn }: CuttingPlan["late"][number]): number =>
  daysBetween(run.neededOn, availableOn);

const servingOf = (plan: CuttingPlan): number[] => [
  plan.uncut.length,
  plan.late.length,
  plan.late.reduce((sum, l) => sum + lateDays(l), 0),
];

const compare = (a: readonly number[], b: readonly number[]): number =>
  a.map((x, i) => x - b[i]!).find((d) => d !== 0) ?? 0;

/** Whether some run comes later, or not at all, that the other list has in time or sooner. */
function makesLater(plan: CuttingPlan, other: CuttingPlan): boolean {
  const comesOn = new Map(other.late.map((l) => [l.run.id, l.availableOn]));
  const isUncut = new Set(other.uncut.map((u) => u.run.id));
  const isLaterThan = (on: CalendarDate | undefined, at: CalendarDate) => on === undefined || at > on;
  return (
    plan.uncut.some((u) => !isUncut.has(u.run.id)) ||
    plan.late.some((l) => !isUncut.has(l.run.id) && isLaterThan(comesOn.get(l.run.id), l.availableOn))
  );
}
