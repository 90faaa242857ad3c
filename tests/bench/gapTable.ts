/** The tables of the routing benches: markdown, so that they can be pasted. */

/** What a run of any case tells. */
export interface Measured {
  name: string;
  seconds: number;
  seed: string;
  known: number;
  gapPct: number;
  iterations: number;
  processorS: number;
  wallS: number;
  faults: string[];
}

export const MEASURED_HEADS = ["gap %", "iterations/s", "processor s", "wall s", "faults"];

export function measuredCells(row: Measured): (string | number)[] {
  return [
    row.gapPct.toFixed(2),
    Math.round(row.iterations / row.processorS),
    row.processorS.toFixed(1),
    row.wallS.toFixed(1),
    row.faults.length,
  ];
}

/** Runs `run` for each name, or takes the row of an earlier run; prints each as it comes, with its first faults. */
export function tableOf<Row extends { faults: string[] }>(
  heads: readonly string[],
  names: readonly string[],
  row: (name: string) => Row,
  cells: (row: Row) => readonly (string | number)[],
): Row[] {
  console.log(`| ${heads.join(" | ")} |\n|${" --- |".repeat(heads.length)}`);
  return names.map((name) => {
    const made = row(name);
    console.log(`| ${cells(made).join(" | ")} |`);
    for (const fault of made.faults.slice(0, 3)) console.log(`    ${fault}`);
    return made;
  });
}

/** Mean and largest gap of those that have one; nothing when none has. */
export function tellGaps(what: string, rows: readonly { gapPct: number }[]): void {
  const gaps = rows.map((row) => row.gapPct).filter(Number.isFinite);
  if (gaps.length === 0) return;
  const mean = gaps.reduce((a, b) => a + b, 0) / gaps.length;
  const largest = Math.max(...gaps);
  console.log(
    `${what}: ${gaps.length} cases, mean gap ${mean.toFixed(2)} %, largest ${largest.toFixed(2)} %`,
  );
}

/** How many faults all rows have; any makes the run fail. */
export function tellFaults(rows: readonly { faults: string[] }[]): void {
  const faults = rows.reduce((total, row) => total + row.faults.length, 0);
  console.log(`faults: ${faults}`);
  if (faults > 0) process.exitCode = 1;
}
