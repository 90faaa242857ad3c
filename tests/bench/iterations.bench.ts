/**
 * What a step of the crew plan's search costs as programmes grow: processor microseconds an iteration, and the first
 * plan. Writes the plot of docs/methods/schedule.md when asked to.
 *
 *     npx tsx tests/bench/iterations.bench.ts -- --steps 1500 --plot docs/pictures/iterations.svg
 */
import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { type ScheduleProblem, schedule } from "@/lib/schedule";
import { syntheticProgramme } from "@/seed/syntheticProgramme";
import { logPlot, type Series } from "./logPlot";
import { ProcessorBudget } from "./processorTime";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: { steps: { type: "string", default: "1500" }, plot: { type: "string" } },
});

const HOPS = [50, 100, 200, 400, 800, 1600];
const KINDS = [
  { label: "a day for each hop", workShare: 1 },
  { label: "several hops a day", workShare: 0.4 },
];

function spent(problem: ScheduleProblem, maxIterations: number): number {
  const budget = new ProcessorBudget(Number.POSITIVE_INFINITY);
  const result = schedule(problem, { seed: "steps", maxIterations });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return budget.spent().processorS;
}

console.log("| hops | visits | crews | work | first plan, s | microseconds an iteration |");
console.log("| --- | --- | --- | --- | --- | --- |");
const steps = Number(values.steps);
const series: Series[] = KINDS.map(({ label, workShare }) => ({
  label,
  points: HOPS.map((hops) => {
    const crews = Math.max(4, Math.round(hops / 40));
    const problem = syntheticProgramme({ seed: "steps", sites: hops, hops, crews, weeks: 26, workShare });
    spent(problem, 50); // the first run also compiles
    const first = spent(problem, 0);
    const micros = (1e6 * (spent(problem, steps) - first)) / steps;
    console.log(
      `| ${hops} | ${problem.visits.length} | ${crews} | ${label} | ${first.toFixed(2)} | ${Math.round(micros)} |`,
    );
    return { x: problem.visits.length, y: micros };
  }),
}));
if (values.plot) writeFileSync(values.plot, logPlot({ x: "visits", y: "microseconds an iteration", series }));
