import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  accountOf,
  type CutPolicy,
  cutDrums,
  type DrumKind,
  type DrumOnHand,
  type FixedCut,
  type RunWanted,
  validateCutting,
} from "@/lib/drums";
import { Random } from "@/lib/random";
import { drum, kind, onDay, run, TODAY } from "./make";

interface World {
  runs: RunWanted[];
  drums: DrumOnHand[];
  kinds: DrumKind[];
  policy: CutPolicy;
}

const CODES = ["C10", "C15"];

const worlds: fc.Arbitrary<World> = fc.record({
  runs: fc
    .array(
      fc.record({
        lengthCm: fc.integer({ min: 50, max: 16_000 }),
        day: fc.integer({ min: -3, max: 30 }),
        end: fc.integer({ min: 0, max: 9 }),
        code: fc.constantFrom(...CODES),
      }),
      { maxLength: 24 },
    )
    .map((rows) =>
      rows.map((r, k) =>
        run(`r${k}`, r.lengthCm, { neededOn: onDay(r.day), endId: `e${r.end}`, cableCode: r.code }),
      ),
    ),
  drums: fc
    .array(
      fc.record({
        remainingCm: fc.integer({ min: 0, max: 30_000 }),
        isNew: fc.boolean(),
        day: fc.integer({ min: -40, max: 20 }),
        code: fc.constantFrom(...CODES),
      }),
      { maxLength: 8 },
    )
    .map((rows) =>
      rows.map((r, k) =>
        drum(`d${k}`, r.isNew ? 30_000 : r.remainingCm, {
          receivedCm: 30_000,
          isNew: r.isNew,
          availableOn: onDay(r.day),
          cableCode: r.code,
        }),
      ),
    ),
  kinds: fc.subarray([
    kind(30_000),
    kind(10_000, { priceMinor: 22_000, leadTimeDays: 5 }),
    kind(20_000, { cableCode: "C15" }),
  ]),
  policy: fc.record({
    sawAllowanceCm: fc.integer({ min: 0, max: 50 }),
    minUsefulCm: fc.integer({ min: 0, max: 3_000 }),
  }),
});

const cut = ({ runs, drums, kinds, policy }: World, fixedCuts: FixedCut[] = []) =>
  cutDrums(runs, drums, kinds, policy, { today: TODAY, fixedCuts, random: new Random(7), effort: 20_000 });

describe("any cutting plan", () => {
  it("passes the judge, and every metre is accounted for", () => {
    fc.assert(
      fc.property(worlds, (world) => {
        for (const plan of cut(world)) {
          expect(
            validateCutting(plan, world.runs, world.drums, world.policy, { kinds: world.kinds }),
          ).toEqual([]);
          const account = accountOf(plan);
          const { receivedCm, ...parts } = account;
          expect(Object.values(parts).reduce((sum, cm) => sum + cm, 0)).toBe(receivedCm);
          for (const d of plan.drums) {
            const used = d.cuts.reduce((sum, c) => sum + c.lengthCm + world.policy.sawAllowanceCm, 0);
            expect(used + d.leftCm).toBe(d.drum.remainingCm);
          }
        }
      }),
      { numRuns: 150, seed: 1 },
    );
  });

  it("does not depend on the order of runs, drums and kinds", () => {
    fc.assert(
      fc.property(worlds, fc.integer(), (world, seed) => {
        const random = new Random(seed);
        const shuffled: World = {
          ...world,
          runs: random.shuffle([...world.runs]),
          drums: random.shuffle([...world.drums]),
          kinds: random.shuffle([...world.kinds]),
        };
        expect(cut(shuffled)).toEqual(cut(world));
      }),
      { numRuns: 60, seed: 2 },
    );
  });

  it("leaves no run uncut that a drum to buy could give, and never falls below its bound", () => {
    fc.assert(
      fc.property(worlds, (world) => {
        for (const plan of cut(world)) {
          const kinds = world.kinds.filter((k) => k.cableCode === plan.cableCode);
          const longest = Math.max(0, ...kinds.map((k) => k.lengthCm));
          for (const { run: left } of plan.uncut) {
            expect(left.lengthCm + world.policy.sawAllowanceCm).toBeGreaterThan(longest);
          }
          expect(plan.newDrumCount).toBeGreaterThanOrEqual(plan.newDrumLowerBound);
          expect(plan.newDrumPriceMinor).toBeGreaterThanOrEqual(plan.newDrumPriceLowerBoundMinor!);
        }
      }),
      { numRuns: 100, seed: 3 },
    );
  });

  it("stays legal when part of it is made, part promised, and the rest planned again", () => {
    fc.assert(
      fc.property(worlds, fc.integer(), (world, seed) => {
        const random = new Random(seed);
        for (const plan of cut(world)) {
          const fixedCuts: FixedCut[] = [];
          const drums = plan.drums
            .filter((d) => !d.buy)
            .map((d) => {
              // The first cuts of a drum are made, some of the others promised.
              const madeCount = random.below(d.cuts.length + 1);
              let remainingCm = d.drum.remainingCm;
              for (const [k, c] of d.cuts.entries()) {
                const isMade = k < madeCount;
                if (!isMade && random.below(2) === 0) continue;
                fixedCuts.push({
                  drumId: d.drum.id,
                  runId: c.runId,
                  lengthCm: c.lengthCm,
                  cutOn: c.cutOn,
                  isMade,
                });
                if (isMade) remainingCm -= c.lengthCm + world.policy.sawAllowanceCm;
              }
              return { ...d.drum, remainingCm, isNew: d.drum.isNew && remainingCm === d.drum.receivedCm };
            });
          const runs = world.runs.filter((r) => r.cableCode === plan.cableCode);
          const [next] = cut({ ...world, runs, drums }, fixedCuts);
          expect(validateCutting(next!, runs, drums, world.policy, { fixedCuts })).toEqual([]);
        }
      }),
      { numRuns: 60, seed: 4 },
    );
  });
});
