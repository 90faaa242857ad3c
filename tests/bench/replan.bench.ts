/**
 * Planning on after the weather of one day has changed: how long it takes, and how many visits move whose slot the storm
 * left alone. Processor seconds.
 *
 *     npx tsx tests/bench/replan.bench.ts -- --only demo --seconds 3
 */
import { parseArgs } from "node:util";
import { judge, type PlacedVisit, type Plan, type ScheduleProblem, schedule } from "@/lib/schedule";
import { WORK_CLASSES } from "@/lib/weather";
import { DEMO_SIZE, SCALE_SIZE, type SyntheticSize, syntheticProgramme } from "@/seed/syntheticProgramme";
import { ProcessorBudget } from "./processorTime";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: { only: { type: "string", default: "" }, seconds: { type: "string", default: "3" } },
});

const BAR = { seconds: 3, movedPct: 5 };
/** What ends a run after its search is told to stop: the last step, reading the plan out. */
const CLOSING_S = 0.3;
const STORM_DAY = 3;
const CASES: readonly { name: string; size: SyntheticSize; planSeconds: number }[] = [
  { name: "demo", size: DEMO_SIZE, planSeconds: 10 },
  { name: "scale", size: SCALE_SIZE, planSeconds: 60 },
];

function planned(problem: ScheduleProblem, seconds: number): { plan: Plan; processorS: number } {
  const budget = new ProcessorBudget(seconds);
  const result = schedule(problem, {
    seed: "replan",
    maxIterations: Number.MAX_SAFE_INTEGER,
    shouldStop: budget.shouldStop,
    timeShare: budget.share,
  });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return { plan: result.value, processorS: budget.spent().processorS };
}

/** No hour of the day for anything out of doors, everywhere. */
function stormed(problem: ScheduleProblem, inForce: readonly PlacedVisit[]): ScheduleProblem {
  const windows = problem.windows.map((w) => {
    const masks = w.masks.slice();
    WORK_CLASSES.forEach((name, k) => {
      if (name !== "indoor") masks[k * problem.dayCount + STORM_DAY] = 0;
    });
    return { ...w, masks };
  });
  return { ...problem, windows, inForce, frozenUntilDay: 1 };
}

for (const { name, size, planSeconds } of CASES.filter((c) => c.name.includes(values.only))) {
  const problem = syntheticProgramme(size);
  const before = planned(problem, planSeconds).plan;
  const changed = stormed(problem, before.placed);
  const { plan: after, processorS } = planned(changed, Number(values.seconds) - CLOSING_S);
  const now = new Map(after.placed.map((x) => [x.visit, x]));
  const hasMoved = (x: PlacedVisit) => {
    const y = now.get(x.visit);
    return y === undefined || y.crew !== x.crew || y.startDay !== x.startDay;
  };
  const hit = before.placed.filter((x) => x.startDay <= STORM_DAY && STORM_DAY <= x.endDay);
  const legal = before.placed.filter((x) => x.startDay > STORM_DAY || x.endDay < STORM_DAY);
  const moved = legal.filter(hasMoved).length;
  const movedPct = (100 * moved) / legal.length;
  const broken = judge(changed, after).length;
  console.log(
    `${name}: ${before.placed.length} visits placed, ${hit.length} on the day of the storm, ${hit.filter(hasMoved).length} of these moved\n` +
      `  planned again in ${processorS.toFixed(2)} s (bar ${BAR.seconds}), ${after.iterations} iterations, ${broken} rules broken\n` +
      `  moved ${moved} of ${legal.length} whose slot was still legal: ${movedPct.toFixed(2)} % (bar ${BAR.movedPct})\n` +
      `  unplaced ${before.unplaced.length} before, ${after.unplaced.length} after`,
  );
  if (broken > 0 || processorS > BAR.seconds || movedPct > BAR.movedPct) process.exitCode = 1;
}
