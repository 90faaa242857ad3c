/**
 * Drum cutting on made-up cases of 500 runs, 40 drums and 3 kinds to buy, with and without binding dates, then bin
 * packing on published sets: the quick method and the exact one, against the bound and the best known number of bins.
 *
 *   npm run bench:cutting -- [--data DIR] [--seconds N] [--seed S] [--only TEXT] [--json FILE]
 *
 * DIR holds bin-packing/best-known.csv (case first, best known number of bins under "best") and one file a case: number of
 * items, capacity, then the sizes. Default DIR: the environment variable BENCH_DATA, else ../shared/data.
 * N: most CPU seconds a case for the exact method (default 30; 5 for the drum cases at most). TEXT: part of a case's name;
 * "drums" runs the drum cases alone.
 *
 * Without --json the bench takes cases of all sets in turn and ends after 15 minutes. With it every case is run; each
 * row is written when it is done, and a row that is there already is not run again, so a run can be taken up again.
 */
import { existsSync, readFileSync } from "node:fs";
import { loadavg } from "node:os";
import path from "node:path";
import loadHighs from "highs";
import {
  type CuttingPlan,
  cutDrums,
  DEFAULT_CUT_POLICY,
  highsSolver,
  packBins,
  validateCutting,
} from "@/lib/drums";
import { Random } from "@/lib/random";
import { addDays, calendarDate } from "@/lib/time";
import { benchOptions, figuresOf, keepRow, keptRows } from "./publishedSet";

const SAMPLE_SECONDS = 14 * 60;
const DRUM_SECONDS = 5;
/** The set whose proofs are counted apart: chosen by its authors because it was hard. */
const HARD = "Hard28";

/** Times are CPU milliseconds of this process, `wallMillis` what a clock on the wall saw. */
interface Figures {
  seconds: number;
  seed: string;
  quickMillis: number;
  millis: number;
  wallMillis: number;
}

interface BinRow extends Figures {
  name: string;
  items: number;
  best: number;
  quick: number;
  bins: number;
  lowerBound: number;
}

interface DrumRow extends Figures {
  name: string;
  late: number;
  quickPriceMinor: number;
  priceMinor: number;
  priceBoundMinor: number;
  drums: number;
  drumsBound: number;
}

const options = benchOptions({ set: "bin-packing", seconds: "30" });
const solver = highsSolver(await loadHighs());
console.log(
  `load ${loadavg()[0]!.toFixed(1)}, at most ${options.seconds} CPU s a case, seed ${options.seed}`,
);
const rows = new Map(keptRows<BinRow | DrumRow>(options.json, options).map((row) => [row.name, row]));
const began = performance.now();
let leftOut = 0;

for (const isDated of [false, true]) {
  for (const k of [1, 2, 3, 4]) {
    const name = `drums ${isDated ? "dated" : "undated"} ${k}`;
    once(name, () => drumRow(name, isDated, k));
  }
}
reportDrums([...rows.values()].filter((row) => "drums" in row));

if (existsSync(options.folder)) {
  const known = figuresOf(options.folder, "best-known.csv");
  for (const name of inTurn([...known.keys()])) once(name, () => binRow(name, known.get(name)!.get("best")!));
  reportBins([...rows.values()].filter((row) => "bins" in row));
} else {
  console.log(`not run: no published bin packing in ${options.folder} (set BENCH_DATA or --data)`);
}
if (leftOut > 0) console.log(`${leftOut} cases left out after 15 minutes; --json FILE runs all`);

/** Runs a case that is wanted and not in the file yet. */
function once(name: string, run: () => BinRow | DrumRow): void {
  if (!name.includes(options.only) || rows.has(name)) return;
  if (!options.json && performance.now() - began > SAMPLE_SECONDS * 1000) {
    leftOut++;
    return;
  }
  const row = run();
  rows.set(name, row);
  keepRow(options.json, row);
}

/** The first case of each set, then the second of each, and so on. */
function inTurn(names: readonly string[]): string[] {
  const seen = new Map<string, number>();
  const turn = new Map<string, number>();
  for (const name of names) {
    const n = seen.get(setOf(name)) ?? 0;
    seen.set(setOf(name), n + 1);
    turn.set(name, n);
  }
  return [...names].sort((a, b) => turn.get(a)! - turn.get(b)!);
}

function setOf(name: string): string {
  return name.replace(/_[^_]*$/, "");
}

/** What a piece of work gives and takes. */
function timed<T>(work: () => T): { value: T; millis: number; wallMillis: number } {
  const wall = performance.now();
  const before = process.cpuUsage();
  const value = work();
  const { user, system } = process.cpuUsage(before);
  return { value, millis: (user + system) / 1000, wallMillis: performance.now() - wall };
}

function timesOf(quick: { millis: number }, exact: { millis: number; wallMillis: number }): Figures {
  const { seconds, seed } = options;
  return { seconds, seed, quickMillis: quick.millis, millis: exact.millis, wallMillis: exact.wallMillis };
}

/** CPU seconds: what others do on the machine takes nothing from a case. */
function stopAfter(seconds: number): () => boolean {
  const start = process.cpuUsage();
  return () => {
    const { user, system } = process.cpuUsage(start);
    return user + system > seconds * 1e6;
  };
}

/** Dated: needs spread from today on, so that short drums with short lead times are bought. Else all kinds are in time. */
function drumRow(name: string, isDated: boolean, k: number): DrumRow {
  const random = new Random(`${options.seed}/drums/${k}`);
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
  const cut = (extra: Partial<Parameters<typeof cutDrums>[4]>): CuttingPlan => {
    const [plan] = cutDrums(runs, drums, kinds, DEFAULT_CUT_POLICY, { today, ...extra });
    return plan!;
  };
  // The middle of several times, as a server has it that has cut before.
  const times = Array.from({ length: 15 }, () => timed(() => cut({}))).sort((a, b) => a.millis - b.millis);
  const quick = times[7]!;
  const seconds = Math.min(DRUM_SECONDS, options.seconds);
  const exact = timed(() => cut({ exact: { solver, startTime: () => stopAfter(seconds) } }));
  for (const { value } of [quick, exact]) {
    const problems = validateCutting(value, runs, drums, DEFAULT_CUT_POLICY, { kinds });
    if (problems.length > 0) throw new Error(problems[0]!.message);
  }
  return {
    name,
    late: exact.value.late.length,
    quickPriceMinor: quick.value.newDrumPriceMinor!,
    priceMinor: exact.value.newDrumPriceMinor!,
    priceBoundMinor: exact.value.newDrumPriceLowerBoundMinor!,
    drums: exact.value.newDrumCount,
    drumsBound: exact.value.newDrumLowerBound,
    ...timesOf(quick, exact),
  };
}

function reportDrums(all: readonly DrumRow[]): void {
  if (all.length === 0) return;
  console.log("case\tlate\tquick price\tprice\tbound\tgap %\tquick over %\tdrums\tbound\tquick ms\tms");
  for (const row of all) {
    const over = (price: number, of: number) => ((100 * (price - of)) / of).toFixed(2);
    console.log(
      [
        row.name,
        row.late,
        row.quickPriceMinor,
        row.priceMinor,
        row.priceBoundMinor,
        over(row.priceMinor, row.priceBoundMinor),
        over(row.quickPriceMinor, row.priceMinor),
        row.drums,
        row.drumsBound,
        row.quickMillis.toFixed(0),
        row.millis.toFixed(0),
      ].join("\t"),
    );
  }
}

function binRow(name: string, best: number): BinRow {
  const text = readFileSync(path.join(options.folder, `${name}.txt`), "utf8");
  const [count, capacity, ...sizes] = text.split(/\s+/).filter(Boolean).map(Number);
  const items = sizes.slice(0, count);
  const random = () => new Random(`${options.seed}/${name}`);
  const quick = timed(() => packBins(items, capacity!, { random: random() }));
  const shouldStop = stopAfter(options.seconds);
  const exact = timed(() => packBins(items, capacity!, { random: random(), solver, shouldStop }));
  for (const { value } of [quick, exact]) check(name, value.bins, items, capacity!);
  return {
    name,
    items: items.length,
    best,
    quick: quick.value.bins.length,
    bins: exact.value.bins.length,
    lowerBound: exact.value.lowerBound,
    ...timesOf(quick, exact),
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

function reportBins(all: readonly BinRow[]): void {
  if (all.length === 0) return;
  const head = ["set", "cases", "at best known", "proved", "quick at best", "quick over %", "quick ms max"];
  console.log([...head, "ms mean", "ms max", "wall ms max"].join("\t"));
  const line = (title: string, group: readonly BinRow[]) => {
    if (group.length === 0) return;
    const sum = (of: (row: BinRow) => number) => group.reduce((total, row) => total + of(row), 0);
    const most = (of: (row: BinRow) => number) => Math.max(...group.map(of));
    console.log(
      [
        title,
        group.length,
        sum((row) => Number(row.bins <= row.best)),
        sum((row) => Number(row.bins === row.lowerBound)),
        sum((row) => Number(row.quick <= row.best)),
        ((100 * sum((row) => row.quick - row.best)) / sum((row) => row.best)).toFixed(2),
        most((row) => row.quickMillis).toFixed(0),
        (sum((row) => row.millis) / group.length).toFixed(0),
        most((row) => row.millis).toFixed(0),
        most((row) => row.wallMillis).toFixed(0),
      ].join("\t"),
    );
  };
  for (const set of new Set(all.map((row) => setOf(row.name)))) {
    line(
      set,
      all.filter((row) => setOf(row.name) === set),
    );
  }
  line(
    `all but ${HARD}`,
    all.filter((row) => setOf(row.name) !== HARD),
  );
  line("all", all);
  for (const row of all) {
    if (row.bins > row.best) console.log(`over: ${row.name} ${row.bins} bins, best known ${row.best}`);
    if (row.bins < row.best || row.lowerBound > row.best) console.log(`WRONG: ${JSON.stringify(row)}`);
    if (row.bins !== row.lowerBound)
      console.log(`not proved: ${row.name} ${row.bins} bins, bound ${row.lowerBound}`);
  }
}
