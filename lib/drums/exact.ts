/** Which run is cut from which drum, with the purchase at or next to the least: column generation over the drum classes. */
import { Random } from "@/lib/random";
import { type Assigned, type AssignOptions, assignRuns, bringHome, deliverWhereWanted } from "./assign";
import { firstPlans } from "./construct";
import { Effort } from "./effort";
import { Layout } from "./layout";
import type { LinearSolver } from "./linearSolver";
import { Master, type PricedClass } from "./master";
import {
  type Assignment,
  alikeKinds,
  compareCost,
  costOf,
  dayFor,
  type PackingProblem,
  type Stock,
  stockAt,
} from "./packing";
import type { Pattern, RunSize } from "./pricing";
import { tidy } from "./tidy";
import { bestWholePlan } from "./wholePlan";

export interface ExactOptions extends AssignOptions {
  solver: LinearSolver;
}

/** Work of the quick method before, and of the small moves after; candidate moves. */
const QUICK_EFFORT = 600_000;
const TIDY_EFFORT = 1_200_000;
/** Above this many cells the table of the pricing makes a pass slow; then lengths are taken in coarser steps, to this many. */
const FINE_CELLS = 12_000_000;
const COARSE_CELLS = 1_000_000;

/**
 * The quick method first; where its purchase is not proved the least, columns. Lateness stays as the quick method has
 * it: a run that it cuts late may be cut as late, a run that it leaves uncut stays so. Then the bound of the columns
 * holds for that choice of late runs only, so the quick method's bound stands; without late and uncut runs the
 * stronger of the two does. The small moves put scrap, part-used drums and split ends right in the end.
 *
 * Ends when the purchase is proved the least or `shouldStop` says so: without it, a hard case may take long.
 */
export function assignExactly(problem: PackingProblem, options: ExactOptions): Assigned {
  const random = options.random ?? new Random("drums");
  const shouldStop = options.shouldStop ?? (() => false);
  const quick = assignRuns(problem, {
    ...options,
    effort: Math.min(options.effort ?? QUICK_EFFORT, QUICK_EFFORT),
  });
  const cost = costOf(problem, quick.assignment);
  const model = cost[3] <= quick.bound.priceMinor ? undefined : modelOf(problem, quick.assignment);
  if (!model) return quick;

  const { sizes, classes, priceStep } = model;
  const master = new Master(sizes, classes, options.solver);
  try {
    for (const plan of [quick.assignment, ...firstPlans(problem)])
      master.add(patternsOf(problem, model, plan));
    const found = bestWholePlan(master, {
      bound: Math.ceil(quick.bound.priceMinor / priceStep),
      below: Math.round(cost[3] / priceStep),
      solver: options.solver,
      random,
      shouldStop,
    });
    const bound = { ...quick.bound };
    if (model.isExact && cost[0] === 0 && cost[1] === 0) {
      bound.priceMinor = Math.max(bound.priceMinor, found.bound * priceStep);
      bound.drums = Math.max(bound.drums, found.drumsBound);
    }
    if (!found.plan) return { assignment: quick.assignment, bound };
    const bought = assignmentOf(problem, model, quick.assignment, found.plan.drums);
    const whole = deliverWhereWanted(problem, bought);
    const home = bringHome(problem, whole, new Effort(QUICK_EFFORT, shouldStop), random);
    const layout = Layout.from(problem, home);
    tidy(layout, new Effort(TIDY_EFFORT, shouldStop));
    const tidied = layout.assignment();
    const isBetter = compareCost(costOf(problem, tidied), cost) < 0;
    return { assignment: isBetter ? tidied : quick.assignment, bound };
  } finally {
    master.dispose();
  }
}

/** The problem as the master has it, with the way back. */
interface Model {
  sizes: RunSize[];
  /** Runs of each size. */
  runs: number[][];
  classes: PricedClass[];
  /** Drums on hand of each class, or its kinds: those that are bought for nothing better are there to be recognised. */
  drums: ({ onHand: number[] } | { kinds: number[] })[];
  priceStep: number;
  /** Else lengths are rounded up to coarser steps: its plans hold, its bound does not. */
  isExact: boolean;
}

function modelOf(problem: PackingProblem, quick: Assignment): Model | undefined {
  const prices = problem.kinds.map((kind) => kind.priceMinor);
  if (prices.length === 0 || !prices.every((price) => Number.isSafeInteger(price) && price > 0))
    return undefined;
  const stocks = [...problem.kinds, ...problem.onHand];
  const places = problem.places ?? [];
  /** Days on which something can be at the place of a run. */
  const daysAt = new Map<number, number[]>();
  const daysFor = (run: number): number[] => {
    const place = places[run] ?? -1;
    const known = daysAt.get(place) ?? stocks.map((stock) => dayFor(problem, stock, run));
    daysAt.set(place, known);
    return known;
  };
  /** The last day on which a drum may come that serves the run no later than the quick plan does. */
  const lastDay = (run: number): number => {
    const drum = quick.drumOf[run]!;
    const latest = Math.max(
      problem.needDays[run]!,
      dayFor(problem, stockAt(problem, quick.bought, drum), run),
    );
    return daysFor(run).reduce(
      (last, day) => (day <= latest && day > last ? day : last),
      Number.NEGATIVE_INFINITY,
    );
  };
  const runs = [...problem.sizesCm.keys()].filter((run) => quick.drumOf[run]! >= 0);
  const dayOf = new Map(runs.map((run) => [run, lastDay(run)]));
  const longestCm = stocks.reduce((most, s) => Math.max(most, s.capacityCm), 0);
  const sizesBy = (stepCm: number) =>
    groupRuns(runs, (run) => ({
      day: dayOf.get(run)!,
      place: places[run] ?? -1,
      length: Math.ceil(problem.sizesCm[run]! / stepCm),
    }));
  const exactStep = runs.reduce((divisor, run) => gcd(divisor, problem.sizesCm[run]!), 0);
  let step = exactStep;
  let sorted = sizesBy(step);
  const pieces = sorted.reduce((count, group) => count + Math.ceil(Math.log2(group.runs.length + 1)), 0);
  const passes = new Set(stocks.map((stock) => stock.place)).size;
  if (passes * pieces * (longestCm / step) > FINE_CELLS) {
    step = Math.max(step, Math.ceil((runs.length * longestCm) / COARSE_CELLS));
    sorted = sizesBy(step);
  }
  const priceStep = prices.reduce(gcd, 0);
  const sizes = sorted.map(({ length, runs: own }) => ({ length, demand: own.length }));
  const reachOf = reaches(problem, sorted);

  const classes: PricedClass[] = [];
  const drums: Model["drums"] = [];
  for (const kinds of kindsByReach(problem, sorted)) {
    const stock = problem.kinds[kinds[0]!]!;
    classes.push({
      capacity: Math.floor(stock.capacityCm / step),
      ...reachOf(stock),
      supply: Number.POSITIVE_INFINITY,
      price: stock.priceMinor / priceStep,
    });
    drums.push({ kinds });
  }
  const alike = new Map<string, number>();
  for (const [drum, stock] of problem.onHand.entries()) {
    const capacity = Math.floor(stock.capacityCm / step);
    const { sizeCount, reach } = reachOf(stock);
    const canGive = (_: unknown, k: number) => sizes[reach?.[k] ?? k]!.length <= capacity;
    if (!sizes.slice(0, sizeCount).some(canGive)) continue;
    const key = `${capacity}:${stock.availableDay}:${stock.isUncut}:${stock.place ?? ""}`;
    const known = alike.get(key);
    if (known === undefined) {
      alike.set(key, classes.length);
      classes.push({ capacity, sizeCount, reach, supply: 1, price: 0 });
      drums.push({ onHand: [drum] });
    } else {
      classes[known]!.supply++;
      (drums[known] as { onHand: number[] }).onHand.push(drum);
    }
  }
  return {
    sizes,
    runs: sorted.map((group) => group.runs),
    classes,
    drums,
    priceStep,
    isExact: step === exactStep,
  };
}

interface RunGroup {
  /** Last day on which it may be there. */
  day: number;
  /** Place that wants it; -1 = any. */
  place: number;
  length: number;
  runs: number[];
}

/**
 * Kinds as the purchase sees them: of those that differ by their place alone, one that reaches no size that another
 * does not is left to that other, which comes first. Mostly, every place reaches every size in time, and one is left.
 */
function kindsByReach(problem: PackingProblem, sorted: readonly RunGroup[]): number[][] {
  const alike = alikeKinds(problem);
  const reached = problem.kinds.map(
    (stock) =>
      new Set(
        [...sorted.keys()].filter(
          (size) => dayFor(problem, stock, sorted[size]!.runs[0]!) <= sorted[size]!.day,
        ),
      ),
  );
  const groups: number[][] = [];
  const widestFirst = [...problem.kinds.keys()].sort((a, b) => reached[b]!.size - reached[a]!.size || a - b);
  for (const kind of widestFirst) {
    const wider = groups.find(
      ([first]) =>
        alike[first!] === alike[kind] && [...reached[kind]!].every((size) => reached[first!]!.has(size)),
    );
    if (wider) wider.push(kind);
    else groups.push([kind]);
  }
  return groups.sort((a, b) => a[0]! - b[0]!);
}

/**
 * What a drum may give: the sizes in the order in which its place reaches them, the latest first, and how many of them
 * it reaches in time. Places that reach them as given need no order of their own.
 */
function reaches(
  problem: PackingProblem,
  sorted: readonly RunGroup[],
): (stock: Stock) => { sizeCount: number; reach?: readonly number[] } {
  const known = new Map<string, readonly number[] | undefined>();
  return (stock) => {
    const lastDay = ({ day, place, runs }: RunGroup) =>
      stock.daysOver && place >= 0 ? day - (dayFor(problem, stock, runs[0]!) - stock.availableDay) : day;
    const sizeCount = sorted.filter((group) => lastDay(group) >= stock.availableDay).length;
    if (!stock.daysOver) return { sizeCount };
    const key = stock.daysOver.join();
    if (!known.has(key)) {
      const days = sorted.map(lastDay);
      const order = [...sorted.keys()].sort((a, b) => (days[a] === days[b] ? a - b : days[b]! - days[a]!));
      known.set(key, order.every((size, k) => size === k) ? undefined : order);
    }
    return { sizeCount, reach: known.get(key) };
  };
}

/** Runs that are alike together: the latest day first, then the longest. */
function groupRuns(runs: readonly number[], of: (run: number) => Omit<RunGroup, "runs">): RunGroup[] {
  const groups = new Map<string, RunGroup>();
  for (const run of runs) {
    const { day, place, length } = of(run);
    const key = `${day}:${place}:${length}`;
    const group = groups.get(key) ?? { day, place, length, runs: [] };
    group.runs.push(run);
    groups.set(key, group);
  }
  return [...groups.values()].sort((a, b) => b.day - a.day || b.length - a.length || a.place - b.place);
}

/** The drums of a plan as patterns, to start the master from. */
function patternsOf(problem: PackingProblem, model: Model, plan: Assignment): Pattern[] {
  const sizeOf = new Map(model.runs.flatMap((runs, size) => runs.map((run) => [run, size] as const)));
  const classOf = (drum: number) =>
    model.drums.findIndex((d) =>
      "onHand" in d
        ? d.onHand.includes(drum)
        : d.kinds.includes(plan.bought[drum - problem.onHand.length] ?? -1),
    );
  const counts = new Map<number, Map<number, number>>();
  for (const [run, drum] of plan.drumOf.entries()) {
    if (drum < 0) continue;
    const own = counts.get(drum) ?? new Map<number, number>();
    const size = sizeOf.get(run);
    if (size === undefined) continue;
    counts.set(drum, own.set(size, (own.get(size) ?? 0) + 1));
  }
  return [...counts].flatMap(([drum, own]) => {
    const sizes = [...own.keys()].sort((a, b) => a - b);
    const drumClass = classOf(drum);
    const { sizeCount, capacity, reach } = model.classes[drumClass]!;
    const reached = reach && new Set(reach.slice(0, sizeCount));
    const length = sizes.reduce((sum, size) => sum + own.get(size)! * model.sizes[size]!.length, 0);
    const isReached = (size: number) => (reached ? reached.has(size) : size < sizeCount);
    const holds = sizes.every(isReached) && length <= capacity;
    return holds ? [{ drumClass, sizes, counts: sizes.map((size) => own.get(size)!) }] : [];
  });
}

function assignmentOf(
  problem: PackingProblem,
  model: Model,
  quick: Assignment,
  drums: readonly Pattern[],
): Assignment {
  const drumOf = quick.drumOf.map(() => -1);
  const bought: number[] = [];
  const waiting = model.runs.map((runs) => [...runs]);
  const unused = model.drums.map((d) => ("onHand" in d ? [...d.onHand] : []));
  for (const { drumClass, sizes, counts } of drums) {
    // What two patterns cover is cut once.
    const runs = sizes.flatMap((size, i) => waiting[size]!.splice(0, counts[i]!));
    if (runs.length === 0) continue;
    const of = model.drums[drumClass]!;
    const drum =
      "onHand" in of ? unused[drumClass]!.shift()! : problem.onHand.length + bought.push(of.kinds[0]!) - 1;
    for (const run of runs) drumOf[run] = drum;
  }
  return { drumOf, bought };
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
