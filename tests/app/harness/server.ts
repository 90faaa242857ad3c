/** Starts the product as a person would, by its supervisor, on a port and a data folder of its own. */
import { type ChildProcess, spawn } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, rmSync } from "node:fs";
import net from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";

const ROOT = path.resolve(import.meta.dirname, "../../..");

/** The moment at which the clock stands in browser tests: a Monday, 07:30 UTC. */
export const TEST_NOW = "2026-03-16T07:30:00Z";

export interface ServerOptions {
  /** Folder whose content the data folder begins with. */
  copyOf?: string;
  demo?: boolean;
  env?: Record<string, string>;
}

export interface Server {
  url: string;
  dataFolder: string;
  /** Everything that it has printed so far. */
  printed: () => string;
  process: ChildProcess;
  /** Ends it politely and gives its exit code; removes the data folder unless told to keep it. */
  stop: (options?: { keepData?: boolean }) => Promise<number | null>;
}

/** A port that is free now. */
export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once("error", reject);
    probe.listen(0, () => {
      const address = probe.address();
      probe.close(() =>
        address && typeof address === "object" ? resolve(address.port) : reject(new Error("no port")),
      );
    });
  });
}

export function temporaryFolder(): string {
  return mkdtempSync(path.join(tmpdir(), "bothends-"));
}

/** Starts a server and resolves when it says that it is ready. Rejects with what it printed when it ends before. */
export async function startServer(options: ServerOptions = {}): Promise<Server> {
  const port = await freePort();
  const dataFolder = temporaryFolder();
  if (options.copyOf && existsSync(options.copyOf)) cpSync(options.copyOf, dataFolder, { recursive: true });
  const child = spawn(process.execPath, ["app/_server/start.mjs"], {
    cwd: ROOT,
    env: {
      ...process.env,
      NODE_ENV: "production",
      npm_lifecycle_event: "", // the test runner is its parent, whoever started that
      PORT: String(port),
      BOTHENDS_DATA: dataFolder,
      BOTHENDS_NOW: TEST_NOW,
      BOTHENDS_DEMO: options.demo === false ? "0" : "1",
      ...options.env,
    },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let printed = "";
  const ended = new Promise<number | null>((resolve) => child.once("exit", resolve));
  await new Promise<void>((resolve, reject) => {
    const hear = (text: Buffer) => {
      printed += text;
      if (printed.includes("Bothends is ready")) resolve();
    };
    child.stdout.on("data", hear);
    child.stderr.on("data", hear);
    child.once("exit", (code) => reject(new Error(`the server ended with code ${code}:\n${printed}`)));
  }).catch((thrown) => {
    rmSync(dataFolder, { recursive: true, force: true });
    throw thrown;
  });
  return {
    url: `http://localhost:${port}`,
    dataFolder,
    printed: () => printed,
    process: child,
    stop: async ({ keepData = false } = {}) => {
      child.kill("SIGTERM");
      const code = await ended;
      if (!keepData) rmSync(dataFolder, { recursive: true, force: true });
      return code;
    },
  };
}
