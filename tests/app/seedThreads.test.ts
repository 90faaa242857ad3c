import { expect, test } from "vitest";
import { withSeedThreads } from "@/app/_server/seedThreads";
import { judge, schedule } from "@/lib/schedule";
import { DEMO_SIZE, syntheticProgramme } from "@/seed/syntheticProgramme";

const problem = syntheticProgramme(DEMO_SIZE);
const OPTIONS = { seed: "several", maxIterations: 150 };
const SEEDS = ["several", "several, seed 2", "several, seed 3"];

test("the best of several seeds is kept, and the same seeds give the same plan", async () => {
  const alone = SEEDS.map((seed) => schedule(problem, { ...OPTIONS, seed }));
  const costs = alone.map((r) => (r.ok ? r.value.cost.total : Number.NaN));
  expect(new Set(costs).size).toBe(3);
  const together = await withSeedThreads(3, (scheduler) => scheduler(problem, OPTIONS));
  if (!together.ok) throw new Error("no plan");
  expect(together.value.cost.total).toBe(Math.min(...costs));
  expect(together).toEqual(alone[costs.indexOf(Math.min(...costs))]);
  expect(judge(problem, together.value)).toEqual([]);
}, 300_000);

test("with a share of time, every search ends when the one with the clock does", async () => {
  let asked = 0;
  const share = () => asked / 400;
  const made = await withSeedThreads(2, (scheduler) =>
    scheduler(problem, {
      seed: "timed",
      maxIterations: Number.MAX_SAFE_INTEGER,
      shouldStop: () => ++asked > 400,
      timeShare: share,
    }),
  );
  if (!made.ok) throw new Error("no plan");
  expect(["timed", "timed, seed 2"]).toContain(made.value.seed);
  expect(judge(problem, made.value)).toEqual([]);
}, 300_000);

test("a problem that is refused is refused, and the threads serve the next", async () => {
  const bad = { ...problem, dayCount: 0 };
  const [refused, next] = await withSeedThreads(2, (scheduler) => [
    scheduler(bad, OPTIONS),
    scheduler(problem, OPTIONS),
  ]);
  expect([refused!.ok, next!.ok]).toEqual([false, true]);
}, 300_000);
