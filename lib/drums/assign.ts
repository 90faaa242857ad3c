/** Which run is cut from which drum: the quick method (best fit, tight filling, improvement), within milliseconds. */
import { Random } from "@/lib/random";
import { type PurchaseBound, purchaseBound } from "./bounds";
import { firstPlans } from "./construct";
import { Effort } from "./effort";
import { Layout } from "./layout";
import { fitIn } from "./loose";
import { type Assignment, alikeKinds, compareCost, costOf, kindFor, type PackingProblem } from "./packing";
import { cheaperPurchases, type PurchaseExchange } from "./purchase";
import { tidy } from "./tidy";

export interface AssignOptions {
  random?: Random;
  /** Candidate moves looked at. */
  effort?: number;
  shouldStop?: () => boolean;
  /** A purchase known to be the least: the search for a cheaper one ends there. Default: the bound found here. */
  target?: PurchaseBound;
}

export interface Assigned {
  assignment: Assignment;
  bound: PurchaseBound;
}

export const DEFAULT_EFFORT = 600_000;

/**
 * The best assignment found, and the least purchase of any. Deterministic for problem, effort and random stream.
 * Every term of the cost is tried in its order: runs left uncut, runs late, price, then scrap, part-used drums and
 * split ends by small moves.
 */
export function assignRuns(problem: PackingProblem, options: AssignOptions = {}): Assigned {
  const random = options.random ?? new Random("drums");
  const effort = new Effort(options.effort ?? DEFAULT_EFFORT, options.shouldStop);
  const delivered = (plan: Assignment) => deliverWhereWanted(problem, plan);
  let best = cheapestOf(problem, firstPlans(problem).map(delivered));

  best = rescue(problem, best, isUncut, effort, random);
  best = rescue(problem, best, isLate, effort, random);
  const bound = options.target ?? purchaseBound(problem, costOf(problem, best)[1]);
  best = delivered(buyLess(problem, delivered(best), bound, effort, random));
  best = bringHome(problem, best, new Effort(HOME_EFFORT, options.shouldStop), random);

  const layout = Layout.from(problem, best);
  tidy(layout, new Effort(TIDY_EFFORT, options.shouldStop));
  const tidied = layout.assignment();
  if (compareCost(costOf(problem, tidied), costOf(problem, best)) < 0) best = tidied;
  return { assignment: best, bound };
}

const TIDY_EFFORT = 600_000;
const HOME_EFFORT = 600_000;
/** Effort of the first attempt at a purchase or a rescue; attempts that fail come back with twice as much. */
const FIRST_SLICE = 20_000;
/** Runs that are tried to come home as one: more hardly ever all fit, and looking at their pairs takes their square. */
const MOST_AT_ONCE = 40;
/** However late: but not where nothing is ever sent (Infinity). */
const ANY_DAY = Number.MAX_SAFE_INTEGER;

function cheapestOf(problem: PackingProblem, plans: readonly Assignment[]): Assignment {
  return plans.reduce((a, b) => (compareCost(costOf(problem, b), costOf(problem, a)) < 0 ? b : a));
}

const isUncut = (layout: Layout, run: number): boolean => layout.drumOf[run]! < 0;
const isLate = (layout: Layout, run: number): boolean =>
  layout.drumOf[run]! >= 0 && layout.lateDays(run, layout.drumOf[run]!) > 0;

/** Tries to bring in all runs that `isWrong` names, then each alone, without making any other later than it is. */
function rescue(
  problem: PackingProblem,
  start: Assignment,
  isWrong: (layout: Layout, run: number) => boolean,
  effort: Effort,
  random: Random,
): Assignment {
  let best = start;
  const atStart = Layout.from(problem, start);
  const wrong = [...problem.sizesCm.keys()].filter((run) => isWrong(atStart, run));
  const attempts = wrong.length > 1 ? [wrong, ...wrong.map((run) => [run])] : wrong.map((run) => [run]);
  for (const group of attempts) {
    const layout = Layout.from(problem, best);
    if (!group.some((run) => isWrong(layout, run))) continue;
    const latest = latestDays(layout);
    for (const run of group) {
      latest[run] = layout.drumOf[run]! < 0 ? ANY_DAY : problem.needDays[run]!;
      layout.take(run);
    }
    const mayLie = (run: number, drum: number) => layout.dayFor(run, drum) <= latest[run]!;
    if (fitIn(layout, group, mayLie, effort.slice(FIRST_SLICE), random))
      best = cheapestOf(problem, [best, layout.assignment()]);
    if (effort.left <= 0) break;
  }
  return best;
}

/** Each drum to buy goes where its runs want it: fewest late, then fewest sent. */
export function deliverWhereWanted(problem: PackingProblem, plan: Assignment): Assignment {
  const runs = plan.bought.map((): number[] => []);
  for (const [run, drum] of plan.drumOf.entries())
    if (drum >= problem.onHand.length) runs[drum - problem.onHand.length]!.push(run);
  return { ...plan, bought: plan.bought.map((kind, k) => kindFor(problem, kind, runs[k]!)) };
}

/**
 * Tries to cut runs that come from another place at the place that wants them, on the drums there are: all of them
 * where they are not too many, then each alone. No other run is made later, nor sent that is not.
 */
export function bringHome(
  problem: PackingProblem,
  start: Assignment,
  effort: Effort,
  random: Random,
): Assignment {
  if (!problem.places) return start;
  let best = start;
  const isAway = (layout: Layout, run: number) =>
    layout.drumOf[run]! >= 0 && layout.isSent(run, layout.drumOf[run]!);
  const atStart = Layout.from(problem, start);
  const away = [...problem.sizesCm.keys()].filter((run) => isAway(atStart, run));
  const alone = away.map((run) => [run]);
  for (const group of away.length > 1 && away.length <= MOST_AT_ONCE ? [away, ...alone] : alone) {
    const layout = Layout.from(problem, best);
    const loose = group.filter((run) => isAway(layout, run));
    if (loose.length === 0) continue;
    const latest = latestDays(layout);
    const mayBeSent = problem.sizesCm.map((_, run) => isAway(layout, run) && !loose.includes(run));
    for (const run of loose) layout.take(run);
    const mayLie = (run: number, drum: number) =>
      layout.dayFor(run, drum) <= latest[run]! && (mayBeSent[run]! || !layout.isSent(run, drum));
    if (fitIn(layout, loose, mayLie, effort.slice(FIRST_SLICE), random))
      best = cheapestOf(problem, [best, layout.assignment()]);
    if (effort.left <= 0) break;
  }
  return best;
}

/** Per run the last day on which its drum may become available without making it later than it is. */
function latestDays(layout: Layout): number[] {
  return layout.problem.needDays.map((need, run) => {
    const drum = layout.drumOf[run]!;
    return drum < 0 ? need : Math.max(need, layout.dayFor(run, drum));
  });
}

/** Tries cheaper purchases one after another until the bound is met or the effort is spent. */
function buyLess(
  problem: PackingProblem,
  start: Assignment,
  bound: PurchaseBound,
  effort: Effort,
  random: Random,
): Assignment {
  let best = start;
  let slice = FIRST_SLICE;
  while (effort.left > 0) {
    const cost = costOf(problem, best);
    if (cost[3] <= bound.priceMinor && cost[4] <= bound.drums) return best;
    const exchanges = cheaperPurchases(problem, best);
    if (exchanges.length === 0) return best;
    let hasImproved = false;
    for (const exchange of exchanges) {
      const next = exchanged(problem, best, exchange, () => effort.slice(slice), random);
      if (effort.left <= 0 && next === best) break;
      if (next === best) continue;
      best = next;
      hasImproved = true;
      break;
    }
    slice = hasImproved ? FIRST_SLICE : slice * 2;
  }
  return best;
}

/** The plan with other drums bought, delivered to one set of places after another; as it was when none does better. */
function exchanged(
  problem: PackingProblem,
  plan: Assignment,
  { giveUp, buy }: PurchaseExchange,
  slice: () => Effort,
  random: Random,
): Assignment {
  const given = new Set(giveUp);
  const freed = [...plan.drumOf.keys()].filter((run) => given.has(plan.drumOf[run]!));
  for (const kinds of deliveries(problem, buy, freed)) {
    const effort = slice();
    if (effort.left <= 0) break;
    const layout = Layout.from(problem, plan);
    const latest = latestDays(layout);
    const loose = giveUp.flatMap((drum) => layout.giveUp(drum));
    for (const kind of kinds) layout.buy(kind);
    const mayLie = (run: number, drum: number) => layout.dayFor(run, drum) <= latest[run]!;
    if (!fitIn(layout, loose, mayLie, effort, random)) continue;
    const next = cheapestOf(problem, [plan, layout.assignment()]);
    if (next !== plan) return next;
  }
  return plan;
}

/** Places for drums to buy: first where the runs that wait for them are served best, then every other choice. */
function deliveries(problem: PackingProblem, buy: readonly number[], runs: readonly number[]): number[][] {
  const first = buy.map((kind) => kindFor(problem, kind, runs));
  if (!problem.places) return [first];
  const alike = alikeKinds(problem);
  const variants = (kind: number) => [...alike.keys()].filter((other) => alike[other] === alike[kind]);
  const all = buy.reduce<number[][]>(
    (chosen, kind) => chosen.flatMap((kinds) => variants(kind).map((other) => [...kinds, other])),
    [[]],
  );
  return [first, ...all.filter((kinds) => kinds.join() !== first.join())];
}
