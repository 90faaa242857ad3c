import fc from "fast-check";
import { expect, it } from "vitest";
import { bestPatterns, type DrumClass, type RunSize } from "@/lib/drums/pricing";

interface Case {
  sizes: (RunSize & { worth: number })[];
  classes: DrumClass[];
}

const cases: fc.Arbitrary<Case> = fc
  .array(
    fc.record({
      length: fc.integer({ min: 1, max: 20 }),
      demand: fc.integer({ min: 0, max: 4 }),
      worth: fc.integer({ min: 0, max: 30 }),
    }),
    { minLength: 1, maxLength: 5 },
  )
  .chain((sizes) =>
    fc.record({
      sizes: fc.constant(sizes),
      classes: fc.array(
        fc.record({
          capacity: fc.integer({ min: 0, max: 50 }),
          sizeCount: fc.integer({ min: 0, max: sizes.length }),
          supply: fc.constant(1),
          // Where drums stand at several places, each place reaches the sizes in an order of its own.
          reach: fc.option(fc.shuffledSubarray([...sizes.keys()], { minLength: sizes.length }), {
            nil: undefined,
          }),
        }),
        { minLength: 1, maxLength: 3 },
      ),
    }),
  );

/** Greatest worth by trying every number of every size. */
function greatestWorth(sizes: Case["sizes"], { capacity, sizeCount, reach }: DrumClass, from = 0): number {
  if (from === sizeCount) return 0;
  let best = 0;
  const { length, demand, worth } = sizes[reach?.[from] ?? from]!;
  for (let count = 0; count <= demand && count * length <= capacity; count++) {
    const rest = greatestWorth(
      sizes,
      { capacity: capacity - count * length, sizeCount, reach, supply: 1 },
      from + 1,
    );
    best = Math.max(best, count * worth + rest);
  }
  return best;
}

it("finds the greatest worth of every class, and patterns that have what they promise", () => {
  fc.assert(
    fc.property(cases, fc.nat({ max: 20 }), ({ sizes, classes }, above) => {
      const worth = Float64Array.from(sizes, (size) => size.worth);
      const demand = Int32Array.from(sizes, (size) => size.demand);
      const { greatest, patterns } = bestPatterns(sizes, classes, worth, demand, {
        above: Float64Array.from(classes, () => above),
        most: classes.map(() => 3),
      });
      expect([...greatest]).toEqual(classes.map((c) => greatestWorth(sizes, c)));
      for (const [c, drumClass] of classes.entries()) {
        const own = patterns.filter((pattern) => pattern.drumClass === c);
        const worths = own.map((pattern) => {
          const total = (of: (size: number) => number) =>
            pattern.sizes.reduce((sum, size, i) => sum + pattern.counts[i]! * of(size), 0);
          expect(total((size) => sizes[size]!.length)).toBeLessThanOrEqual(drumClass.capacity);
          for (const [i, size] of pattern.sizes.entries()) {
            expect((drumClass.reach ?? [...sizes.keys()]).indexOf(size)).toBeLessThan(drumClass.sizeCount);
            expect(pattern.counts[i]).toBeLessThanOrEqual(sizes[size]!.demand);
          }
          return total((size) => sizes[size]!.worth);
        });
        for (const each of worths) expect(each).toBeGreaterThan(above);
        // The best pattern is among them whenever it is worth enough.
        if (greatest[c]! > above) expect(Math.max(...worths)).toBe(greatest[c]);
        expect(own.length).toBeLessThanOrEqual(3);
      }
    }),
    { numRuns: 300, seed: 21 },
  );
});
