/** What the benches of published sets share: their options, the folder, and its list of best known figures. */
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";

export interface PublishedSet {
  folder: string;
  seconds: number;
  seed: string;
  /** File to write the rows to. */
  json?: string;
  /** Only cases whose name has this in it. */
  only: string;
}

/** Reads `--data DIR --set NAME --seconds N --seed S --json FILE --only TEXT`; says so and ends when the data are absent. */
export function publishedSet(defaults: { set: string; seconds: string }): PublishedSet {
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
  const folder = path.join(values.data, values.set);
  if (!existsSync(folder)) {
    console.log(`not run: no benchmark data in ${folder} (set BENCH_DATA or --data)`);
    process.exit(0);
  }
  const { seed, json, only } = values;
  return { folder, seconds: Number(values.seconds), seed, json, only };
}

/** Last column of the folder's CSV by its first. */
export function figuresOf(folder: string, file: string): Map<string, number> {
  return new Map(
    readFileSync(path.join(folder, file), "utf8")
      .trim()
      .split(/\r?\n/)
      .slice(1)
      .map((line) => line.split(","))
      .map((cells) => [cells[0]!, Number(cells.at(-1))]),
  );
}
