/**
 * Bin packing on published sets: bins against the best known, the lower bound, the share proved, time. Then drum cutting
 * on seeded cases of 500 runs, 40 drums and 3 kinds to buy, with and without binding dates: gap to the bound, time.
 *
 *   npx tsx tests/bench/cutting.bench.ts -- [--data DIR] [--seconds N] [--seed S] [--only TEXT] [--json FILE]
 *
 * DIR holds bin-packing/best-known.csv and one file a case: number of items, capacity, then the sizes.
 * Default DIR: the environment variable BENCH_DATA, else ../shared/data. N: most seconds a case (default 1);
 * --seconds 0 measures the interactive method with its default allowance. TEXT: part of a case's name; "drums" runs
 * the drum cases alone.
 */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";
import { bestFitDecreasing, cutDrums, DEFAULT_CUT_POLICY, packBins, validateCutting } from "@/lib/drums";
import { Random } from "@/lib/random";
import { addDays, calendarDate } from "@/lib/time";

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

const seconds = Number(values.seconds);
const dir = path.join(values.data, "bin-packing");
const rows = binRows();
const drumRows = [false, true].flatMap((isDated) => [1, 2, 3, 4].map((k) => drumRow(isDated, k)));
reportDrums(drumRows);
if (values.json) {
  const result = { bench: "cutting", seconds, seed: values.seed, rows, drumRows };
  writeFileSync(values.json, JSON.stringify(result, null, 1));
}

function binRows(): Row[] {
  const list = path.join(dir, "best-known.csv");
  if (!existsSync(list)) {
    console.log(`Not run: no published bin-packing sets at ${dir} (set BENCH_DATA or --data).`);
    return [];
  }
  const all: Row[] = [];
  for (const line of readFileSync(list, "utf8").trim().split("\n").slice(1)) {
    const [name, , , , , best] = line.split(",");
    if (name?.includes(values.only)) all.push(run(name, Number(best)));
  }
  if (all.length > 0) report(all);
  return all;
}

/** The time allowance as options of the method. */
function allowance() {
  const start = performance.now();
  if (seconds === 0) return {};
  return {
    effort: Number.POSITIVE_INFINITY,
    shouldStop: () => performance.now() - start > seconds * 1000,
  };
}

interface DrumRow {
  name: string;
  drums: number;
  drumsBound: number;
  priceMinor: number;
  priceBoundMinor: number;
  late: number;
  millis: number;
}

/** Dated: needs spread from today on, so that short drums with short lead times are bought. Else all kinds are in time. */
function drumRow(isDated: boolean, k: number): DrumRow {
  const random = new Random(`${values.seed}/drums/${k}`);
  const today = calendarDate("2026-03-02");
  const cable = { cableCode: "C10", placeId: "depot", receivedCm: 50_000 };
  const runs = Array.from({ length: 500 }, (_, i) => ({
    id: `r${i}`,
    cableCode: "C10",
    lengthCm: 50 * (30 + random.below(270)),
    neededOn: addDays(today, isDated ? random.below(90) : 30 + random.below(60)),
    hopId: `h${i >> 2}`,
    endId: `e${i >> 1}`,
    siteId: `s${i >> 1}`,
    label: `r${i}`,
  }));
  const drums = Array.from({ length: 40 }, (_, i) => ({
    ...cable,
    id: `d${i}`,
    serial: `d${i}`,
    remainingCm: i < 30 ? 100 * (8 + random.below(200)) : 50_000,
    availableOn: i < 35 ? today : addDays(today, 20),
    isNew: i >= 30,
  }));
  const kinds = [
    { cableCode: "C10", lengthCm: 50_000, priceMinor: 90_000, leadTimeDays: 21 },
    { cableCode: "C10", lengthCm: 30_000, priceMinor: 57_000, leadTimeDays: 14 },
    { cableCode: "C10", lengthCm: 10_000, priceMinor: 20_000, leadTimeDays: 7 },
  ];
  const start = performance.now();
  const [plan] = cutDrums(runs, drums, kinds, DEFAULT_CUT_POLICY, { today, ...allowance() });
  const millis = performance.now() - start;
  const problems = validateCutting(plan!, runs, drums, DEFAULT_CUT_POLICY, { kinds });
  if (problems.length > 0) throw new Error(problems[0]!.message);
  return {
    name: `drums ${isDated ? "dated" : "undated"} ${k}`,
    drums: plan!.newDrumCount,
    drumsBound: plan!.newDrumLowerBound,
    priceMinor: plan!.newDrumPriceMinor ?? 0,
    priceBoundMinor: plan!.newDrumPriceLowerBoundMinor ?? 0,
    late: plan!.late.length,
    millis,
  };
}

function reportDrums(all: readonly DrumRow[]): void {
  console.log("case\tnew drums\tbound\tprice\tbound\tgap %\tlate\tms");
  for (const row of all) {
    const gap = (100 * (row.priceMinor - row.priceBoundMinor)) / row.priceBoundMinor;
    const figures = [
      row.drums,
      row.drumsBound,
      row.priceMinor,
      row.priceBoundMinor,
      gap.toFixed(2),
      row.late,
    ];
    console.log([row.name, ...figures, row.millis.toFixed(0)].join("\t"));
  }
}

function run(name: string, best: number): Row {
  const text = readFileSync(path.join(dir, `${name}.txt`), "utf8");
  const [count, capacity, ...sizes] = text.split(/\s+/).filter(Boolean).map(Number);
  const items = sizes.slice(0, count);
  const start = performance.now();
  const packing = packBins(items, capacity!, {
    random: new Random(`${values.seed}/${name}`),
    ...allowance(),
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
