/**
 * Published vehicle routing cases against their best known figures: 100 customers by distance; 200 and more by
 * vehicles, then distance; skills and several depots by distance. Seconds are processor seconds of this process, so
 * that other work on the machine does not change the figures.
 *
 *   npm run bench:routing -- [--data DIR] [--set NAME] [--seconds N] [--seed S] [--only TEXT] [--json FILE]
 *
 * Without --set a sample of every set (some ten minutes at 10 s a case); with --set all cases of it. Rows that FILE
 * already holds are not run again, so a long run can be broken off and taken up.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { type Route, type RoutingCase, routeVisits } from "@/lib/schedule";
import { MEASURED_HEADS, type Measured, measuredCells, tableOf, tellFaults, tellGaps } from "./gapTable";
import { ProcessorBudget } from "./processorTime";
import { figuresOf, keepRow, keptRows, publishedSet } from "./publishedSet";
import { checkRoutes } from "./routeChecker";
import { parseSolomon, SCALE } from "./solomon";
import { parseVrplib } from "./vrplib";

interface SetKind {
  name: string;
  aim: "distance" | "vehicles";
  read: (text: string) => RoutingCase;
  /** Units of the case in a unit of its best known figure. */
  scale: number;
  /** Every how many cases one is in the sample. */
  sampleEvery: number;
}

const solomon = (text: string) => parseSolomon(text);
const solomonExact = (text: string) => parseSolomon(text, true);
const SETS: readonly SetKind[] = [
  { name: "vrptw-100", aim: "distance", read: solomon, scale: SCALE, sampleEvery: 3 },
  { name: "vrptw-200", aim: "vehicles", read: solomonExact, scale: SCALE, sampleEvery: 2 },
  { name: "vrptw-400", aim: "vehicles", read: solomonExact, scale: SCALE, sampleEvery: 2 },
  { name: "vrptw-1000", aim: "vehicles", read: solomonExact, scale: SCALE, sampleEvery: 2 },
  { name: "site-dependent", aim: "distance", read: parseVrplib, scale: 1, sampleEvery: 2 },
  { name: "multi-depot", aim: "distance", read: parseVrplib, scale: 1, sampleEvery: 2 },
];

const HEADS = ["case", "customers", "vehicles", "best known", "distance", "best known", ...MEASURED_HEADS];

interface Row extends Measured {
  set: string;
  customers: number;
  vehicles: number;
  knownVehicles?: number;
  distance: number;
  routes: Route[];
}

const options = publishedSet({ set: "", seconds: "10" });
const chosen = SETS.filter(
  (set) => (options.set === "" || options.set === set.name) && existsSync(path.join(options.data, set.name)),
);
if (chosen.length === 0) console.log(`not run: no routing set "${options.set}" in ${options.data}`);
const before = keptRows<Row>(options.json, options);
for (const set of chosen) runSet(set);

function runSet(set: SetKind): void {
  const folder = path.join(options.data, set.name);
  const best = figuresOf(folder, "best-known.csv");
  const files = readdirSync(folder)
    .filter((f) => /\.(txt|vrp)$/.test(f) && f.includes(options.only))
    .sort((a, b) => a.localeCompare(b, "en", { numeric: true }))
    .filter((_, i) => options.set !== "" || i % set.sampleEvery === 0);
  if (files.length === 0) return;
  console.log(`\n${set.name}, ${options.seconds} processor seconds a case, seed ${options.seed}`);
  const rows = tableOf(HEADS, files, (file) => rowOf(set, folder, file, best), cellsOf);
  summarise(set, rows);
}

function rowOf(
  set: SetKind,
  folder: string,
  file: string,
  best: ReadonlyMap<string, ReadonlyMap<string, number>>,
): Row {
  const name = file.replace(/\.\w+$/, "");
  const kept = before.find((row) => row.set === set.name && row.name === name);
  if (kept) return kept;
  const row = run(set, name, readFileSync(path.join(folder, file), "utf8"), best.get(name));
  keepRow(options.json, row);
  return row;
}

function run(set: SetKind, name: string, text: string, known?: ReadonlyMap<string, number>): Row {
  const problem = set.read(text);
  const budget = new ProcessorBudget(options.seconds);
  const result = routeVisits(problem, {
    seed: options.seed,
    aim: set.aim,
    maxIterations: Number.MAX_SAFE_INTEGER,
    shouldStop: budget.shouldStop,
    timeShare: budget.share,
  });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  const { routes, iterations } = result.value;
  const { processorS, wallS } = budget.spent();
  const { faults, distance } = checkRoutes(problem, routes);
  const bestDistance = known?.get(set.aim === "vehicles" ? "distance_double" : lastOf(known)) ?? Number.NaN;
  return {
    set: set.name,
    name,
    seconds: options.seconds,
    seed: options.seed,
    customers: problem.demand.length - problem.depots,
    vehicles: routes.length,
    knownVehicles: set.aim === "vehicles" ? known?.get("vehicles") : undefined,
    distance: distance / set.scale,
    known: bestDistance,
    gapPct: (100 * (distance / set.scale - bestDistance)) / bestDistance,
    iterations,
    processorS,
    wallS,
    faults,
    routes,
  };
}

function lastOf(known: ReadonlyMap<string, number>): string {
  return [...known.keys()].at(-1) ?? "";
}

function cellsOf(row: Row): (string | number)[] {
  return [
    row.name,
    row.customers,
    row.vehicles,
    row.knownVehicles ?? "",
    row.distance.toFixed(1),
    row.known.toFixed(1),
    ...measuredCells(row),
  ];
}

/** Gaps of all and by class; where vehicles come first, over cases with no more than the best known. */
function summarise(set: SetKind, rows: readonly Row[]): void {
  if (set.aim === "vehicles") {
    const sum = (of: (row: Row) => number) => rows.reduce((total, row) => total + of(row), 0);
    console.log(`vehicles: ${sum((r) => r.vehicles)}, best known ${sum((r) => r.knownVehicles ?? 0)}`);
  }
  const even = rows.filter((row) => row.knownVehicles === undefined || row.vehicles <= row.knownVehicles);
  tellGaps("all", even);
  const classOf = (row: Row) => /^[a-z]+[12]/i.exec(row.name)?.[0]?.toUpperCase() ?? "";
  if (set.name.startsWith("vrptw"))
    for (const part of [...new Set(even.map(classOf))].sort())
      tellGaps(
        `class ${part}`,
        even.filter((row) => classOf(row) === part),
      );
  tellFaults(rows);
}
