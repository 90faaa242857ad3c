/**
 * The risk of a plan: from the stored rows to shares and dates, and the runs alone. The demonstration's plan; with
 * `--sites` the first plan of a large programme too.
 *
 *     npx tsx tests/bench/risk.bench.ts -- --runs 2000 --sites 2000
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { parseArgs } from "node:util";
import { makePlan, refreshEstimates } from "@/app/_server/planning";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { loadKeptPast } from "@/db/queries/pastWeather";
import { loadPlanVisits, planInForce } from "@/db/queries/plans";
import { loadProgrammeInput } from "@/db/queries/programme";
import { riskInputOf } from "@/lib/programme";
import { simulatePlan } from "@/lib/risk";
import { calendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";
import { loadScale } from "@/seed/scale";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: { runs: { type: "string", default: "2000" }, sites: { type: "string", default: "0" } },
});
const runs = Number(values.runs);
/** CPU seconds of one core for 2,000 runs of the demonstration. */
const MOST_CPU_S = 5;

const today = calendarDate("2026-03-16");
const folder = mkdtempSync(path.join(tmpdir(), "bothends-bench-"));

/** Of this process, all threads: what the machine does for others is not in it. */
function cpuSeconds(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
}

function fresh(name: string): Db {
  const db = openDatabase(path.join(folder, name));
  migrateDatabase(db);
  return db;
}

/** @returns CPU seconds of the runs alone */
function measure(name: string, db: Db): number {
  const rows = loadPlanVisits(db, planInForce(db)!.id);
  const input = loadProgrammeInput(db, { today, dayCount: 1, frozenDays: 0 });
  const worked = refreshEstimates(db, input);
  let prepared: ReturnType<typeof riskInputOf> | undefined;
  const prepareS = cpuSeconds(() => {
    prepared = riskInputOf(input, rows, { worked, keptPast: loadKeptPast(db, input) });
  });
  const { input: riskInput } = prepared!;
  const { problem, placed, past } = riskInput;
  console.log(
    `  ${name}: ${placed.length} visits, ${problem.crews.length} crews, ${problem.windows.length} windows, ` +
      `followed for ${problem.dayCount} days, ${past?.years.length ?? 0} past years`,
  );
  console.log(`  problem and weather put together: ${prepareS.toFixed(2)} s CPU`);
  let risk: ReturnType<typeof simulatePlan> | undefined;
  const runS = cpuSeconds(() => {
    risk = simulatePlan(riskInput, { seed: "bench", runs });
  });
  console.log(
    `  ${runs} runs: ${runS.toFixed(2)} s CPU, ${((1e6 * runS) / (runs * placed.length)).toFixed(2)} us a visit, ` +
      `memory ${(process.memoryUsage().rss / 1e6).toFixed(0)} MB`,
  );
  const day = (min?: number) => (min === undefined ? "not ended" : `day ${Math.floor(min / 1440)}`);
  const { plannedMin, p50Min, p80Min, unfinishedShare } = risk!.programme!;
  console.log(
    `  programme: planned ${day(plannedMin)}, P50 ${day(p50Min)}, P80 ${day(p80Min)}, ` +
      `${(100 * unfinishedShare).toFixed(1)} % not ended`,
  );
  console.log(`  hours lost: ${risk!.lostH.map((l) => `${l.cause} ${l.hours.toFixed(0)}`).join(", ")}`);
  return runS;
}

try {
  const demo = fresh("demo.sqlite");
  loadDemo(demo, today);
  const demoS = measure("demonstration", demo);
  if (runs >= 2000 && demoS > MOST_CPU_S) process.exitCode = 1;

  const sites = Number(values.sites);
  if (sites > 0) {
    const large = fresh("large.sqlite");
    const weatherPlaces = Math.ceil(sites / 10);
    loadScale(large, today, {
      sites,
      hops: sites / 2,
      crews: Math.ceil(sites / 50),
      weatherPlaces,
      weeks: 26,
      years: 6,
    });
    const made = makePlan(
      large,
      {
        today,
        dayCount: 182,
        frozenDays: 0,
        seed: "bench",
        maxIterations: 1,
        seconds: Number.POSITIVE_INFINITY,
        state: "in force",
        createdBy: "bench",
        createdAt: 0,
      },
      { report: () => {}, shouldStop: () => false, nowMillis: () => 0 },
    );
    if (!made.ok) throw new Error(made.problems.map((p) => p.message).join(" "));
    measure(`${sites} sites`, large);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
