/**
 * Published resource-constrained projects (PSPLIB) against their published optima.
 * npx tsx tests/bench/project.bench.ts -- --data DIR --seconds N --seed S --json FILE
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { solveProject } from "@/lib/hours";
import { Random } from "@/lib/random";
import { parsePsplib } from "./psplib";
import { figuresOf, publishedSet } from "./publishedSet";

const set = publishedSet({ set: "rcpsp-j30", seconds: "10" });
const optima = figuresOf(set.folder, "optimum.csv");
const names = readdirSync(set.folder)
  .filter((f) => f.endsWith(".sm") && f.includes(set.only))
  .map((f) => f.replace(/\.sm$/, ""))
  .sort((a, b) => a.localeCompare(b, "en", { numeric: true }));

console.log("instance        value  bound  optimum  proved  gap %  conflicts      s");
const rows = names.map((name) => {
  const project = parsePsplib(readFileSync(path.join(set.folder, `${name}.sm`), "utf8"));
  const startedAt = performance.now();
  const shouldStop = (): boolean => performance.now() - startedAt > 1000 * set.seconds;
  const budget = { nodes: Number.MAX_SAFE_INTEGER, passes: 200, shouldStop };
  const found = solveProject(project, budget, new Random(set.seed));
  const s = (performance.now() - startedAt) / 1000;
  const optimum = optima.get(name)?.get("makespan");
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
  set: path.basename(set.folder),
  seed: set.seed,
  secondsPerCase: set.seconds,
  cases: rows.length,
  proved: rows.filter((r) => r.proved).length,
  atOptimum: known.filter((r) => r.makespan === r.optimum).length,
  provedWrongly: known.filter((r) => r.proved && r.makespan !== r.optimum).length,
  meanGapPct: mean(known.map((r) => r.gapPct)),
  meanSeconds: mean(rows.map((r) => r.seconds)),
  worstSeconds: Math.max(0, ...rows.map((r) => r.seconds)),
};
console.log(summary);
if (set.json) writeFileSync(set.json, `${JSON.stringify({ summary, rows }, null, 2)}\n`);
