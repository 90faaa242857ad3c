/**
 * Published home care cases with skills and visits by two carers at once or in sequence, against the best known cost
 * (a third each of travel, tardiness and largest tardiness). Seconds are processor seconds of this process.
 *
 *   npm run bench:sync -- [--data DIR] [--set NAME] [--seconds N] [--seed S] [--only TEXT] [--json FILE]
 *
 * Without --set every second case (some five minutes at 20 s a case); with --set sync-visits all. Rows that FILE
 * already holds are not run again.
 */
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { type JointStop, routeJointVisits } from "@/lib/schedule";
import { MEASURED_HEADS, type Measured, measuredCells, tableOf, tellFaults, tellGaps } from "./gapTable";
import { parseHomeCare, SCALE } from "./homeCare";
import { checkJointVisits } from "./jointChecker";
import { ProcessorBudget } from "./processorTime";
import { figuresOf, keepRow, keptRows, publishedSet } from "./publishedSet";

interface Row extends Measured {
  patients: number;
  crews: number;
  travel: number;
  tardiness: number;
  largestTardiness: number;
  cost: number;
  routes: JointStop[][];
}

const HEADS = [
  "case",
  "patients",
  "crews",
  "travel",
  "tardiness",
  "largest",
  "cost",
  "best known",
  ...MEASURED_HEADS,
];
const SAMPLE_EVERY = 2;
const options = publishedSet({ set: "", seconds: "20" });
const isSample = options.set === "";
const folder = path.join(options.data, options.set || "sync-visits");
const best = figuresOf(folder, "best-known.csv");
const before = keptRows<Row>(options.json, options);
const names = readdirSync(folder)
  .filter((f) => f.endsWith(".json") && !f.endsWith(".sol.json") && f.includes(options.only))
  .map((f) => f.replace(/\.json$/, ""))
  .sort((a, b) => a.localeCompare(b, "en", { numeric: true }))
  .filter((_, i) => !isSample || i % SAMPLE_EVERY === 0);

console.log(`${path.basename(folder)}, ${options.seconds} processor seconds a case, seed ${options.seed}`);
const rows = tableOf(HEADS, names, rowOf, cellsOf);
for (const size of [...new Set(rows.map((row) => row.patients))])
  tellGaps(
    `${size} patients`,
    rows.filter((row) => row.patients === size),
  );
tellGaps(
  "up to 50 patients",
  rows.filter((row) => row.patients <= 50),
);
tellGaps(
  "above 50 patients",
  rows.filter((row) => row.patients > 50),
);
tellFaults(rows);

function rowOf(name: string): Row {
  const kept = before.find((row) => row.name === name);
  if (kept) return kept;
  const row = run(name);
  keepRow(options.json, row);
  return row;
}

function run(name: string): Row {
  const { problem } = parseHomeCare(name, readFileSync(path.join(folder, `${name}.json`), "utf8"));
  const budget = new ProcessorBudget(options.seconds);
  const result = routeJointVisits(problem, {
    seed: options.seed,
    maxIterations: Number.MAX_SAFE_INTEGER,
    shouldStop: budget.shouldStop,
    timeShare: budget.share,
  });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  const { routes, iterations } = result.value;
  const { processorS, wallS } = budget.spent();
  const checked = checkJointVisits(problem, routes);
  const known = best.get(name)?.get("cost") ?? Number.NaN;
  return {
    name,
    seconds: options.seconds,
    seed: options.seed,
    patients: problem.visits.length,
    crews: problem.crews,
    travel: checked.travel / SCALE,
    tardiness: checked.tardiness / SCALE,
    largestTardiness: checked.largestTardiness / SCALE,
    cost: checked.cost / SCALE,
    known,
    gapPct: (100 * (checked.cost / SCALE - known)) / known,
    iterations,
    processorS,
    wallS,
    faults: checked.faults,
    routes,
  };
}

function cellsOf(row: Row): (string | number)[] {
  return [
    row.name.replace(/^Instanz(CPLEX|VNS)_HCSRP_/, ""),
    row.patients,
    row.crews,
    row.travel.toFixed(1),
    row.tardiness.toFixed(1),
    row.largestTardiness.toFixed(1),
    row.cost.toFixed(2),
    row.known.toFixed(2),
    ...measuredCells(row),
  ];
}
