/** From the master's relaxation to a whole plan: dives, the last step where it applies, whole numbers on the columns made. */
import type { Random } from "@/lib/random";
import { closeGap } from "./closeGap";
import { dive, priceOf, type WholePlan } from "./dive";
import type { LinearSolver, WholeLimits } from "./linearSolver";
import type { Master } from "./master";
import type { Pattern } from "./pricing";

export interface WholePlanOptions {
  /** Known from elsewhere: no whole plan pays less, in steps of price. */
  bound: number;
  /** Price of the plan in hand, in steps: only one below it is wanted. */
  below: number;
  solver: LinearSolver;
  random: Random;
  shouldStop: () => boolean;
}

export interface WholePlanFound {
  /** Undefined when the plan in hand was not beaten. */
  plan?: WholePlan;
  /** No whole plan pays less, in steps of price. */
  bound: number;
  /** No whole plan has fewer drums to buy. */
  drumsBound: number;
}

/** Dives before the heavier steps are tried, and before they are tried again. */
const DIVES_A_ROUND = 6;
/** How far the preferences of a dive are shaken, in times a pattern is cut; the first dive follows them as they are. */
const NOISE = 0.3;
/** Most seconds of a whole-numbered run on the columns made: for the last drums of a dive, for the whole list. */
const FINISH_SECONDS = 0.5;
const WHOLE_SECONDS = 3;
/** Rounds that end in such a run; later rounds are dives alone, from which something new may still come. */
const WHOLE_ROUNDS = 2;
/** Alternative worths that are mixed to tell more patterns apart. */
const MIXED_WORTHS = 10;

/** Ends at the bound, or when it is told to stop. */
export function bestWholePlan(master: Master, options: WholePlanOptions): WholePlanFound {
  const { random, shouldStop } = options;
  const root = master.solve({ enough: 0, wanted: Number.POSITIVE_INFINITY, shouldStop });
  const found: WholePlanFound = {
    bound: Math.max(root.bound, options.bound),
    drumsBound: root.drumsBound,
  };
  let below = options.below;
  const accept = (plan: WholePlan | undefined) => {
    if (!plan || plan.price >= below) return;
    found.plan = plan;
    below = plan.price;
  };
  const areAlike = master.classes.length === 1 && !Number.isFinite(master.classes[0]!.supply);
  // Where drums differ, the price of the last few is a knapsack of its own, which dives are poor at.
  const finish = areAlike
    ? undefined
    : (enough: number, most: number) => wholeOf(master, { seconds: FINISH_SECONDS, enough, most });
  let isOpen = areAlike;
  for (let round = 0; below > found.bound && !shouldStop(); round++) {
    for (let k = 0; k < DIVES_A_ROUND && below > found.bound && !shouldStop(); k++) {
      const noise = round + k === 0 ? 0 : NOISE;
      accept(dive(master, { bound: found.bound, below, noise, random, shouldStop, finish }));
    }
    if (isOpen && below > found.bound && !shouldStop()) {
      const closed = lastStep(master, found.bound, options);
      if (closed.kind === "plan") accept(closed.plan);
      if (closed.kind === "none") {
        found.bound += master.classes[0]!.price;
        found.drumsBound = found.bound / master.classes[0]!.price;
      }
      isOpen = closed.kind === "none";
    }
    if (round >= WHOLE_ROUNDS || below <= found.bound || shouldStop()) continue;
    master.restrict(master.whole);
    const drums = wholeOf(master, { seconds: WHOLE_SECONDS, enough: found.bound, most: below - 1 });
    if (drums) accept({ price: priceOf(master, drums), drums });
  }
  return found;
}

type LastStep = { kind: "plan"; plan: WholePlan } | { kind: "none" } | { kind: "open" };

/** Only where every drum is alike: one kind to buy and nothing on hand. */
function lastStep(master: Master, bound: number, { solver, random, shouldStop }: WholePlanOptions): LastStep {
  const only = master.classes[0]!;
  master.restrict(master.whole);
  const sharp = master.sharpen(MIXED_WORTHS, random, shouldStop);
  if (!sharp) return { kind: "open" };
  const { worth, need, greatest } = sharp;
  const closed = closeGap(
    master.sizes,
    only.capacity,
    bound / only.price,
    { worth, need, greatest: greatest[0]! },
    solver,
    shouldStop,
  );
  if (closed.kind !== "plan") return closed;
  const drums = closed.drums.map((pattern) => ({ ...pattern, drumClass: 0 }));
  return { kind: "plan", plan: { price: priceOf(master, drums), drums } };
}

/** Drums for what the master is restricted to, from the columns made, at a price of `most` or less. */
function wholeOf(master: Master, limits: WholeLimits): Pattern[] | undefined {
  const columns = master.solveWhole(limits);
  if (!columns) return undefined;
  const drums = [...columns.entries()].flatMap(([column, times]) =>
    Array.from({ length: Math.round(times) }, () => master.patterns[column]!),
  );
  return priceOf(master, drums) <= limits.most ? drums : undefined;
}
