/**
 * Published vehicle routing cases with time windows against their optimal distances.
 * npx tsx tests/bench/routing.bench.ts -- --data DIR --seconds N --seed S --json FILE --only C1
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { routeVisits } from "@/lib/schedule";
import { figuresOf, publishedSet } from "./publishedSet";
import { checkRoutes } from "./routeChecker";
import { parseSolomon, unscaled } from "./solomon";

const set = publishedSet({ set: "vrptw-100", seconds: "1" });
const best = figuresOf(set.folder, "best-known.csv");
const millis = 1000 * set.seconds;
const names = readdirSync(set.folder)
  .filter((f) => f.endsWith(".txt") && f.includes(set.only))
  .map((f) => f.replace(/\.txt$/, ""))
  .sort((a, b) => a.localeCompare(b, "en", { numeric: true }));

console.log("case      routes  distance      best   gap %  iterations/s  faults");
const rows = names.map((name) => {
  const problem = parseSolomon(readFileSync(path.join(set.folder, `${name}.txt`), "utf8"));
  const startedAt = performance.now();
  const result = routeVisits(problem, {
    seed: set.seed,
    maxIterations: Number.MAX_SAFE_INTEGER,
    shouldStop: () => performance.now() - startedAt > millis,
    timeShare: () => (performance.now() - startedAt) / millis,
  });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  const seconds = (performance.now() - startedAt) / 1000;
  const { faults, distance } = checkRoutes(problem, result.value.routes);
  const known = best.get(name) ?? Number.NaN;
  const gapPct = (100 * (unscaled(distance) - known)) / known;
  const perSecond = Math.round(result.value.iterations / seconds);
  const cells = [
    name.padEnd(8),
    String(result.value.routes.length).padStart(7),
    unscaled(distance).toFixed(1).padStart(9),
    known.toFixed(1).padStart(9),
    gapPct.toFixed(2).padStart(7),
    String(perSecond).padStart(13),
    String(faults.length).padStart(7),
  ];
  console.log(cells.join(" "));
  for (const fault of faults.slice(0, 3)) console.log(`    ${fault}`);
  return {
    name,
    routes: result.value.routes,
    distance: unscaled(distance),
    known,
    gapPct,
    perSecond,
    seconds,
    faults,
  };
});
const gaps = rows.map((r) => r.gapPct).filter(Number.isFinite);
const mean = gaps.reduce((a, b) => a + b, 0) / gaps.length;
console.log(
  `${gaps.length} cases, mean gap ${mean.toFixed(2)} %, largest ${Math.max(...gaps).toFixed(2)} %, ${set.seconds} s a case`,
);
if (set.json)
  writeFileSync(
    set.json,
    JSON.stringify({ set: path.basename(set.folder), seed: set.seed, mean, rows }, null, 1),
  );
if (rows.some((r) => r.faults.length > 0)) process.exitCode = 1;
