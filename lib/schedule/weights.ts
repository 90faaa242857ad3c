/**
 * The published weighted sum. One unit is about what a crew costs in a minute and a half on the road: only ratios
 * matter. They follow the order of the objective (docs/methods/schedule.md, "Cost"): a term of an earlier
 * line outweighs any usual amount of the later ones. Common practice as to order, this project's choice as to size.
 */
import type { PlanCost, PlanWeights } from "./types";

export const DEFAULT_WEIGHTS: PlanWeights = {
  unplacedVisit: 200_000,
  lateHopDay: 5_000,
  unfinishedHop: 2_500,
  crewDay: 600,
  overtimeMin: 1,
  nightAway: 90,
  openEndDay: 25,
  travelKm: 0.5,
  travelMin: 0.3,
  movedVisit: 40,
  movedDay: 2,
  riskMin: 0.2,
  imbalanceMin: 0.01,
  finishDay: 60,
};

/** The total of the weighted sum; `cost.total` itself is not read. */
export function weightedTotal(cost: Omit<PlanCost, "total">, w: PlanWeights): number {
  return (
    w.unplacedVisit * cost.unplacedVisits +
    w.lateHopDay * cost.lateHopDays +
    w.unfinishedHop * cost.unfinishedHops +
    w.crewDay * cost.crewDays +
    w.overtimeMin * cost.overtimeMin +
    w.nightAway * cost.nightsAway +
    w.travelKm * cost.travelKm +
    w.travelMin * cost.travelMin +
    w.movedVisit * cost.movedVisits +
    w.movedDay * (cost.movedDays ?? 0) +
    w.imbalanceMin * cost.imbalanceMin +
    w.riskMin * cost.riskMin +
    w.openEndDay * cost.openEndDays +
    (w.finishDay ?? 0) * (cost.finishDays ?? 0)
  );
}
