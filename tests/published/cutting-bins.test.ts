/** Cutting stock and bin packing: cases with published or proved optima, the heuristics' own values beside them. */
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import loadHighs from "highs";
import { describe, expect, it } from "vitest";
import { bestFitDecreasing, binsBound, firstFitDecreasing, highsSolver, packBins } from "@/lib/drums";
import { Master } from "@/lib/drums/master";

const solver = highsSolver(await loadHighs());

interface Row {
  source: string;
  mark: string;
  capacity: number;
  sizes: number[];
  demand?: number[];
  firstFit?: number;
  bestFit?: number;
  optimum: number;
  materialBound?: number;
  /** Value of the relaxation over all patterns. */
  relaxation?: number;
  /** Candidate moves that it takes; the default allowance ends one bin above. */
  effort?: number;
}

const ROWS: Row[] = [
  {
    source: "first-fit and best-fit decreasing both fail; optimum by exhaustion",
    mark: "C",
    capacity: 15,
    sizes: [7, 6, 5, 4, 4, 4],
    firstFit: 3,
    bestFit: 3,
    optimum: 2,
  },
  {
    source: "best-fit decreasing fails, first-fit decreasing does not; optimum by exhaustion",
    mark: "C",
    capacity: 60,
    sizes: [44, 24, 24, 22, 21, 17, 8, 8, 6, 6],
    firstFit: 3,
    bestFit: 4,
    optimum: 3,
  },
  {
    source: "full bins without waste; optimum by exhaustion",
    mark: "C",
    capacity: 10,
    sizes: [4, 8, 5, 1, 7, 6, 1, 4, 2, 2],
    firstFit: 4,
    bestFit: 4,
    optimum: 4,
  },
  {
    source: "drum of 500 m; LP 6.6364, optimum by integer programming",
    mark: "C",
    capacity: 500,
    sizes: [220, 180, 140, 90],
    demand: [4, 6, 5, 7],
    relaxation: 6.6364,
    optimum: 7,
    materialBound: 7,
  },
  {
    source: "Gilmore and Gomory's column generation example: LP 452.25",
    mark: "data V, optimum R",
    capacity: 100,
    sizes: [45, 36, 31, 14],
    demand: [97, 610, 395, 211],
    relaxation: 452.25,
    optimum: 453,
    materialBound: 416,
  },
  {
    source: "the encyclopaedia's paper roll example: material bound 72.7071, LP 72.9167",
    mark: "data V, optimum M + R",
    capacity: 5600,
    sizes: [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200],
    demand: [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20],
    relaxation: 72.9167,
    optimum: 73,
    effort: 20_000_000,
    materialBound: 73,
  },
];

const itemsOf = (row: Row): number[] =>
  row.sizes.flatMap((size, k) => new Array(row.demand?.[k] ?? 1).fill(size));

describe("published cutting and packing cases", () => {
  it.each(ROWS)("$source", (row) => {
    const items = itemsOf(row);
    const first = firstFitDecreasing(items, row.capacity).length;
    if (row.firstFit !== undefined) expect(first, row.source).toBe(row.firstFit);
    if (row.bestFit !== undefined) {
      expect(bestFitDecreasing(items, row.capacity).length, row.source).toBe(row.bestFit);
    }
    // Dosa 2007: FFD <= 11/9 OPT + 6/9 (V).
    expect(9 * first, `${row.source}: first-fit guarantee`).toBeLessThanOrEqual(11 * row.optimum + 6);

    const { bins, lowerBound } = packBins(items, row.capacity, { effort: row.effort });
    expect(bins.length, row.source).toBe(row.optimum);
    expect(lowerBound, row.source).toBeLessThanOrEqual(row.optimum);
    expect(binsBound(items, row.capacity), row.source).toBeGreaterThanOrEqual(row.materialBound ?? 0);

    const exact = packBins(items, row.capacity, { solver });
    expect(exact.bins.length, row.source).toBe(row.optimum);
    expect(exact.lowerBound, `${row.source}: proof`).toBe(row.optimum);
    if (row.relaxation !== undefined) {
      const sizes = row.sizes.map((length, k) => ({ length, demand: row.demand![k]! }));
      // At a price in fine steps the bound is within a step of the value before the master is content.
      const price = 1_000_000;
      const drum = {
        capacity: row.capacity,
        sizeCount: sizes.length,
        supply: Number.POSITIVE_INFINITY,
        price,
      };
      const master = new Master(sizes, [drum], solver);
      const { value } = master.solve({
        enough: 0,
        wanted: Number.POSITIVE_INFINITY,
        shouldStop: () => false,
      });
      master.dispose();
      expect(value / price, `${row.source}: relaxation`).toBeCloseTo(row.relaxation, 4);
    }
  });
});

const DATA = path.join(process.env.BENCH_DATA ?? "../shared/data", "bin-packing");
const isThere = existsSync(path.join(DATA, "best-known.csv"));

describe("published bin-packing sets", () => {
  it(
    isThere ? "a sample is packed to the best known number" : "not run: the sets are absent (set BENCH_DATA)",
    () => {
      if (!isThere) {
        expect(existsSync(DATA)).toBe(false);
        return;
      }
      const best = new Map(
        readFileSync(path.join(DATA, "best-known.csv"), "utf8")
          .trim()
          .split("\n")
          .slice(1)
          .map((line) => line.split(","))
          .map((fields) => [fields[0]!, Number(fields[5])]),
      );
      // Some of each kind, and the three whose best packing is one bin above the relaxation rounded up.
      for (const name of [
        "Falkenauer_u120_01",
        "Falkenauer_u500_00",
        "Falkenauer_t60_05",
        "Falkenauer_t249_07",
        "Schwerin1_BPP1",
        "Hard28_BPP716",
        "Hard28_BPP175",
        "Waescher_TEST0022",
      ]) {
        const [count, capacity, ...sizes] = readFileSync(path.join(DATA, `${name}.txt`), "utf8")
          .split(/\s+/)
          .filter(Boolean)
          .map(Number);
        if (!best.has(name)) throw new Error(`${name} is not in best-known.csv`);
        const { bins, lowerBound } = packBins(sizes.slice(0, count), capacity!, { solver });
        expect(bins.length, name).toBe(best.get(name));
        expect(lowerBound, name).toBe(best.get(name));
      }
    },
  );
});
