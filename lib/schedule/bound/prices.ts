/** What a minute of work takes and costs at least at a place, on the most generous crew-day of the plan. */
import type { Model } from "../model";
import type { Ways } from "./ways";

/** Per place, for crews that may sleep out so many nights in a row. */
export interface PlacePrices {
  /** Share of a crew-day that a minute of work takes. */
  shareOfDay: Float64Array;
  /** What it costs: its share of the day, of the way there and back, of nights and overtime. */
  price: Float64Array;
}

/**
 * A crew goes out, stays for k days, at most one more than it may sleep out, and comes home. Let p be the place
 * farthest out that it works at, R(p) minutes and T(p) in cost there and back. The work of the k days fits beside R(p),
 * so the shares work(v) / (day - R(v) / k) add up to at most k; and it pays k days, T(p) and k - 1 nights. Longer trips
 * take the smaller share; which is cheaper depends on the price of a night.
 */
export function placePrices(m: Model, ways: Ways, nights: number): PlacePrices {
  const w = m.problem.weights;
  const { shiftMin, overtimeMin } = longestDay(m);
  const longest = Math.min(nights, m.dayCount) + 1;
  // The cost of a day over its minutes changes evenly with overtime: its least is at none or at all of it.
  const perMin = (dayCost: number, awayMin: number) =>
    Math.min(
      shiftMin > awayMin ? dayCost / (shiftMin - awayMin) : Number.POSITIVE_INFINITY,
      shiftMin + overtimeMin > awayMin
        ? (dayCost + w.overtimeMin * overtimeMin) / (shiftMin + overtimeMin - awayMin)
        : Number.POSITIVE_INFINITY,
    );
  const price = ways.cost.map((way, p) => {
    let least = Number.POSITIVE_INFINITY;
    for (let k = 1; k <= longest; k++)
      least = Math.min(least, perMin(w.crewDay + (way + (k - 1) * w.nightAway) / k, ways.awayMin[p]! / k));
    return least;
  });
  const shareOfDay = ways.awayMin.map((away) => {
    const left = shiftMin + overtimeMin - away / longest;
    return left > 0 ? 1 / left : Number.POSITIVE_INFINITY;
  });
  return { shareOfDay, price };
}

function longestDay(m: Model): { shiftMin: number; overtimeMin: number } {
  let shiftMin = 0;
  let withOvertime = 0;
  for (let at = 0; at < m.works.length; at++) {
    if (m.works[at] === 0) continue;
    shiftMin = Math.max(shiftMin, m.toMin[at]! - m.fromMin[at]!);
    withOvertime = Math.max(withOvertime, m.homeByMin[at]! - m.fromMin[at]!);
  }
  return { shiftMin, overtimeMin: Math.max(0, withOvertime - shiftMin) };
}
