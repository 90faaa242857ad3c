/**
 * The map with 2,000 sites and 1,000 hops in a real browser: when it first stands, and how evenly it moves. Needs a
 * build (`npm run build`). The browser asks only the server that this file starts on this machine.
 *
 *     npx tsx tests/bench/map.bench.ts -- --sites 2000
 */
import { mkdirSync, rmSync } from "node:fs";
import path from "node:path";
import { parseArgs } from "node:util";
import { chromium, type Page } from "@playwright/test";
import { migrateDatabase } from "@/db/migrate";
import { openDatabase } from "@/db/open";
import { calendarDate } from "@/lib/time";
import { loadScale } from "@/seed/scale";
import { findBrowser } from "../app/harness/browser";
import { EMAILS, PASSWORD } from "../app/harness/people";
import { startServer, TEST_NOW, temporaryFolder } from "../app/harness/server";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: { sites: { type: "string", default: "2000" } },
});
const sites = Number(values.sites);
const template = temporaryFolder();
mkdirSync(template, { recursive: true });
const db = openDatabase(path.join(template, "bothends.sqlite"));
migrateDatabase(db);
loadScale(db, calendarDate(TEST_NOW.slice(0, 10)), {
  sites,
  hops: sites / 2,
  crews: sites / 50,
  weatherPlaces: 4,
  weeks: 26,
  years: 1,
});
// Every state that a plan gives has a line and a sign of its own: a spread of promises and reports is not needed.
db.$client.pragma("wal_checkpoint(TRUNCATE)");
db.$client.close();

/** Gaps between frames while `move` goes on, ms. */
async function framesOf(page: Page, move: () => Promise<void>): Promise<number[]> {
  // As text: the runner that turns TypeScript into JavaScript marks functions in a way that the page does not know.
  await page.evaluate(`{
    window.gaps = [];
    let last = performance.now();
    const tick = (now) => { window.gaps.push(now - last); last = now; requestAnimationFrame(tick); };
    requestAnimationFrame(tick);
  }`);
  await page.waitForTimeout(100);
  await page.evaluate("window.gaps.length = 0");
  await move();
  return page.evaluate<number[]>("[...window.gaps]");
}

const server = await startServer({
  copyOf: template,
  env: { BOTHENDS_AS_IS: "1", BOTHENDS_SIGN_IN_LIMIT: "1000" },
});
const browser = await chromium.launch({
  executablePath: findBrowser(),
  args: ["--no-sandbox", "--disable-quic", "--no-first-run", "--disable-dev-shm-usage"],
});
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(`${server.url}/sign-in`);
  await page.getByLabel("Sign-in name").fill(EMAILS.manager);
  await page.getByLabel("Password").fill(PASSWORD);
  await page.getByRole("button", { name: "Sign in", exact: true }).click();
  await page.waitForURL((url) => url.pathname !== "/sign-in");
  const firsts: number[] = [];
  for (let i = 0; i < 6; i++) {
    await page.goto(`${server.url}/map`);
    // The canvas stands when something is drawn on it.
    await page.waitForFunction(() => {
      const canvas = document.querySelector("canvas");
      return (
        canvas && canvas.width > 300 && canvas.getContext("2d")?.getImageData(2, 2, 1, 1).data[3] === 255
      );
    });
    firsts.push(await page.evaluate(() => performance.now()));
  }
  firsts.splice(0, 1); // the server reads the rows for the first time
  firsts.sort((a, b) => a - b);
  console.log(
    `${sites} sites, ${sites / 2} hops; map stands after ms: ${firsts.map((f) => f.toFixed(0)).join(" ")}`,
  );
  await page.waitForTimeout(1000);
  const box = (await page.locator("canvas").boundingBox())!;
  const [midX, midY] = [box.x + box.width / 2, box.y + box.height / 2];
  for (const [words, wheels] of [
    ["all in view, grouped", 0],
    ["closer, groups and single sites", 4],
    ["closest, with codes", 4],
  ] as const) {
    await page.mouse.move(midX, midY);
    for (let i = 0; i < wheels; i++) await page.mouse.wheel(0, -300);
    await page.waitForTimeout(500);
    const gaps = await framesOf(page, async () => {
      await page.mouse.down();
      for (let i = 0; i < 180; i++) {
        await page.mouse.move(midX + 160 * Math.sin(i / 12), midY + 90 * Math.cos(i / 9));
      }
      await page.mouse.up();
    });
    gaps.sort((a, b) => a - b);
    const at = (share: number) => gaps[Math.floor(share * (gaps.length - 1))]!.toFixed(1);
    const under = gaps.filter((g) => g < 25).length / gaps.length;
    console.log(
      `${words}: ${gaps.length} frames while dragging, p50 ${at(0.5)} ms, p95 ${at(0.95)} ms, slowest ${at(1)} ms, ${(100 * under).toFixed(1)} % under 25 ms`,
    );
  }
} finally {
  await browser.close();
  await server.stop();
  rmSync(template, { recursive: true, force: true });
}
