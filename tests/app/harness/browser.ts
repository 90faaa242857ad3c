/**
 * Finds a Chromium for the browser tests: a variable, the system's, one that Playwright keeps, and, where that is
 * possible, installs Debian's.
 */
import { spawnSync } from "node:child_process";
import { accessSync, constants, existsSync, readdirSync } from "node:fs";
import { homedir } from "node:os";
import path from "node:path";

const VARIABLE = "BOTHENDS_CHROMIUM";

const SYSTEM = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/lib/chromium/chromium",
  "/snap/bin/chromium",
  "/usr/bin/google-chrome",
  "/usr/bin/google-chrome-stable",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
];

export const REMEDY = [
  "No Chromium was found for the browser tests. One of these helps:",
  `  - set ${VARIABLE} to the program's path`,
  "  - Debian or Ubuntu: apt-get install chromium",
  "  - elsewhere, with access to its download: npx playwright install chromium",
].join("\n");

function isProgram(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** What `playwright install` has put into its cache, newest first. */
function cached(): string[] {
  const folders = [
    process.env.PLAYWRIGHT_BROWSERS_PATH,
    path.join(homedir(), ".cache/ms-playwright"),
    path.join(homedir(), "Library/Caches/ms-playwright"),
  ].filter((folder) => folder !== undefined && existsSync(folder)) as string[];
  return folders.flatMap((folder) =>
    readdirSync(folder)
      .filter((name) => name.startsWith("chromium-"))
      .sort()
      .reverse()
      .flatMap((name) =>
        [
          "chrome-linux/chrome",
          "chrome-linux64/chrome",
          "chrome-mac/Chromium.app/Contents/MacOS/Chromium",
        ].map((inside) => path.join(folder, name, inside)),
      ),
  );
}

/** The path of a Chromium; undefined when there is none. Throws when the variable names something that is none. */
export function findBrowser(): string | undefined {
  const wanted = process.env[VARIABLE];
  if (wanted && !isProgram(wanted)) throw new Error(`${VARIABLE} is ${wanted}, which is not a program.`);
  return wanted || [...SYSTEM, ...cached()].find(isProgram);
}

/** Installs Debian's Chromium where this process may. Says what it does; true when there is a browser afterwards. */
export function installBrowser(): boolean {
  const mayInstall =
    process.platform === "linux" && process.getuid?.() === 0 && isProgram("/usr/bin/apt-get");
  if (!mayInstall) return false;
  console.log("No Chromium found; installing Debian's (apt-get install chromium) ...");
  const apt = (...args: string[]) =>
    spawnSync("apt-get", args, {
      stdio: ["ignore", "ignore", "inherit"],
      env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
    }).status === 0;
  return (
    apt("update") && apt("install", "-y", "--no-install-recommends", "chromium") && Boolean(findBrowser())
  );
}
