/**
 * The crew plan on invented programmes: demonstration size, 2,000 sites x 40 crews, 10,000 sites x 150 crews, 26 weeks.
 * Then programmes made from their best plan, so that the gap to it is known.
 * Times are processor seconds.
 * npx tsx tests/bench/schedule.bench.ts -- --only demo --seconds 5 --seed S --json FILE
 */
import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { evaluate, judge, type Plan, type ScheduleProblem, schedule } from "@/lib/schedule";
import { PLANTED_SIZES, type PlantedSize, plantedProgramme } from "@/seed/plantedProgramme";
import {
  DEMO_SIZE,
  LARGEST_SIZE,
  SCALE_SIZE,
  SHORT_SIZE,
  type SyntheticSize,
  syntheticProgramme,
} from "@/seed/syntheticProgramme";
import { ProcessorBudget } from "./processorTime";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: {
    only: { type: "string", default: "" },
    seconds: { type: "string" },
    seed: { type: "string", default: "1" },
    json: { type: "string" },
  },
});

interface Case {
  name: string;
  seconds: number;
  /** `best`: what the plan costs that the programme was made from, where it was. */
  make: () => { problem: ScheduleProblem; best?: number };
}

const invented = (size: SyntheticSize) => () => ({ problem: syntheticProgramme(size) });
const planted = (size: PlantedSize) => () => {
  const { problem, planted: placed } = plantedProgramme(size);
  const cost = evaluate(problem, { placed });
  if (!cost.ok) throw new Error(JSON.stringify(cost.problems));
  return { problem, best: cost.value.total };
};

const CASES: readonly Case[] = [
  { name: "demo", seconds: 3, make: invented(DEMO_SIZE) },
  { name: "short", seconds: 10, make: invented(SHORT_SIZE) },
  { name: "scale", seconds: 20, make: invented(SCALE_SIZE) },
  { name: "largest", seconds: 60, make: invented(LARGEST_SIZE) },
  { name: "planted small", seconds: 60, make: planted(PLANTED_SIZES.small) },
  { name: "planted middle", seconds: 60, make: planted(PLANTED_SIZES.middle) },
  { name: "planted uneven", seconds: 60, make: planted(PLANTED_SIZES.uneven) },
  { name: "planted scale", seconds: 60, make: planted(PLANTED_SIZES.scale) },
  { name: "planted large", seconds: 60, make: planted(PLANTED_SIZES.large) },
];

const mebibytes = (bytes: number) => Math.round(bytes / 2 ** 20);

const rows = CASES.filter((c) => c.name.includes(values.only)).map(({ name, make, seconds: usual }) => {
  const { problem, best } = make();
  const forFirst = new ProcessorBudget(Number.POSITIVE_INFINITY);
  const first = schedule(problem, { seed: values.seed, maxIterations: 0 });
  const constructS = forFirst.spent().processorS;
  const budget = new ProcessorBudget(Number(values.seconds ?? usual));
  const result = schedule(problem, {
    seed: values.seed,
    maxIterations: Number.MAX_SAFE_INTEGER,
    shouldStop: budget.shouldStop,
    timeShare: budget.share,
  });
  const totalS = budget.spent().processorS;
  if (!first.ok || !result.ok) throw new Error("the synthetic programme was refused");
  const plan = result.value;
  const heapMiB = mebibytes(process.memoryUsage().heapUsed + process.memoryUsage().arrayBuffers);
  const broken = judge(problem, plan);
  const gapPct = (p: Plan) => 100 * (freed(problem, p.cost.total) / freed(problem, p.lowerBound) - 1);
  const placeable = problem.visits.length - gated(problem).size;

  console.log(
    `${name}: ${problem.visits.length} visits, ${problem.hops.length} hops, ${problem.crews.length} crews, ${problem.dayCount} days, seed ${values.seed}`,
  );
  console.log(
    `  first plan   ${constructS.toFixed(2)} s, ${first.value.placed.length} of ${placeable} placeable visits, cost ${Math.round(first.value.cost.total)}, gap ${gapPct(first.value).toFixed(1)} %`,
  );
  console.log(
    `  improved     ${totalS.toFixed(2)} s, ${plan.placed.length} placed (${((100 * plan.placed.length) / placeable).toFixed(2)} %), ${plan.iterations} iterations, ${Math.round(plan.iterations / Math.max(0.001, totalS - constructS))} a second`,
  );
  console.log(
    `  cost         ${Math.round(plan.cost.total)}, bound ${Math.round(plan.lowerBound)}, gap ${gapPct(plan).toFixed(1)} % without what gates make unavoidable`,
  );
  if (best !== undefined)
    console.log(
      `  planted      ${Math.round(best)}, gap ${(100 * (plan.cost.total / best - 1)).toFixed(2)} % to the plan it was made from`,
    );
  for (const [term, value] of Object.entries(plan.cost))
    if (term !== "total") console.log(`    ${term.padEnd(15)} ${Math.round(value as number)}`);
  console.log(
    `  judge        ${broken.length === 0 ? "passes" : `${broken.length} broken rules, first: ${broken[0]!.message}`}`,
  );
  console.log(`  memory       ${heapMiB} MiB`);
  return {
    name,
    constructS,
    totalS,
    placeable,
    placed: plan.placed.length,
    cost: plan.cost,
    lowerBound: plan.lowerBound,
    planted: best,
    iterations: plan.iterations,
    broken: broken.length,
    heapMiB,
  };
});
if (values.json) writeFileSync(values.json, JSON.stringify({ seed: values.seed, rows }, null, 1));
if (rows.some((r) => r.broken > 0)) process.exitCode = 1;

/** Visits that an open gate keeps out, or that wait for one. */
function gated(p: ScheduleProblem): Set<number> {
  const out = new Set<number>();
  for (let size = -1; size !== out.size; ) {
    size = out.size;
    p.visits.forEach((v, i) => {
      if (v.blockedBy !== undefined || v.after.some((u) => out.has(u)) || out.has(v.togetherWith ?? -1))
        out.add(i);
    });
  }
  return out;
}

/** A cost without the share of gated visits and their hops: no plan can change that, and it would hide the gap. */
function freed(p: ScheduleProblem, cost: number): number {
  const w = p.weights;
  const out = gated(p);
  let fixed = out.size * w.unplacedVisit;
  for (const h of new Set([...out].map((v) => p.visits[v]!.hop))) {
    const { promiseDay = Number.POSITIVE_INFINITY, weight } = p.hops[h]!;
    const lateDays = Math.max(0, p.dayCount - promiseDay) * weight;
    fixed += w.unfinishedHop + w.lateHopDay * lateDays + (w.finishDay ?? 0) * p.dayCount;
  }
  return cost - fixed;
}
