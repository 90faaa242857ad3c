import fc from "fast-check";
import loadHighs from "highs";
import { describe, expect, it } from "vitest";
import { cutDrums, type LinearSolver, packBins, validateCutting } from "@/lib/drums";
import { assignRuns } from "@/lib/drums/assign";
import { closeGap, everyPattern } from "@/lib/drums/closeGap";
import { assignExactly } from "@/lib/drums/exact";
import { highsSolver } from "@/lib/drums/linearSolver";
import { leastPurchase, Master } from "@/lib/drums/master";
import { compareCost, costOf } from "@/lib/drums/packing";
import { Random } from "@/lib/random";
import { fewestBins, isLess, leastCost } from "./exhaustive";
import { drum, kind, onDay, run, TODAY } from "./make";
import { dense, tinyPlacedProblem, tinyProblem } from "./tiny";

const solver = highsSolver(await loadHighs());

/** Stops after so many questions: the same on every machine. */
function stopAfter(asked: number): () => boolean {
  let left = asked;
  return () => left-- <= 0;
}

describe.each([
  { title: "", make: tinyProblem },
  { title: " with places", make: tinyPlacedProblem },
])("the exact method against every plan of 300 tiny problems$title", ({ make }) => {
  const results = Array.from({ length: 300 }, (_, seed) => {
    const tiny = make(seed);
    const problem = dense(tiny);
    const quick = assignRuns(problem);
    const { assignment, bound } = assignExactly(problem, { solver, shouldStop: stopAfter(400) });
    const cost = costOf(problem, assignment);
    return { seed, bound, cost, quick: costOf(problem, quick.assignment), least: leastCost(tiny) };
  });

  it("counts its cost right and never does worse than the quick method", () => {
    for (const { seed, cost, quick, least } of results) {
      expect(isLess([...cost], least), `seed ${seed}`).toBe(false);
      expect(compareCost(cost, quick), `seed ${seed}`).toBeLessThanOrEqual(0);
    }
  });

  it("never claims a purchase bound above what the best plan buys", () => {
    for (const { seed, bound, least } of results) {
      expect(bound.priceMinor, `price, seed ${seed}`).toBeLessThanOrEqual(least[3]!);
      expect(bound.drums, `drums, seed ${seed}`).toBeLessThanOrEqual(least[4]!);
    }
  });

  it("pays the least price wherever the quick method has the least lateness", () => {
    for (const { seed, cost, least } of results) {
      if (compareCost(cost.slice(0, 3), least.slice(0, 3)) === 0)
        expect(cost[3], `seed ${seed}`).toBe(least[3]);
    }
  });
});

describe("bin packing by columns", () => {
  it("packs triplets that fill every bin, which the quick method does not find", () => {
    const random = new Random("triplets");
    const items = Array.from({ length: 40 }, () => {
      const large = 380 + random.below(110);
      const middle = 250 + random.below((1_000 - large) / 2 - 250);
      return [large, middle, 1_000 - large - middle];
    }).flat();
    expect(packBins(items, 1_000).bins.length).toBeGreaterThan(40);
    const { bins, lowerBound } = packBins(items, 1_000, { solver, shouldStop: stopAfter(50_000) });
    expect(lowerBound).toBe(40);
    expect(bins.length).toBe(40);
    for (const bin of bins) expect(bin.reduce((sum, item) => sum + items[item]!, 0)).toBe(1_000);
    expect(bins.flat().sort((a, b) => a - b)).toEqual([...items.keys()]);
  });

  it("stops when it is told to, with the packing in hand", () => {
    const { bins, lowerBound } = packBins([5, 5, 5, 4, 4, 4, 3, 3, 3], 12, {
      solver,
      shouldStop: () => true,
    });
    expect(bins.flat().length).toBe(9);
    expect(bins.length).toBeGreaterThanOrEqual(lowerBound);
  });
});

describe("the bound", () => {
  it("is never above the fewest drums, whatever the drums on hand", () => {
    const sizes = fc.array(
      fc.record({ length: fc.integer({ min: 3, max: 20 }), demand: fc.integer({ min: 1, max: 2 }) }),
      { minLength: 1, maxLength: 3 },
    );
    const hands = fc.array(fc.integer({ min: 3, max: 20 }), { maxLength: 2 });
    fc.assert(
      fc.property(sizes, hands, (wanted, onHand) => {
        const classes = [
          { capacity: 20, sizeCount: wanted.length, supply: Number.POSITIVE_INFINITY, price: 1 },
          ...onHand.map((capacity) => ({ capacity, sizeCount: wanted.length, supply: 1, price: 0 })),
        ];
        const master = new Master(wanted, classes, solver);
        const { bound, value } = master.solve({
          enough: 0,
          wanted: Number.POSITIVE_INFINITY,
          shouldStop: () => false,
        });
        master.dispose();
        const runs = wanted.flatMap(({ length, demand }) => new Array<number>(demand).fill(length));
        const best = leastCost({
          sizes: runs,
          needDays: runs.map(() => 0),
          ends: runs.map((_, k) => k),
          onHand: onHand.map((lengthCm) => ({ lengthCm, day: 0, price: 0, isUncut: false })),
          kinds: [{ lengthCm: 20, day: 0, price: 1, isUncut: true }],
          minUseful: 0,
        });
        expect(bound).toBeLessThanOrEqual(best[4]!);
        expect(value).toBeLessThanOrEqual(best[4]! + 1e-6);
        expect(bound).toBeGreaterThanOrEqual(value - 1e-6);
      }),
      { numRuns: 60, seed: 22 },
    );
  });

  it("rounds up in whole numbers, where doubles would not", () => {
    expect(leastPurchase(2 ** 50 + 1, [{ price: 1, worth: 2 ** 50 }])).toBe(2);
    expect(leastPurchase(2 ** 50, [{ price: 3, worth: 2 ** 50 }])).toBe(3);
    expect(
      leastPurchase(10, [
        { price: 5, worth: 4 },
        { price: 2, worth: 1 },
      ]),
    ).toBe(13);
    expect(leastPurchase(-1, [])).toBe(0);
    expect(leastPurchase(1, [{ price: 1, worth: 0 }])).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("the last step", () => {
  it("lists every pattern that is worth and long enough, once", () => {
    const sizes = fc.array(
      fc.record({ length: fc.integer({ min: 1, max: 9 }), demand: fc.integer({ min: 1, max: 3 }) }),
      { minLength: 1, maxLength: 4 },
    );
    fc.assert(
      fc.property(sizes, fc.nat({ max: 25 }), fc.nat({ max: 20 }), (wanted, worthAbove, lengthAbove) => {
        const worth = Float64Array.from(wanted, ({ length }, k) => 2 * length + (k % 2));
        const least = { worth: worthAbove, length: lengthAbove };
        const listed = everyPattern(wanted, 20, worth, least)!.map(({ sizes, counts }) =>
          wanted.map((_, size) => counts[sizes.indexOf(size)] ?? 0).join(),
        );
        const all: string[] = [];
        const build = (counts: number[]) => {
          const k = counts.length;
          if (k < wanted.length) {
            for (let n = 0; n <= wanted[k]!.demand; n++) build([...counts, n]);
            return;
          }
          const total = (of: (size: number) => number) =>
            counts.reduce((sum, count, size) => sum + count * of(size), 0);
          const length = total((size) => wanted[size]!.length);
          if (length <= 20 && length >= least.length && total((size) => worth[size]!) >= least.worth)
            all.push(counts.join());
        };
        build([]);
        expect(listed.sort()).toEqual(all.sort());
      }),
      { numRuns: 100, seed: 23 },
    );
  });

  it("never denies the fewest drums and never finds fewer", () => {
    const answers = { plan: 0, none: 0, open: 0 };
    const lengths = fc.uniqueArray(fc.integer({ min: 4, max: 40 }), { minLength: 4, maxLength: 9 });
    fc.assert(
      fc.property(lengths, fc.integer({ min: 40, max: 60 }), (items, capacity) => {
        const sizes = items.sort((a, b) => b - a).map((length) => ({ length, demand: 1 }));
        const kindToBuy = { capacity, sizeCount: sizes.length, supply: Number.POSITIVE_INFINITY, price: 1 };
        const master = new Master(sizes, [kindToBuy], solver);
        const { worth, need, greatest } = master.sharpen(3, new Random("worths"), () => false)!;
        master.dispose();
        const sharp = { worth, need, greatest: greatest[0]! };
        const fewest = fewestBins(items, capacity);
        const found = closeGap(sizes, capacity, fewest, sharp, solver, () => false);
        expect(found.kind).toBe("plan");
        if (found.kind === "plan") {
          expect(found.drums.length).toBe(fewest);
          expect(found.drums.flatMap((d) => d.sizes).sort((a, b) => a - b)).toEqual([...items.keys()]);
          for (const d of found.drums) {
            expect(d.sizes.reduce((sum, size) => sum + items[size]!, 0)).toBeLessThanOrEqual(capacity);
          }
        }
        answers[found.kind]++;
        answers[closeGap(sizes, capacity, fewest - 1, sharp, solver, () => false).kind]++;
      }),
      { numRuns: 100, seed: 24 },
    );
    expect(answers).toEqual({ plan: 100, none: 100, open: 0 });
  });

  it("finds the plan of as many drums as asked, or says that there is none", () => {
    const sizes = [6, 5, 4, 3, 2].map((length) => ({ length, demand: 1 }));
    // Worth = length: a bound as sharp as the material, 20 in drums of 10.
    const sharp = { worth: Float64Array.from([6, 5, 4, 3, 2]), need: 20, greatest: 10 };
    expect(closeGap(sizes, 10, 2, sharp, solver, () => false).kind).toBe("plan");
    const none = [7, 7, 6].map((length) => ({ length, demand: 1 }));
    const loose = { worth: Float64Array.from([7, 7, 6]), need: 20, greatest: 10 };
    expect(closeGap(none, 10, 2, loose, solver, () => false).kind).toBe("none");
    expect(closeGap(sizes, 10, 2, sharp, solver, () => true).kind).toBe("open");
  });
});

describe("a cutting plan by columns", () => {
  const runs = Array.from({ length: 60 }, (_, k) =>
    run(`r${k}`, 1_500 + ((k * 7_919) % 13_500), { neededOn: onDay(k % 40), endId: `e${k >> 1}` }),
  );
  const drums = Array.from({ length: 6 }, (_, k) =>
    drum(`d${k}`, 2_000 + 3_000 * k, { receivedCm: 50_000, availableOn: onDay(k % 3) }),
  );
  const kinds = [
    kind(50_000, { priceMinor: 90_000, leadTimeDays: 21 }),
    kind(30_000, { priceMinor: 57_000, leadTimeDays: 14 }),
    kind(10_000, { priceMinor: 20_000, leadTimeDays: 3 }),
  ];
  const policy = { sawAllowanceCm: 20, minUsefulCm: 1_500 };
  const cut = (using?: LinearSolver) =>
    cutDrums(runs, drums, kinds, policy, {
      today: TODAY,
      exact: using && { solver: using, startTime: () => stopAfter(300) },
    })[0]!;

  it("passes the judge, is not later than the quick plan and costs no more", () => {
    const quick = cut();
    const exact = cut(solver);
    expect(validateCutting(exact, runs, drums, policy, { kinds })).toEqual([]);
    expect(exact.late.length).toBeLessThanOrEqual(quick.late.length);
    expect(exact.newDrumPriceMinor!).toBeLessThanOrEqual(quick.newDrumPriceMinor!);
    expect(exact.newDrumPriceLowerBoundMinor!).toBeGreaterThanOrEqual(quick.newDrumPriceLowerBoundMinor!);
    expect(exact.newDrumPriceMinor!).toBeGreaterThanOrEqual(exact.newDrumPriceLowerBoundMinor!);
  });

  it("takes long drums and odd lengths in coarser steps: the plan holds, the bound stays the quick one", () => {
    const long = runs.map((r, k) => ({ ...r, lengthCm: 10 * r.lengthCm + (k % 10) }));
    const longDrums = drums.map((d) => ({ ...d, remainingCm: 10 * d.remainingCm, receivedCm: 500_000 }));
    const longKinds = kinds.map((k) => ({ ...k, lengthCm: 10 * k.lengthCm }));
    const cutLong = (asked: number) =>
      cutDrums(long, longDrums, longKinds, policy, {
        today: TODAY,
        exact: { solver, startTime: () => stopAfter(asked) },
      })[0]!;
    const exact = cutLong(300);
    expect(validateCutting(exact, long, longDrums, policy, { kinds: longKinds })).toEqual([]);
    const quick = cutLong(0);
    expect(exact.newDrumPriceMinor!).toBeLessThanOrEqual(quick.newDrumPriceMinor!);
    expect(exact.newDrumPriceLowerBoundMinor!).toBe(quick.newDrumPriceLowerBoundMinor!);
  });

  it("falls back to the quick plan where the solver gives nothing", () => {
    const silent: LinearSolver = {
      createModel: () => ({
        addColumns: () => {},
        addRow: () => {},
        setRow: () => {},
        setColumnUpper: () => {},
        solve: () => undefined,
        solveWhole: () => undefined,
        dispose: () => {},
      }),
    };
    expect(cut(silent)).toEqual(cut());
  });
});
