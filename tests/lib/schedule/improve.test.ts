/** The loop alone, on a toy: one number that steps up and down and wants to be 0. */
import { describe, expect, test } from "vitest";
import { Random } from "@/lib/random";
import { annealing } from "@/lib/schedule/accept";
import { improve, type Search } from "@/lib/schedule/improve";
import { Statistics } from "@/lib/schedule/statistics";
import { afterIterations, anyOf, atBound, whenTold } from "@/lib/schedule/stop";

function toy(from: number, random: Random): Search & { value: () => number } {
  let value = from;
  let current = from;
  let best = from;
  return {
    value: () => value,
    ruin: () => {},
    recreate: () => {
      value += random.below(3) - 1;
    },
    total: () => Math.abs(value),
    accept: () => {
      current = value;
    },
    undo: () => {
      value = current;
    },
    keepAsBest: () => {
      best = value;
    },
    returnToBest: () => {
      value = best;
    },
  };
}

const never = (total: number, current: number) => total < current;

describe("improve", () => {
  test("ends at the best it saw and never above its start", () => {
    for (let seed = 0; seed < 20; seed++) {
      const random = new Random(seed);
      const search = toy(5, random);
      improve(search, annealing(random, { hot: 20, cold: 10 }, 50), afterIterations(200), new Statistics());
      expect(Math.abs(search.value())).toBeLessThanOrEqual(5);
    }
  });

  test("without acceptance of worse it only goes down", () => {
    const search = toy(8, new Random(1));
    const seen: number[] = [];
    improve(search, never, afterIterations(400), new Statistics((s) => seen.push(s.current), 1));
    expect([...seen].sort((a, b) => b - a)).toEqual(seen);
    expect(search.value()).toBe(0);
  });

  test("judges the current state by the prices of now", () => {
    // All is ten times dearer after each step, so that what was accepted long ago would look cheap for ever.
    const run = (isPricedAnew: boolean) => {
      const search = toy(8, new Random(1));
      let price = 1;
      const priced: Search = {
        ...search,
        total: () => {
          price *= 10;
          return search.total() * price;
        },
        worth: search.total,
        accept: () => {
          search.accept();
          standingAt = search.total();
        },
        ...(isPricedAnew ? { standing: () => standingAt * price } : {}),
      };
      let standingAt = search.total();
      improve(priced, never, afterIterations(200), new Statistics());
      return search.total();
    };
    expect(run(false)).toBeGreaterThan(0);
    expect(run(true)).toBe(0);
  });

  test("goes through states that are no answer and never ends at one", () => {
    // The way from 4 down to 0 leads through 3 to 1, which are priced as any but are no answers.
    const search = toy(4, new Random(3));
    const barred = [1, 2, 3];
    const worth = () => (barred.includes(search.value()) ? Number.POSITIVE_INFINITY : search.total());
    const statistics = new Statistics();
    improve({ ...search, worth }, never, afterIterations(400), statistics);
    expect(search.value()).toBe(0);
    const few = toy(4, new Random(3));
    const fewWorth = () => (barred.includes(few.value()) ? Number.POSITIVE_INFINITY : few.total());
    improve(
      { ...few, worth: fewWorth },
      never,
      anyOf(afterIterations(400), () => few.value() === 2),
      statistics,
    );
    expect(few.value()).toBe(4);
  });

  test("stops at the bound", () => {
    const statistics = new Statistics();
    improve(toy(3, new Random(2)), never, anyOf(afterIterations(1e6), atBound(0)), statistics);
    expect(statistics.best).toBe(0);
    expect(statistics.iterations).toBe(statistics.bestAt);
  });
});

describe("stop", () => {
  test("afterIterations allows exactly so many", () => {
    const statistics = new Statistics();
    improve(toy(3, new Random(3)), never, afterIterations(7), statistics);
    expect(statistics.iterations).toBe(7);
  });

  test("whenTold asks every few iterations", () => {
    let asked = 0;
    const stop = whenTold(() => {
      asked++;
      return false;
    }, 4);
    for (let i = 0; i < 40; i++) stop(i, 0);
    expect(asked).toBe(10);
  });
});

describe("annealing", () => {
  const takesWorse = (accept: ReturnType<typeof annealing>, iteration: number) => {
    let taken = 0;
    for (let i = 0; i < 4000; i++) if (accept(101, 100, 100, iteration)) taken++;
    return taken / 4000;
  };

  test("always takes better, takes worse by exp(-worsening / temperature)", () => {
    const accept = annealing(new Random("a"), { hot: 1, cold: 1 }, 1000);
    expect(accept(99, 100, 100, 0)).toBe(true);
    expect(takesWorse(accept, 0)).toBeCloseTo(Math.exp(-1), 1);
  });

  test("cools along the share of the budget", () => {
    let share = 0;
    const accept = annealing(new Random("b"), { hot: 100, cold: 0.01 }, 1000, () => share);
    expect(takesWorse(accept, 0)).toBeGreaterThan(0.9);
    share = 1;
    expect(takesWorse(accept, 16)).toBe(0);
  });

  test("without a budget cools in rounds of n, 2n, 4n iterations", () => {
    const accept = annealing(new Random("c"), { hot: 100, cold: 0.01 }, 1600);
    expect(takesWorse(accept, 0)).toBeGreaterThan(0.9);
    expect(takesWorse(accept, 1584)).toBeLessThan(0.05);
    expect(takesWorse(accept, 1600)).toBeGreaterThan(0.9);
    expect(takesWorse(accept, 4784)).toBeLessThan(0.05);
    expect(takesWorse(accept, 4800)).toBeGreaterThan(0.9);
  });
});
