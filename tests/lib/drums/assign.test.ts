import { describe, expect, it } from "vitest";
import { assignRuns, bringHome } from "@/lib/drums/assign";
import { Effort } from "@/lib/drums/effort";
import { Layout } from "@/lib/drums/layout";
import { compareCost, costOf, type PackingProblem } from "@/lib/drums/packing";
import { Random } from "@/lib/random";
import { isLess, leastCost } from "./exhaustive";
import { dense, tinyPlacedProblem, tinyProblem } from "./tiny";

const SEEDS = Array.from({ length: 300 }, (_, seed) => seed);

describe.each([
  { title: "", make: tinyProblem, priced: 0.99, whole: 0.93 },
  { title: " with places", make: tinyPlacedProblem, priced: 0.98, whole: 0.93 },
])("assignRuns against every plan of 300 tiny problems$title", ({ make, priced, whole }) => {
  const results = SEEDS.map((seed) => {
    const tiny = make(seed);
    const problem = dense(tiny);
    const { assignment, bound } = assignRuns(problem);
    return { seed, problem, bound, found: [...costOf(problem, assignment)], least: leastCost(tiny) };
  });

  it("is never better than the best there is: the cost is counted right", () => {
    for (const { seed, found, least } of results) expect(isLess(found, least), `seed ${seed}`).toBe(false);
  });

  it("never claims a purchase bound above what the best plan buys", () => {
    for (const { seed, bound, least } of results) {
      expect(bound.priceMinor, `price, seed ${seed}`).toBeLessThanOrEqual(least[3]!);
      expect(bound.drums, `drums, seed ${seed}`).toBeLessThanOrEqual(least[4]!);
    }
  });

  it("leaves no run uncut that could be cut", () => {
    for (const { seed, found, least } of results) expect(found[0], `seed ${seed}`).toBe(least[0]);
  });

  it(`finds the least lateness and price in at least ${priced} of them, the least of all terms in ${whole}`, () => {
    const share = (terms: number) =>
      results.filter(({ found, least }) => compareCost(found.slice(0, terms), least.slice(0, terms)) === 0)
        .length / results.length;
    expect(share(5)).toBeGreaterThanOrEqual(priced);
    expect(share(10)).toBeGreaterThanOrEqual(whole);
  });
});

describe("bringHome", () => {
  const drum = (place: number, capacityCm: number) => ({
    capacityCm,
    availableDay: 0,
    priceMinor: 0,
    isUncut: false,
    place,
    daysOver: place === 0 ? [0, 1] : [1, 0],
  });

  it("gives two runs their own place's drum for a long one that goes to its own", () => {
    const problem: PackingProblem = {
      sizesCm: [100, 60, 40],
      needDays: [9, 9, 9],
      ends: [0, 1, 2],
      places: [1, 0, 0],
      onHand: [drum(0, 100), drum(1, 100)],
      kinds: [],
      minUsefulCm: 0,
    };
    const away = { drumOf: [0, 1, 1], bought: [] };
    expect(costOf(problem, away)[5]).toBe(3);
    const home = bringHome(problem, away, new Effort(10_000), new Random("home"));
    expect(home.drumOf).toEqual([1, 0, 0]);
    expect(costOf(problem, home)[5]).toBe(0);
  });

  it("brings many runs home one by one, where to look at all pairs of them would take too long", () => {
    const many = 100;
    const problem: PackingProblem = {
      sizesCm: new Array(many).fill(10),
      needDays: new Array(many).fill(9),
      ends: Array.from({ length: many }, (_, run) => run),
      places: new Array(many).fill(1),
      onHand: [drum(0, 10 * many), drum(1, 10 * many)],
      kinds: [],
      minUsefulCm: 0,
    };
    const away = { drumOf: new Array(many).fill(0), bought: [] };
    const home = bringHome(problem, away, new Effort(10_000), new Random("home"));
    expect(home.drumOf).toEqual(new Array(many).fill(1));
  });
});

describe("Layout", () => {
  it("keeps loads and lists in step through random moves", () => {
    const random = new Random("layout");
    const problem: PackingProblem = {
      sizesCm: Array.from({ length: 30 }, () => 1 + random.below(50)).sort((a, b) => b - a),
      needDays: new Array(30).fill(0),
      ends: Array.from({ length: 30 }, (_, run) => run),
      onHand: [],
      kinds: [{ capacityCm: 1_000, availableDay: 0, priceMinor: 1, isUncut: true }],
      minUsefulCm: 0,
    };
    const layout = new Layout(problem);
    for (let d = 0; d < 5; d++) layout.buy(0);
    for (let step = 0; step < 500; step++) {
      const run = random.below(30);
      if (random.below(4) === 0) layout.take(run);
      else layout.move(run, random.below(5));
    }
    for (let d = 0; d < 5; d++) {
      const own = problem.sizesCm.filter((_, run) => layout.drumOf[run] === d);
      expect(layout.loads[d]).toBe(own.reduce((sum, size) => sum + size, 0));
      expect(layout.runs[d]!.length).toBe(own.length);
    }
  });
});
