/**
 * Published resource-constrained projects (PSPLIB) against their published optima.
 * npx tsx tests/bench/project.bench.ts -- --data DIR --seconds N --seed S --json FILE
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";
import { solveProject } from "@/lib/hours";
import { Random } from "@/lib/random";
import { parsePsplib } from "./psplib";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: {
    data: { type: "string", default: process.env.BENCH_DATA ?? "../shared/data" },
    set: { type: "string", default: "rcpsp-j30" },
    seconds: { type: "string", default: "10" },
    seed: { type: "string", default: "1" },
    json: { type: "string" },
    only: { type: "string", default: "" },
  },
});

const folder = path.join(values.data, values.set);
if (!existsSync(folder)) {
  console.log(`not run: no benchmark data in ${folder} (set BENCH_DATA or --data)`);
  process.exit(0);
}
const optima = new Map(
  readFileSync(path.join(folder, "optimum.csv"), "utf8")
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .map((line) => line.split(",") as [string, string])
    .map(([name, value]) => [name, Number(value)]),
);
const seconds = Number(values.seconds);
const names = readdirSync(folder)
  .filter((f) => f.endsWith(".sm") && f.includes(values.only))
  .map((f) => f.replace(/\.sm$/, ""))
  .sort((a, b) => a.localeCompare(b, "en", { numeric: true }));

console.log("instance        value  bound  optimum  proved  gap %  conflicts      s");
const rows = names.map((name) => {
  const project = parsePsplib(readFileSync(path.join(folder, `${name}.sm`), "utf8"));
  const startedAt = performance.now();
  const shouldStop = (): boolean => performance.now() - startedAt > 1000 * seconds;
  const budget = { nodes: Number.MAX_SAFE_INTEGER, passes: 200, shouldStop };
  const found = solveProject(project, budget, new Random(values.seed));
  const s = (performance.now() - startedAt) / 1000;
  const optimum = optima.get(name);
  const gapPct = optimum === undefined ? Number.NaN : (100 * (found.makespan - optimum)) / optimum;
  const cells = [found.makespan, found.lowerBound, optimum ?? "?"].map((v) => String(v).padStart(6));
  console.log(
    `${name.padEnd(14)} ${cells.join(" ")}   ${found.proved ? "proved" : "    no"}  ${gapPct.toFixed(2).padStart(5)}  ${String(found.nodes).padStart(9)}  ${s.toFixed(3).padStart(6)}`,
  );
  const { makespan, lowerBound, proved, nodes } = found;
  return { name, makespan, lowerBound, proved, nodes, optimum, gapPct, seconds: s };
});

const known = rows.filter((r) => r.optimum !== undefined);
const mean = (list: number[]): number => list.reduce((a, b) => a + b, 0) / Math.max(1, list.length);
const summary = {
  set: values.set,
  seed: values.seed,
  secondsPerCase: seconds,
  cases: rows.length,
  proved: rows.filter((r) => r.proved).length,
  atOptimum: known.filter((r) => r.makespan === r.optimum).length,
  provedWrongly: known.filter((r) => r.proved && r.makespan !== r.optimum).length,
  meanGapPct: mean(known.map((r) => r.gapPct)),
  meanSeconds: mean(rows.map((r) => r.seconds)),
  worstSeconds: Math.max(0, ...rows.map((r) => r.seconds)),
};
console.log(summary);
if (values.json) writeFileSync(values.json, `${JSON.stringify({ summary, rows }, null, 2)}\n`);
