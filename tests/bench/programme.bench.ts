/**
 * The whole path on the demonstration and on a large programme: load, estimate, plan, judge. The search is given
 * processor seconds; the other times are by the wall clock.
 *
 *     npx tsx tests/bench/programme.bench.ts -- --sites 2000 --seconds 30
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { parseArgs } from "node:util";
import { makePlan, refreshEstimates } from "@/app/_server/planning";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { loadProgrammeInput } from "@/db/queries/programme";
import { planProgramme } from "@/lib/programme";
import { judge } from "@/lib/schedule";
import { calendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";
import { loadScale } from "@/seed/scale";
import { ProcessorBudget } from "./processorTime";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: {
    sites: { type: "string", default: "2000" },
    seconds: { type: "string", default: "20" },
  },
});

const today = calendarDate("2026-03-16");
const folder = mkdtempSync(path.join(tmpdir(), "bothends-bench-"));
const seconds = (from: number) => ((performance.now() - from) / 1000).toFixed(1);

function fresh(name: string): Db {
  const db = openDatabase(path.join(folder, name));
  migrateDatabase(db);
  return db;
}

function measure(db: Db, dayCount: number, searchSeconds: number): void {
  const t0 = performance.now();
  const input = loadProgrammeInput(db, { today, dayCount, frozenDays: 0 });
  console.log(`  read from the database: ${seconds(t0)} s`);
  const t1 = performance.now();
  const worked = refreshEstimates(db, input);
  console.log(`  take-off and hours of ${input.hops.length * 2} ends, first time: ${seconds(t1)} s`);
  const t2 = performance.now();
  refreshEstimates(db, input);
  console.log(`  the same when nothing changed: ${seconds(t2)} s`);
  const t3 = performance.now();
  let budget: ProcessorBudget | undefined;
  const made = planProgramme(input, {
    seed: "bench",
    maxIterations: Number.POSITIVE_INFINITY,
    worked,
    onStage: (stage) => {
      console.log(`  ${stage}: at ${seconds(t3)} s`);
      if (stage === "crews") budget = new ProcessorBudget(searchSeconds);
    },
    shouldStop: () => budget?.shouldStop() ?? false,
  });
  if (!made.ok) throw new Error(made.problems.map((p) => p.message).join(" "));
  const { plan, problem, visits } = made.value;
  const blocked = problem.visits.filter((v) => v.blockedBy).length;
  const placeable = visits.length - blocked;
  const broken = judge(problem, plan);
  console.log(
    `  planned in ${seconds(t3)} s: ${plan.placed.length} of ${placeable} placeable visits ` +
      `(${((100 * plan.placed.length) / placeable).toFixed(2)} %), ${blocked} blocked, ${plan.iterations} iterations, ` +
      `${broken.length} rules broken, memory ${(process.memoryUsage().rss / 1e6).toFixed(0)} MB`,
  );
  console.log(`  cost ${JSON.stringify(plan.cost)}\n  bound ${plan.lowerBound.toFixed(0)}`);
  if (broken.length > 0) process.exitCode = 1;
}

try {
  console.log("demonstration, 12 weeks");
  const demo = fresh("demo.sqlite");
  const t = performance.now();
  loadDemo(demo, today);
  console.log(`  loaded with its plan: ${seconds(t)} s`);
  measure(demo, 84, 10);
  const state = demo.$client.prepare("SELECT COUNT(*) FROM plan_visit WHERE crew_code IS NOT NULL").pluck();
  console.log(`  stored plan: ${state.get()} visits placed`);

  const sites = Number(values.sites);
  console.log(
    `${sites} sites, ${sites / 2} hops, ${sites / 50} crews, ${sites / 10} weather places, 26 weeks`,
  );
  const large = fresh("large.sqlite");
  const t1 = performance.now();
  loadScale(large, today, {
    sites,
    hops: sites / 2,
    crews: sites / 50,
    weatherPlaces: sites / 10,
    weeks: 26,
    years: 6,
  });
  console.log(`  made and stored: ${seconds(t1)} s`);
  measure(large, 182, Number(values.seconds));
  const t2 = performance.now();
  const stored = makePlan(
    large,
    {
      today,
      dayCount: 182,
      frozenDays: 0,
      seed: "store",
      maxIterations: 1,
      seconds: Number.POSITIVE_INFINITY,
      state: "in force",
      createdBy: "bench",
      createdAt: 0,
    },
    { report: () => {}, shouldStop: () => false, nowMillis: () => 0 },
  );
  console.log(`  first plan made and stored: ${seconds(t2)} s, ${stored.ok ? "in force" : "refused"}`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
