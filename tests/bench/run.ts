/**
 * `npm run bench`: runs every `*.bench.ts` in this folder, one after the other, each in a process of its own.
 * Names given on the command line choose: `npm run bench -- cutting`.
 */
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { cpus, totalmem } from "node:os";
import path from "node:path";

const here = import.meta.dirname;
const chosen = process.argv.slice(2);
const benches = readdirSync(here)
  .filter((name) => name.endsWith(".bench.ts"))
  .filter((name) => chosen.length === 0 || chosen.some((wanted) => name.startsWith(wanted)))
  .sort();

if (benches.length === 0) {
  console.error(`no benchmark is called ${chosen.join(" or ")}`);
  process.exit(1);
}

const gib = Math.round(totalmem() / 2 ** 30);
console.log(`Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? "processor"}, ${gib} GiB`);

let failed = 0;
for (const name of benches) {
  console.log(`\n== ${name.replace(".bench.ts", "")}`);
  const began = performance.now();
  const { status } = spawnSync(process.execPath, ["--import", "tsx", path.join(here, name)], {
    stdio: "inherit",
  });
  if (status !== 0) failed++;
  console.log(`${status === 0 ? "done" : "FAILED"} in ${((performance.now() - began) / 1000).toFixed(1)} s`);
}
process.exitCode = failed > 0 ? 1 : 0;
