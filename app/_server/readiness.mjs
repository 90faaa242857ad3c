/**
 * What must be true before the product can run or be tested: packages installed, pages built. Plain Node without
 * dependencies, because it runs before the install. Used by start.mjs and tests/run.mjs.
 */
import { spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

export const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "../..");
export const NEXT = path.join(ROOT, "node_modules/next/dist/bin/next");

const NODE_LEAST = [20, 9];
const LOCK = path.join(ROOT, "package-lock.json");
const INSTALLED = path.join(ROOT, "node_modules/.bothends-lock");
const BUILT = path.join(ROOT, ".next/bothends-sources");

/** What a build is made from; a change elsewhere (tests, docs, seed) needs no new one. */
const SOURCES = ["app", "db", "lib", "public"];
const SOURCE_FILES = [
  "next.config.ts",
  "postcss.config.mjs",
  "proxy.ts",
  "tsconfig.json",
  "package-lock.json",
];

/** Why this Node cannot run it, as a sentence; undefined when it can. */
export function nodeProblem(version = process.versions.node) {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  if (major > NODE_LEAST[0] || (major === NODE_LEAST[0] && minor >= NODE_LEAST[1])) return undefined;
  return `Bothends needs Node ${NODE_LEAST.join(".")} or newer; this is ${version}. Install a newer Node and start again.`;
}

const hashOf = (text) => createHash("sha256").update(text).digest("hex");

function readOr(file, otherwise) {
  try {
    return readFileSync(file, "utf8");
  } catch {
    return otherwise;
  }
}

/** Whether node_modules holds what the lock file asks for. */
function isInstalled() {
  const lock = readFileSync(LOCK, "utf8");
  if (readOr(INSTALLED, undefined) === hashOf(lock)) return true;
  // Somebody ran npm by hand: its own record of what it put there says whether that was what this lock file wants.
  const record = readOr(path.join(ROOT, "node_modules/.package-lock.json"), undefined);
  if (record === undefined) return false;
  const present = JSON.parse(record).packages;
  return Object.entries(JSON.parse(lock).packages).every(([name, wanted]) => {
    if (name === "" || wanted.link) return true;
    const there = present[name];
    return there
      ? there.version === wanted.version
      : Boolean(wanted.optional || wanted.peer || wanted.extraneous);
  });
}

/** The database driver is compiled when no ready-made one fits; say so before npm does in its own words. */
function warnWithoutCompiler() {
  const has = (program) => spawnSync(program, ["--version"], { stdio: "ignore" }).status === 0;
  const missing = [
    has("python3") || has("python") ? undefined : "python3",
    process.platform === "win32" || has("make") || has("gmake") ? undefined : "make",
    process.platform === "win32" || has("c++") || has("g++") || has("clang++")
      ? undefined
      : "a C++ compiler (g++)",
  ].filter(Boolean);
  if (missing.length === 0) return;
  console.warn(
    `Note: ${missing.join(", ")} not found. The database driver (better-sqlite3) may have to be compiled during the\n` +
      "install; if npm stops with an error below, install them first (Debian: apt-get install python3 make g++)\n" +
      "and start again.",
  );
}

const running = new Set();

/** Sends a signal to a child and everything it started; the child must lead a group of its own. */
export function signalGroup(child, signal) {
  if (child.exitCode !== null || child.signalCode !== null || child.pid === undefined) return;
  try {
    process.kill(process.platform === "win32" ? child.pid : -child.pid, signal);
  } catch (thrown) {
    if (thrown.code !== "ESRCH") throw thrown;
  }
}

/** Ends whatever `run` has under way. */
export function endRunning(signal = "SIGTERM") {
  for (const child of running) signalGroup(child, signal);
}

/** Runs a program to its end with its output shown; resolves to its exit code. */
export function run(program, args, env = {}) {
  return new Promise((resolve) => {
    const child = spawn(program, args, {
      cwd: ROOT,
      env: { ...process.env, ...env },
      stdio: ["ignore", "inherit", "inherit"],
      detached: process.platform !== "win32", // a group of its own, so that all of it can be ended
      shell: process.platform === "win32" && program === "npm",
    });
    running.add(child);
    child.on("error", (thrown) => {
      running.delete(child);
      console.error(`${program}: ${thrown.message}`);
      resolve(127);
    });
    child.on("exit", (code) => {
      running.delete(child);
      resolve(code ?? 1);
    });
  });
}

/**
 * `BOTHENDS_AS_IS=1`: packages and pages are taken as they stand. A test run sets it for its servers, which must
 * neither swap the pages under each other nor install side by side.
 */
const asIs = () => process.env.BOTHENDS_AS_IS === "1";

/** Writes whole or not at all: another start may be reading the file at this moment. */
function stamp(file, value) {
  if (readOr(file, undefined) === value) return;
  mkdirSync(path.dirname(file), { recursive: true });
  writeFileSync(`${file}.${process.pid}`, value);
  renameSync(`${file}.${process.pid}`, file);
}

/** Installs the packages when they are missing or the lock file has changed. True when all is there. */
export async function ensureInstalled() {
  if (asIs() && existsSync(NEXT)) return true;
  if (!isInstalled()) {
    warnWithoutCompiler();
    console.log("Installing packages (some minutes the first time) ...");
    if ((await run("npm", ["ci", "--include=dev", "--no-audit", "--no-fund"])) !== 0) return false;
  }
  stamp(INSTALLED, hashOf(readFileSync(LOCK, "utf8")));
  return true;
}

function filesUnder(folder) {
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const full = path.join(folder, entry.name);
      return entry.isDirectory() ? filesUnder(full) : [full];
    });
}

/** One value that changes when anything does from which the pages are built. */
function sourcesHash() {
  const hash = createHash("sha256").update(process.version);
  const files = SOURCES.map((name) => path.join(ROOT, name))
    .filter((folder) => existsSync(folder))
    .flatMap(filesUnder)
    .concat(SOURCE_FILES.map((name) => path.join(ROOT, name)).filter((file) => existsSync(file)));
  for (const file of files) hash.update(path.relative(ROOT, file)).update("\0").update(readFileSync(file));
  return hash.digest("hex");
}

/** Builds the pages when their sources have changed since the last build. True when a build stands. */
export async function ensureBuilt() {
  const hash = sourcesHash();
  const built = readOr(BUILT, undefined);
  if (built !== undefined && (built === hash || asIs())) return true;
  console.log("Building the pages (about a minute) ...");
  rmSync(BUILT, { force: true });
  // Types that a development server left name routes of its day; one that is gone since would fail the build.
  rmSync(path.join(ROOT, ".next/dev/types"), { recursive: true, force: true });
  if (
    (await run(process.execPath, [NEXT, "build"], {
      NODE_ENV: "production",
      NEXT_TELEMETRY_DISABLED: "1",
    })) !== 0
  )
    return false;
  // Not counted anew: what changed while the build ran is not in it, and must bring the next one about.
  stamp(BUILT, hash);
  return true;
}
