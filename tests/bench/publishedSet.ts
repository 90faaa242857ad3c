/** What the benches of published sets share: their options, the folder, and its list of best known figures. */
import { appendFileSync, existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";

export interface PublishedSet {
  /** Folder of all sets, name of the set, and its folder; without a name the folder of all. */
  data: string;
  set: string;
  folder: string;
  seconds: number;
  seed: string;
  /** File to write the rows to. */
  json?: string;
  /** Only cases whose name has this in it. */
  only: string;
}

/** Reads `--data DIR --set NAME --seconds N --seed S --json FILE --only TEXT`. The folder need not be there. */
export function benchOptions(defaults: { set: string; seconds: string }): PublishedSet {
  const { values } = parseArgs({
    args: process.argv.slice(2).filter((a) => a !== "--"),
    options: {
      data: { type: "string", default: process.env.BENCH_DATA ?? "../shared/data" },
      set: { type: "string", default: defaults.set },
      seconds: { type: "string", default: defaults.seconds },
      seed: { type: "string", default: "1" },
      json: { type: "string" },
      only: { type: "string", default: "" },
    },
  });
  const { data, set, seconds, seed, json, only } = values;
  return { data, set, folder: path.join(data, set), seconds: Number(seconds), seed, json, only };
}

/** The same; says so and ends when the data are absent. */
export function publishedSet(defaults: { set: string; seconds: string }): PublishedSet {
  const options = benchOptions(defaults);
  if (!existsSync(options.folder)) {
    console.log(`not run: no benchmark data in ${options.folder} (set BENCH_DATA or --data)`);
    process.exit(0);
  }
  return options;
}

/** The folder's CSV: by the first column, the others by their heads, in their order. */
export function figuresOf(folder: string, file: string): Map<string, Map<string, number>> {
  const [heads, ...lines] = readFileSync(path.join(folder, file), "utf8")
    .trim()
    .split(/\r?\n/)
    .map((line) => line.split(","));
  return new Map(
    lines.map((cells) => [
      cells[0]!,
      new Map(cells.slice(1).map((cell, i): [string, number] => [heads![i + 1]!, Number(cell)])),
    ]),
  );
}

/** Rows of an earlier run with the same seconds and seed: one JSON object a line. */
export function keptRows<Row extends { seconds: number; seed: string }>(
  json: string | undefined,
  { seconds, seed }: { seconds: number; seed: string },
): Row[] {
  if (json === undefined || !existsSync(json)) return [];
  return readFileSync(json, "utf8")
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => JSON.parse(line) as Row)
    .filter((row) => row.seconds === seconds && row.seed === seed);
}

export function keepRow(json: string | undefined, row: object): void {
  if (json !== undefined) appendFileSync(json, `${JSON.stringify(row)}\n`);
}
