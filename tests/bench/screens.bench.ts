/**
 * What pages cost in a real browser against the production build: largest paint, answer to input, shifts of the
 * layout, and the compressed scripts and styles of each page. Needs a build.
 *
 *     npm run bench -- screens
 *
 * LCP is read on the loaded page, INP as the slowest of some presses and letters in it, CLS over all of it. Of each the
 * middle of three loads counts. An empty app of the same framework is built beside it to compare the phone page with.
 */
import { spawn, spawnSync } from "node:child_process";
import { rmSync } from "node:fs";
import path from "node:path";
import { type Browser, type BrowserContext, chromium, type Locator, type Page } from "@playwright/test";
import { findBrowser } from "../app/harness/browser";
import { freePort } from "../app/harness/server";
import { against, LARGE, largeProgramme, NAMES, quantile, serveLarge, signedIn } from "./largeServer";

const BARS = { lcpMillis: 1500, inpMillis: 150, cls: 0.02, bundleKb: 250, abovePhoneKb: 60 };
const LOADS = 3;

interface Screen {
  name: string;
  path: string;
  /** Of the page `path`: whose target is the screen that is meant. */
  link?: (page: Page) => Locator;
  isPhone?: boolean;
  /** What a person does on it; each step is an input that the page answers. */
  use: (page: Page) => Promise<void>;
}

const press = (page: Page, name: string | RegExp) => page.getByRole("button", { name }).first().click();

const SCREENS: readonly Screen[] = [
  {
    name: "Programme",
    path: "/programme",
    use: async (page) => {
      await page.getByRole("button", { name: /, account/ }).click();
      await page.keyboard.press("Escape");
      await page.keyboard.press("Tab");
    },
  },
  {
    name: "Sites (10,000 rows)",
    path: "/sites",
    use: async (page) => {
      await page.getByRole("searchbox", { name: "Search sites" }).pressSequentially("12", { delay: 120 });
      await page.waitForTimeout(600);
      await press(page, "Columns");
      await page.keyboard.press("Escape");
      await page.getByRole("button", { name: "Show all" }).click();
    },
  },
  {
    name: "Plan",
    path: "/plan?zoom=4+weeks",
    use: async (page) => {
      await page.locator(".ui-visit").nth(3).click();
      await page.waitForTimeout(400);
      await page.keyboard.press("Escape");
      await page.getByRole("combobox", { name: "Find on the board" }).pressSequentially("vh", { delay: 120 });
      await page.keyboard.press("Escape");
      await press(page, "Week");
    },
  },
  {
    name: "My week (phone)",
    path: "/week",
    isPhone: true,
    use: async (page) => {
      await page.getByRole("button", { name: /, account/ }).click();
      await page.keyboard.press("Escape");
    },
  },
  {
    name: "A visit (phone)",
    path: "/week",
    link: (page) => page.getByRole("article").locator('a[href$="/install"]'),
    isPhone: true,
    use: async (page) => {
      await page.getByLabel("Outcome").selectOption("part done");
      await page
        .getByRole("spinbutton", { name: "Hours worked on site" })
        .pressSequentially("25", { delay: 120 });
      await page.getByText(/^Material: /).click();
    },
  },
];

interface Seen {
  lcpMillis: number;
  cls: number;
  inpMillis: number;
  /** The input that was answered last. */
  slowest: string;
  /** Scripts that the page names: it works with these. */
  scriptKb: number;
  /** Scripts that what stands on its first screen asks for afterwards, such as the chart library. */
  laterKb: number;
  styleKb: number;
}

interface Noted {
  lcp: number;
  cls: number;
  /** The slowest event of each input. */
  inputs: Record<string, { millis: number; on: string }>;
}

/** Runs in the page before anything else of it. */
function observe(): void {
  const here = window as unknown as { bothends: Noted };
  here.bothends = { lcp: 0, cls: 0, inputs: {} };
  const on = (type: string, each: (entry: PerformanceEntry) => void, more: object = {}) =>
    new PerformanceObserver((list) => list.getEntries().forEach(each)).observe({
      type,
      buffered: true,
      ...more,
    });
  on("largest-contentful-paint", (entry) => {
    here.bothends.lcp = entry.startTime;
  });
  on("layout-shift", (entry) => {
    const shift = entry as PerformanceEntry & { value: number; hadRecentInput: boolean };
    if (!shift.hadRecentInput) here.bothends.cls += shift.value;
  });
  on(
    "event",
    (entry) => {
      const id = (entry as PerformanceEntry & { interactionId?: number }).interactionId;
      if (!id || entry.duration <= (here.bothends.inputs[id]?.millis ?? 0)) return;
      const { target } = entry as PerformanceEntry & { target?: Element };
      here.bothends.inputs[id] = {
        millis: entry.duration,
        on: `${entry.name} on ${target?.getAttribute("aria-label") ?? target?.textContent ?? "what is gone"}`.slice(
          0,
          60,
        ),
      };
    },
    { durationThreshold: 16 },
  );
}

async function look(context: BrowserContext, screen: Screen): Promise<Seen> {
  const page = await context.newPage();
  await page.addInitScript(observe);
  const client = await context.newCDPSession(page);
  await client.send("Network.enable");
  await client.send("Network.setCacheDisabled", { cacheDisabled: true });
  const bytes = new Map<string, number>();
  const kinds = new Map<string, string>();
  const addresses = new Map<string, string>();
  client.on("Network.responseReceived", (e) => {
    kinds.set(e.requestId, e.type);
    addresses.set(e.requestId, new URL(e.response.url).pathname);
  });
  client.on("Network.loadingFinished", (e) => bytes.set(e.requestId, e.encodedDataLength));
  const answer = await page.goto(screen.path, { waitUntil: "networkidle" });
  const html = (await answer?.text()) ?? "";
  await page.waitForTimeout(500);
  // What comes after this is asked for by what the person does.
  const sizeOf = (type: string, isWanted = (_file: string) => true) =>
    [...bytes]
      .filter(([id]) => kinds.get(id) === type && isWanted(path.basename(addresses.get(id) ?? "")))
      .reduce((sum, [, size]) => sum + size, 0) / 1000;
  const sizes = {
    scriptKb: sizeOf("Script", (file) => html.includes(file)),
    laterKb: sizeOf("Script", (file) => !html.includes(file)),
    styleKb: sizeOf("Stylesheet"),
  };
  await screen.use(page);
  await page.waitForTimeout(500);
  const { lcp, cls, inputs } = await page.evaluate(() => (window as unknown as { bothends: Noted }).bothends);
  await page.close();
  const slowest = Object.values(inputs).sort((a, b) => b.millis - a.millis)[0];
  return { lcpMillis: lcp, cls, inpMillis: slowest?.millis ?? 0, slowest: slowest?.on ?? "none", ...sizes };
}

/** Compressed scripts of an empty page of the same framework, kB. */
async function emptyPageKb(browser: Browser): Promise<number> {
  const folder = path.join(import.meta.dirname, "emptyApp");
  const next = path.resolve("node_modules/next/dist/bin/next");
  const env = { ...process.env, NODE_ENV: "production" as const };
  const built = spawnSync(process.execPath, [next, "build"], { cwd: folder, env, encoding: "utf8" });
  if (built.status !== 0) throw new Error(`the empty app does not build:\n${built.stdout}${built.stderr}`);
  const port = await freePort();
  const server = spawn(process.execPath, [next, "start", "-p", String(port)], {
    cwd: folder,
    env,
    stdio: "ignore",
  });
  try {
    const context = await browser.newContext({ baseURL: `http://localhost:${port}` });
    await context.addInitScript(NAMES);
    for (let i = 0; i < 100; i++) {
      if (
        await fetch(`http://localhost:${port}/`).then(
          (r) => r.ok,
          () => false,
        )
      )
        break;
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
    const { scriptKb } = await look(context, { name: "empty", path: "/", use: async () => {} });
    await context.close();
    return scriptKb;
  } finally {
    server.kill();
    rmSync(path.join(folder, ".next"), { recursive: true, force: true });
    rmSync(path.join(folder, "next-env.d.ts"), { force: true });
  }
}

const { folder, isKept } = largeProgramme(LARGE);
const server = await serveLarge(folder);
const browser = await chromium.launch({ executablePath: findBrowser(), args: ["--no-sandbox"] });
try {
  const emptyKb = await emptyPageKb(browser);
  console.log(`empty page of the framework: ${emptyKb.toFixed(1)} kB of scripts`);
  const desk = await signedIn(browser, server, "manager");
  const phone = await signedIn(browser, server, "crew lead", { width: 390, height: 844 });
  for (const screen of SCREENS) {
    const context = screen.isPhone ? phone : desk;
    const warm = await context.newPage();
    await warm.goto(screen.path); // the first visit reads the data
    const target = (await screen.link?.(warm).first().getAttribute("href")) ?? screen.path;
    if (target !== screen.path) await warm.goto(target);
    await warm.close();
    const seen: Seen[] = [];
    for (let i = 0; i < LOADS; i++) seen.push(await look(context, { ...screen, path: target }));
    const middle = (of: (s: Seen) => number) => quantile(seen.map(of), 0.5);
    const scriptKb = middle((s) => s.scriptKb);
    const above = scriptKb - emptyKb;
    console.log(
      `${screen.name}: LCP ${against(
        middle((s) => s.lcpMillis),
        BARS.lcpMillis,
        "ms",
      )}, ` +
        `INP ${against(
          middle((s) => s.inpMillis),
          BARS.inpMillis,
          "ms",
        )}, ` +
        `CLS ${against(
          middle((s) => s.cls),
          BARS.cls,
          "",
          3,
        )}, ` +
        `scripts ${against(scriptKb, BARS.bundleKb, "kB")}, then ${middle((s) => s.laterKb).toFixed(0)} kB, styles ${middle((s) => s.styleKb).toFixed(0)} kB, ` +
        `above the empty page ${screen.isPhone ? against(above, BARS.abovePhoneKb, "kB") : `${above.toFixed(0)} kB`}`,
    );
  }
} finally {
  await browser.close();
  await server.stop();
  if (!isKept) rmSync(folder, { recursive: true, force: true });
}
