/**
 * `npm test`: everything that tells whether all is well, in one run and one tally. Goes on after a failure, so that
 * the tally is whole. `--quick` leaves out the build and the browser. Plain Node: it also installs the packages.
 *
 * The tally counts the tests of vitest and Playwright, and each other step as one.
 */
import { readFileSync, rmSync } from "node:fs";
import path from "node:path";
import {
  endRunning,
  ensureBuilt,
  ensureInstalled,
  nodeProblem,
  ROOT,
  run,
} from "../app/_server/readiness.mjs";

const quick = process.argv.includes("--quick");
const REPORTS = path.join(ROOT, "test-results");
const UNIT_REPORT = path.join(REPORTS, "unit.json");
const BROWSER_REPORT = path.join(REPORTS, "browser.json");

const bin = (name) => path.join(ROOT, "node_modules/.bin", name);

/** A step that is right or wrong as a whole. */
const whole = (isRight) => (isRight ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 });

/** A red exit code must show in the tally, also when no single test is to blame (a file that does not load). */
function counted(exitCode, counts) {
  if (!counts) return whole(false);
  return { ...counts, failed: exitCode !== 0 && counts.failed === 0 ? 1 : counts.failed };
}

function read(file) {
  try {
    return JSON.parse(readFileSync(file, "utf8"));
  } catch {
    return undefined;
  }
}

async function unitTests() {
  rmSync(UNIT_REPORT, { force: true });
  const reports = ["--reporter=default", "--reporter=json", `--outputFile.json=${UNIT_REPORT}`];
  const code = await run(bin("vitest"), ["run", ...reports]);
  const report = read(UNIT_REPORT);
  return counted(
    code,
    report && {
      passed: report.numPassedTests,
      failed: report.numFailedTests,
      skipped: report.numPendingTests + report.numTodoTests,
    },
  );
}

async function browserTests() {
  rmSync(BROWSER_REPORT, { force: true });
  const code = await run(bin("playwright"), ["test"], { BOTHENDS_AS_IS: "1" });
  const stats = read(BROWSER_REPORT)?.stats;
  return counted(
    code,
    // A test that passed only at the second try is no passed test.
    stats && { passed: stats.expected, failed: stats.unexpected + stats.flaky, skipped: stats.skipped },
  );
}

const steps = [
  ["packages installed", async () => whole(await ensureInstalled())],
  ["lint and format", async () => whole((await run(bin("biome"), ["check", "--error-on-warnings"])) === 0)],
  [
    "types",
    async () =>
      whole(
        (await run(bin("next"), ["typegen"])) === 0 && (await run(bin("tsc"), ["-p", ".", "--noEmit"])) === 0,
      ),
  ],
  ["unit tests", unitTests],
  ...(quick
    ? []
    : [
        ["pages built", async () => whole(await ensureBuilt())],
        ["browser tests", browserTests],
      ]),
];

for (const signal of ["SIGINT", "SIGTERM"])
  process.on(signal, () => {
    endRunning(signal);
    process.exit(signal === "SIGINT" ? 130 : 143);
  });

const problem = nodeProblem();
if (problem) {
  console.error(problem);
  console.log("0 passed, 1 failed");
  process.exit(1);
}

const table = [];
for (const [name, work] of steps) {
  console.log(`\n== ${name}`);
  const began = performance.now();
  const tally = await work();
  table.push({ name, seconds: (performance.now() - began) / 1000, skipped: 0, ...tally });
  if (name === "packages installed" && tally.failed) break; // nothing else can run
}

const sum = (what) => table.reduce((total, row) => total + row[what], 0);
console.log("");
for (const { name, seconds, passed, failed, skipped } of table)
  console.log(
    `${failed ? "FAILED" : "ok    "}  ${name.padEnd(20)} ${seconds.toFixed(1).padStart(7)} s   ` +
      `${passed} passed, ${failed} failed${skipped ? `, ${skipped} skipped` : ""}`,
  );
process.exitCode = sum("failed") > 0 ? 1 : 0;
console.log(
  `\n${sum("passed")} passed, ${sum("failed")} failed${sum("skipped") ? `, ${sum("skipped")} skipped` : ""}`,
);
