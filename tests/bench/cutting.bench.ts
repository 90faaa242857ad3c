/**
 * Bin packing on published sets: bins against the best known, the lower bound, the share proved, time.
 *
 *   npx tsx tests/bench/cutting.bench.ts -- [--data DIR] [--seconds N] [--seed S] [--only TEXT] [--json FILE]
 *
 * DIR holds bin-packing/best-known.csv and one file a case: number of items, capacity, then the sizes.
 * Default DIR: the environment variable BENCH_DATA, else ../shared/data. N: most seconds a case (default 1);
 * --seconds 0 measures the interactive method with its default allowance.
 */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";
import { bestFitDecreasing, packBins } from "@/lib/drums";
import { Random } from "@/lib/random";

interface Row {
  name: string;
  items: number;
  best: number;
  bins: number;
  lowerBound: number;
  bestFit: number;
  millis: number;
}

const { values } = parseArgs({
  args: process.argv.slice(2).filter((arg) => arg !== "--"),
  options: {
    data: { type: "string", default: process.env.BENCH_DATA ?? "../shared/data" },
    seconds: { type: "string", default: "1" },
    seed: { type: "string", default: "1" },
    only: { type: "string", default: "" },
    json: { type: "string" },
  },
});

const dir = path.join(values.data, "bin-packing");
const list = path.join(dir, "best-known.csv");
if (!existsSync(list)) {
  console.log(`Not run: no published bin-packing sets at ${dir} (set BENCH_DATA or --data).`);
  process.exit(0);
}

const seconds = Number(values.seconds);
const rows: Row[] = [];
for (const line of readFileSync(list, "utf8").trim().split("\n").slice(1)) {
  const [name, , , , , best] = line.split(",");
  if (!name?.includes(values.only)) continue;
  rows.push(run(name, Number(best)));
}
report(rows);
if (values.json) {
  writeFileSync(values.json, JSON.stringify({ bench: "cutting", seconds, seed: values.seed, rows }, null, 1));
}

function run(name: string, best: number): Row {
  const text = readFileSync(path.join(dir, `${name}.txt`), "utf8");
  const [count, capacity, ...sizes] = text.split(/\s+/).filter(Boolean).map(Number);
  const items = sizes.slice(0, count);
  const start = performance.now();
  const packing = packBins(items, capacity!, {
    random: new Random(`${values.seed}/${name}`),
    ...(seconds > 0
      ? { effort: Number.POSITIVE_INFINITY, shouldStop: () => performance.now() - start > seconds * 1000 }
      : {}),
  });
  const millis = performance.now() - start;
  check(name, packing.bins, items, capacity!);
  return {
    name,
    items: items.length,
    best,
    bins: packing.bins.length,
    lowerBound: packing.lowerBound,
    bestFit: bestFitDecreasing(items, capacity!).length,
    millis,
  };
}

/** Every item in exactly one bin, no bin over its capacity. */
function check(name: string, bins: readonly number[][], items: readonly number[], capacity: number): void {
  const seen = bins.flat().sort((a, b) => a - b);
  if (seen.length !== items.length || seen.some((item, k) => item !== k))
    throw new Error(`${name}: items lost`);
  for (const bin of bins) {
    if (bin.reduce((sum, item) => sum + items[item]!, 0) > capacity)
      throw new Error(`${name}: bin over capacity`);
  }
}

function report(all: readonly Row[]): void {
  const setOf = (row: Row) => row.name.replace(/_[^_]*$/, "");
  const head = ["set", "cases", "at best known", "bins over", "proved", "best-fit over", "ms mean", "ms max"];
  console.log(head.join("\t"));
  for (const set of [...new Set(all.map(setOf)), "all"]) {
    const group = all.filter((row) => set === "all" || setOf(row) === set);
    const sum = (of: (row: Row) => number) => group.reduce((total, row) => total + of(row), 0);
    console.log(
      [
        set,
        group.length,
        sum((row) => Number(row.bins <= row.best)),
        sum((row) => row.bins - row.best),
        sum((row) => Number(row.bins === row.lowerBound)),
        sum((row) => row.bestFit - row.best),
        (sum((row) => row.millis) / Math.max(1, group.length)).toFixed(1),
        Math.max(0, ...group.map((row) => row.millis)).toFixed(0),
      ].join("\t"),
    );
  }
  for (const row of all) {
    if (row.bins > row.best) console.log(`over: ${row.name} ${row.bins} bins, best known ${row.best}`);
    if (row.bins < row.best || row.lowerBound > row.bins) console.log(`WRONG: ${JSON.stringify(row)}`);
  }
}
