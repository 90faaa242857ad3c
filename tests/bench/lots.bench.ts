/**
 * Lot sizing of many items: 5,000 items over 52 weeks, by each rule that weighs costs. Made-up needs, seeded.
 *
 *   npx tsx tests/bench/lots.bench.ts
 */
import { loadavg } from "node:os";
import { Random } from "@/lib/random";
import { priceBreakLots, silverMeal, wagnerWhitin } from "@/lib/stock";

const ITEMS = 5_000;
const WEEKS = 52;

const random = new Random("lots");
const items = Array.from({ length: ITEMS }, () => ({
  // A third of the weeks without a need, as with material of a rollout.
  demand: Array.from({ length: WEEKS }, () => (random.below(3) === 0 ? 0 : random.below(40))),
  orderCost: 20 + random.below(200),
  holding: (1 + random.below(20)) / 10,
  shelfLifeWeeks: random.below(4) === 0 ? 4 + random.below(12) : Number.POSITIVE_INFINITY,
}));
const breaksOf = (price: number) => [
  { fromQuantity: 1, price },
  { fromQuantity: 50, price: 0.95 * price },
  { fromQuantity: 200, price: 0.9 * price },
];

console.log(
  `load ${loadavg()[0]!.toFixed(1)}; ${ITEMS} items x ${WEEKS} weeks, CPU ms, first time and again`,
);
measure("Silver-Meal", (i) => silverMeal(i.demand, i.orderCost, i.holding, i.shelfLifeWeeks).length);
measure("Wagner-Whitin", (i) => wagnerWhitin(i.demand, i.orderCost, i.holding, i.shelfLifeWeeks).lots.length);
measure("price breaks, 3 prices", (i) => {
  const costs = { orderCost: i.orderCost, holdingPerDay: i.holding, breaks: breaksOf(30), step: 1 };
  return priceBreakLots(i.demand, costs, i.shelfLifeWeeks).lots.length;
});

function measure(name: string, lotsOf: (item: (typeof items)[number]) => number): void {
  const once = () => {
    const before = process.cpuUsage();
    const lots = items.reduce((sum, item) => sum + lotsOf(item), 0);
    const { user, system } = process.cpuUsage(before);
    return { lots, millis: (user + system) / 1000 };
  };
  const [first, again] = [once(), once()];
  console.log([name, `${first.lots} lots`, first.millis.toFixed(0), again.millis.toFixed(0)].join("\t"));
}
