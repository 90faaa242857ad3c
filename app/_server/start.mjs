/**
 * The supervisor: `npm start` runs this and nothing else. Installs, prepares the data folder, builds when needed,
 * then keeps the web server and the worker process running until it is told to stop. `--dev` serves from source.
 *
 * Environment: PORT (3000), HOST (all addresses), BOTHENDS_DATA (./data), BOTHENDS_DEMO=0 (own data instead of the
 * demonstration), BOTHENDS_URL (public address behind a proxy, read at run time), BOTHENDS_TLS_CERT and
 * BOTHENDS_TLS_KEY (PEM files: serve https on PORT), BOTHENDS_NOW (stops the clock).
 */
import { spawn } from "node:child_process";
import { randomBytes } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import net from "node:net";
import path from "node:path";
import { serveHttps } from "./https.mjs";
import {
  endRunning,
  ensureBuilt,
  ensureInstalled,
  NEXT,
  nodeProblem,
  ROOT,
  signalGroup,
} from "./readiness.mjs";

const dev = process.argv.includes("--dev");
const port = Number(process.env.PORT || 3000);
const host = process.env.HOST || undefined;
const dataFolder = path.resolve(ROOT, process.env.BOTHENDS_DATA || "data");
const certificate =
  process.env.BOTHENDS_TLS_CERT && process.env.BOTHENDS_TLS_KEY
    ? { cert: process.env.BOTHENDS_TLS_CERT, key: process.env.BOTHENDS_TLS_KEY }
    : undefined;
const address = process.env.BOTHENDS_URL || `${certificate ? "https" : "http"}://localhost:${port}`;
const lockFile = path.join(dataFolder, "server.pid");

const READY_WITHIN_MILLIS = 90_000;
/** Between the polite and the hard signal when stopping, ms. */
const STOP_GRACE_MILLIS = 4_000;
const RESTART_FIRST_MILLIS = 250;
const RESTART_MOST_MILLIS = 10_000;

const children = new Map();
let stopping = false;
let ownsLock = false;

function fail(message) {
  console.error(message);
  void stop(1);
}

/** Ends the children, gives the data folder free, and exits. The first call decides the code. */
async function stop(code) {
  if (stopping) return;
  stopping = true;
  const ended = [...children.values()].map(
    (child) =>
      child.exitCode !== null ||
      child.signalCode !== null ||
      new Promise((resolve) => child.once("exit", resolve)),
  );
  endRunning();
  for (const child of children.values()) signalGroup(child, "SIGTERM");
  const hard = setTimeout(() => {
    for (const child of children.values()) signalGroup(child, "SIGKILL");
  }, STOP_GRACE_MILLIS);
  await Promise.all(ended);
  clearTimeout(hard);
  if (ownsLock) rmSync(lockFile, { force: true });
  process.exit(code);
}

for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"]) process.on(signal, () => void stop(0));

/** Run through npm, a signal may end npm and its shell only; without them nobody is left to tell us. */
function stopWithNpm() {
  if (!process.env.npm_lifecycle_event || process.platform === "win32") return;
  const parent = process.ppid;
  setInterval(() => {
    if (process.ppid !== parent) void stop(0);
  }, 500).unref();
}

function start(name, args, { env = {}, output = "inherit" } = {}) {
  const child = spawn(process.execPath, args, {
    cwd: ROOT,
    env: { ...process.env, ...env },
    stdio: ["ignore", output, "inherit"],
    detached: process.platform !== "win32", // a group of its own, so that all of it can be ended
  });
  children.set(name, child);
  return child;
}

/** Runs a script to its end and gives what it printed; undefined when it failed. */
function outputOf(name, args, env) {
  return new Promise((resolve) => {
    const child = start(name, args, { env, output: "pipe" });
    let printed = "";
    child.stdout.setEncoding("utf8").on("data", (text) => {
      printed += text;
    });
    child.on("exit", (code) => {
      children.delete(name);
      resolve(code === 0 ? printed : undefined);
    });
  });
}

function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (thrown) {
    return thrown.code === "EPERM";
  }
}

/** One supervisor per data folder: two workers would fight over jobs, a reload would pull the file away. */
function takeDataFolder() {
  mkdirSync(dataFolder, { recursive: true });
  if (existsSync(lockFile)) {
    const other = Number(readFileSync(lockFile, "utf8"));
    if (other && other !== process.pid && isAlive(other))
      return `The data folder ${dataFolder} is in use by process ${other}. Stop that one first, or set BOTHENDS_DATA.`;
  }
  writeFileSync(lockFile, String(process.pid));
  ownsLock = true;
  return undefined;
}

/** Signs the sessions. Kept: a new one would sign everybody out. */
function secret() {
  const file = path.join(dataFolder, "secret");
  if (!existsSync(file)) writeFileSync(file, randomBytes(32).toString("base64url"), { mode: 0o600 });
  return readFileSync(file, "utf8").trim();
}

/** A port that is free now, for the web server behind our own https. */
function freePort() {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const { port: free } = probe.address();
      probe.close(() => resolve(free));
    });
  });
}

function portProblem() {
  return new Promise((resolve) => {
    const probe = net.createServer();
    probe.once("error", (thrown) =>
      resolve(
        thrown.code === "EADDRINUSE"
          ? `Port ${port} is in use. Stop what uses it, or choose another: PORT=3100 npm start`
          : `Port ${port} cannot be used: ${thrown.message}`,
      ),
    );
    probe.listen(port, host, () => probe.close(() => resolve(undefined)));
  });
}

/** Keeps a worker running. Resolves when the first one is ready. */
function keepWorker(env) {
  return new Promise((resolve) => {
    let waitMillis = RESTART_FIRST_MILLIS;
    const launch = () => {
      const startedAt = Date.now();
      const child = start("worker", ["--import", "tsx", "app/_server/worker.ts"], { env, output: "pipe" });
      child.stdout.setEncoding("utf8").on("data", (text) => {
        process.stdout.write(text);
        if (text.includes("worker: ready")) resolve();
      });
      child.on("exit", (code, signal) => {
        if (stopping) return;
        waitMillis =
          Date.now() - startedAt > 30_000
            ? RESTART_FIRST_MILLIS
            : Math.min(waitMillis * 2, RESTART_MOST_MILLIS);
        console.error(`The worker process ended (${signal ?? `code ${code}`}); starting another.`);
        setTimeout(() => stopping || launch(), waitMillis);
      });
    };
    launch();
  });
}

/** Serves the pages. Without them there is nothing to supervise, so their end is ours. */
function serve(env, inner) {
  const preload = ["--import", new URL("./followParent.mjs", import.meta.url).href];
  const where = ["-p", String(inner.port), ...(inner.host ? ["-H", inner.host] : [])];
  const child = start("web server", [...preload, NEXT, dev ? "dev" : "start", ...where], { env });
  child.on("exit", (code, signal) => {
    if (!stopping) fail(`The web server ended (${signal ?? `code ${code}`}).`);
  });
}

async function answers(inner) {
  const until = Date.now() + READY_WITHIN_MILLIS;
  const name = inner.host && inner.host !== "0.0.0.0" && inner.host !== "::" ? inner.host : "127.0.0.1";
  while (Date.now() < until && !stopping) {
    const response = await fetch(`http://${name}:${inner.port}/api/health`).catch(() => undefined);
    if (response?.ok) return true;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  return false;
}

function greet(prepared) {
  const lines = ["", `Bothends is ready: ${address}`];
  if (prepared.kind === "setup")
    lines.push(
      "",
      "Nobody has an account yet. Make the first administrator's with this one-time token:",
      `  ${address}/setup`,
      `  token: ${prepared.token}`,
    );
  if (prepared.kind === "demo")
    lines.push(
      "",
      `Demonstration with invented data, made for ${prepared.loadedOn}. Sign in as`,
      ...prepared.people.map(({ email, role }) => `  ${email.padEnd(34)} ${role}`),
      `  password for all: ${prepared.password}`,
      "",
      "For your own data: stop, then BOTHENDS_DEMO=0 BOTHENDS_DATA=<another folder> npm start",
    );
  console.log(`${lines.join("\n")}\n`);
}

async function main() {
  const problem = nodeProblem();
  if (problem) return fail(problem);
  stopWithNpm();
  const taken = takeDataFolder() ?? (await portProblem());
  if (taken) return fail(taken);
  if (!(await ensureInstalled())) return fail("The packages could not be installed; see above.");

  // The build gets the secret's name only because libraries look for it; nothing of it ends up in the pages.
  const env = {
    NODE_ENV: dev ? "development" : "production",
    BOTHENDS_DATA: dataFolder,
    BETTER_AUTH_SECRET: secret(),
  };
  const printed = await outputOf("preparation", ["--import", "tsx", "seed/prepare.ts"], env);
  if (stopping) return;
  if (printed === undefined) return fail("The data folder could not be prepared; see above.");
  const lines = printed.trimEnd().split("\n");
  const prepared = JSON.parse(lines.pop());
  for (const line of lines) console.log(line);

  Object.assign(process.env, { BETTER_AUTH_SECRET: env.BETTER_AUTH_SECRET });
  if (!dev && !(await ensureBuilt())) return stopping || fail("The pages could not be built; see above.");
  if (stopping) return;

  const inner = certificate ? { port: await freePort(), host: "127.0.0.1" } : { port, host };
  // Read at run time, never built in: the same build serves any address.
  const outside = process.env.BOTHENDS_URL || certificate ? { BOTHENDS_URL: address } : {};
  serve({ ...env, ...outside, NEXT_TELEMETRY_DISABLED: "1" }, inner);
  const worker = keepWorker(env);
  if (!(await answers(inner)))
    return stopping || fail(`No answer on port ${inner.port} within ${READY_WITHIN_MILLIS / 1000} s.`);
  if (certificate) {
    try {
      await serveHttps(certificate, { port, host, innerPort: inner.port });
    } catch (thrown) {
      return fail(`https cannot be served with ${certificate.cert}: ${thrown.message}`);
    }
  }
  await worker;
  if (!stopping) greet(prepared);
}

await main();
