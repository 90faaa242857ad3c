/** Purchases that cost less than the one in hand and could still carry all runs by their sum. */
import { type Assignment, alikeKinds, distinctKinds, type PackingProblem, stockAt } from "./packing";

export interface PurchaseExchange {
  /** Drum indices of bought drums to give up. */
  giveUp: number[];
  /** Kinds to buy instead, wherever they are delivered. */
  buy: number[];
}

/**
 * Up to two drums for up to two others, cheaper in price or, at one price, fewer. The least loaded drums of a kind are
 * given up. Most free length first: that one is the likeliest to work.
 */
export function cheaperPurchases(problem: PackingProblem, plan: Assignment): PurchaseExchange[] {
  const load = new Array<number>(problem.onHand.length + plan.bought.length).fill(0);
  for (const [run, drum] of plan.drumOf.entries()) if (drum >= 0) load[drum]! += problem.sizesCm[run]!;
  let free = 0;
  for (const [drum, cm] of load.entries()) free += stockAt(problem, plan.bought, drum).capacityCm - cm;

  const alike = alikeKinds(problem);
  const lightest = new Map<number, number[]>(); // per kind, least loaded first
  for (const [k, kind] of plan.bought.entries()) {
    const first = alike[kind]!;
    lightest.set(first, [...(lightest.get(first) ?? []), problem.onHand.length + k]);
  }
  for (const drums of lightest.values()) drums.sort((a, b) => load[a]! - load[b]! || a - b);

  const options: { exchange: PurchaseExchange; free: number; saves: number; fewer: number }[] = [];
  for (const out of upToTwo([...lightest.keys()])) {
    const giveUp: number[] = [];
    for (const kind of out) {
      const drum =
        lightest.get(kind)![
          giveUp.filter((d) => alike[plan.bought[d - problem.onHand.length]!] === kind).length
        ];
      if (drum !== undefined) giveUp.push(drum);
    }
    if (out.length === 0 || giveUp.length < out.length) continue;
    for (const buy of upToTwo(distinctKinds(problem))) {
      if (buy.some((kind) => out.includes(kind))) continue; // the same without the common drum is in the list
      const saves = total(problem, out, "priceMinor") - total(problem, buy, "priceMinor");
      const fewer = out.length - buy.length;
      const freeAfter = free - total(problem, out, "capacityCm") + total(problem, buy, "capacityCm");
      if (freeAfter < 0 || saves < 0 || (saves === 0 && fewer <= 0)) continue;
      options.push({ exchange: { giveUp, buy }, free: freeAfter, saves, fewer });
    }
  }
  options.sort((a, b) => b.free - a.free || b.saves - a.saves || b.fewer - a.fewer);
  return options.map(({ exchange }) => exchange);
}

function total(
  problem: PackingProblem,
  kinds: readonly number[],
  field: "priceMinor" | "capacityCm",
): number {
  return kinds.reduce((sum, kind) => sum + problem.kinds[kind]![field], 0);
}

/** Every multiset of at most two of the kinds. */
function upToTwo(kinds: readonly number[]): number[][] {
  const sets: number[][] = [[]];
  for (const [i, a] of kinds.entries()) {
    sets.push([a]);
    for (const b of kinds.slice(i)) sets.push([a, b]);
  }
  return sets;
}
