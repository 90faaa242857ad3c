/**
 * From fractions to whole drums: diving. Patterns that the relaxation cuts once or more are taken as often as it says
 * in whole numbers; then the one it likes best is taken once, the rest is solved again with new columns, and so on until
 * nothing is left. A dive ends early when what is left cannot end below the best plan known; then the last choices are
 * taken back and others tried, a few times, before the next dive starts from the top with the preferences shaken.
 */
import type { Random } from "@/lib/random";
import { fits, type Master, type MasterSolution, type Residual } from "./master";
import type { Pattern } from "./pricing";

/** A whole plan: drums, each with its pattern. */
export interface WholePlan {
  price: number;
  drums: readonly Pattern[];
}

export interface DiveOptions {
  /** No whole plan pays less, in steps of price. */
  bound: number;
  /** Only a plan below this is wanted. */
  below: number;
  /** Up to how much a pattern's preference is shaken, in times it is cut; 0 = not at all. */
  noise: number;
  random: Random;
  shouldStop: () => boolean;
  /** Asked once on the way down, when few drums are left: the rest at a price of `most` or less, if it finds one. */
  finish?: (enough: number, most: number) => readonly Pattern[] | undefined;
}

/** Choices tried at one place, and dead ends in all, before a dive is given up. */
const CHOICES = 2;
const DEAD_ENDS = 6;
/** Share of the room between bound and plan in hand that the relaxation may drift up before new columns are made. */
const DRIFT = 0.1;
/** Below this, in times, a pattern is not in the solution. */
const LEAST_TIMES = 1e-6;
/** Drums left, in the relaxation, when `finish` is asked. */
const FINISH_AT = 12;
/** One pattern more is taken at a time for each so many drums left: a long list goes down in as many steps as a short one. */
const DRUMS_A_CHOICE = 40;

/** One dive from the top. @returns a plan below `options.below`, or undefined */
export function dive(master: Master, options: DiveOptions): WholePlan | undefined {
  let deadEnds = 0;
  let hasAsked = false;
  const taken: Pattern[] = [];

  const descend = (residual: Residual, spent: number): WholePlan | undefined => {
    const left = residual.demand.reduce((total, demand) => total + demand, 0);
    if (left === 0) return spent < options.below ? { price: spent, drums: [...taken] } : undefined;
    const most = options.below - 1 - spent;
    master.restrict(residual);
    const solved = master.solve({
      enough: options.bound + DRIFT * (options.below - 1 - options.bound) - spent,
      wanted: most,
      shouldStop: options.shouldStop,
    });
    if (options.shouldStop()) return undefined;
    if (solved.bound > most || solved.value > most + LEAST_TIMES) {
      deadEnds++;
      return undefined;
    }
    if (options.finish && !hasAsked && drumsIn(solved) <= FINISH_AT) {
      hasAsked = true;
      const rest = options.finish(options.bound - spent, most);
      if (rest) return { price: spent + priceOf(master, rest), drums: [...taken, ...rest] };
    }
    for (const choice of choices(master, solved, residual, options)) {
      const size = taken.length;
      const next = take(master, choice, residual, taken);
      const plan = descend(next, spent + priceOf(master, taken.slice(size)));
      if (plan) return plan;
      taken.length = size;
      if (deadEnds >= DEAD_ENDS || options.shouldStop()) return undefined;
    }
    return undefined;
  };
  return descend(master.whole, 0);
}

type Choice = readonly { column: number; times: number }[];

function choices(
  master: Master,
  solved: MasterSolution,
  residual: Residual,
  { noise, random }: DiveOptions,
): Choice[] {
  const whole: { column: number; times: number }[] = [];
  const parts: { column: number; liking: number }[] = [];
  for (const [column, times] of solved.columns.entries()) {
    if (times < LEAST_TIMES || !fits(master.patterns[column]!, residual)) continue;
    const floor = Math.floor(times + LEAST_TIMES);
    if (floor >= 1) whole.push({ column, times: floor });
    else parts.push({ column, liking: times + noise * random.next() });
  }
  if (whole.length > 0) return [whole];
  parts.sort((a, b) => b.liking - a.liking || a.column - b.column);
  const together = Math.max(1, Math.floor(drumsIn(solved) / DRUMS_A_CHOICE));
  const first = parts.slice(0, together);
  return [first, ...parts.slice(together, together + CHOICES - 1).map((part) => [part])].map((choice) =>
    choice.map(({ column }) => ({ column, times: 1 })),
  );
}

function drumsIn(solved: MasterSolution): number {
  return solved.columns.reduce((total, times) => total + times, 0);
}

export function priceOf(master: Master, drums: readonly Pattern[]): number {
  return drums.reduce((total, { drumClass }) => total + master.classes[drumClass]!.price, 0);
}

/** What is left after the choice; the drums are added to `taken`. */
function take(master: Master, choice: Choice, residual: Residual, taken: Pattern[]): Residual {
  const next = { demand: residual.demand.slice(), supply: residual.supply.slice() };
  for (const { column, times } of choice) {
    const pattern = master.patterns[column]!;
    for (let n = 0; n < times && fits(pattern, next); n++) {
      for (const [i, size] of pattern.sizes.entries()) next.demand[size]! -= pattern.counts[i]!;
      next.supply[pattern.drumClass]!--;
      taken.push(pattern);
    }
  }
  return next;
}
