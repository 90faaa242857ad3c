/**
 * The risk of the demonstration's plan: from the stored rows to shares and dates, and the runs alone.
 *
 *     npx tsx tests/bench/risk.bench.ts -- --runs 2000
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { parseArgs } from "node:util";
import { refreshEstimates } from "@/app/_server/planning";
import { migrateDatabase } from "@/db/migrate";
import { openDatabase } from "@/db/open";
import { loadKeptPast } from "@/db/queries/pastWeather";
import { loadPlanVisits, planInForce } from "@/db/queries/plans";
import { loadProgrammeInput } from "@/db/queries/programme";
import { riskInputOf } from "@/lib/programme";
import { simulatePlan } from "@/lib/risk";
import { calendarDate } from "@/lib/time";
import { loadDemo } from "@/seed/load";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: { runs: { type: "string", default: "2000" } },
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

try {
  const db = openDatabase(path.join(folder, "demo.sqlite"));
  migrateDatabase(db);
  loadDemo(db, today);
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
    `  demonstration: ${placed.length} visits, ${problem.crews.length} crews, ${problem.windows.length} windows, ` +
      `followed for ${problem.dayCount} days, ${past?.years.length ?? 0} past years`,
  );
  console.log(`  problem and weather put together: ${prepareS.toFixed(2)} s CPU`);
  let risk: ReturnType<typeof simulatePlan> | undefined;
  const runS = cpuSeconds(() => {
    risk = simulatePlan(riskInput, { seed: "bench", runs });
  });
  console.log(
    `  ${runs} runs: ${runS.toFixed(2)} s CPU, ${((1e6 * runS) / (runs * placed.length)).toFixed(2)} us a visit`,
  );
  const day = (min?: number) => (min === undefined ? "not ended" : `day ${Math.floor(min / 1440)}`);
  const { plannedMin, p50Min, p80Min, unfinishedShare } = risk!.programme!;
  console.log(
    `  programme: planned ${day(plannedMin)}, P50 ${day(p50Min)}, P80 ${day(p80Min)}, ` +
      `${(100 * unfinishedShare).toFixed(1)} % not ended`,
  );
  console.log(`  hours lost: ${risk!.lostH.map((l) => `${l.cause} ${l.hours.toFixed(0)}`).join(", ")}`);
  if (runs >= 2000 && runS > MOST_CPU_S) process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
