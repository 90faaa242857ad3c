/** A large made-up programme with a plan in force, and the product serving it: what benches of pages look at. */
import { existsSync, mkdirSync } from "node:fs";
import path from "node:path";
import type { Browser, BrowserContext } from "@playwright/test";
import { makePlan } from "@/app/_server/planning";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { calendarDate } from "@/lib/time";
import { loadScale, type ScaleWanted } from "@/seed/scale";
import { EMAILS, PASSWORD, type TestRole } from "../app/harness/people";
import { type Server, startServer, TEST_NOW, temporaryFolder } from "../app/harness/server";

/** Ten thousand sites in the list, and a thousand hops that forty crews have 26 weeks for. */
export const LARGE: ScaleWanted = {
  sites: 10_000,
  hops: 1000,
  crews: 40,
  weatherPlaces: 200,
  weeks: 26,
  years: 2,
};

/**
 * A data folder with the programme and its first plan in force. A folder named by BENCH_PROGRAMME is kept and used
 * again: making it takes a minute or more.
 */
export function largeProgramme(wanted: ScaleWanted): { folder: string; isKept: boolean } {
  const kept = process.env.BENCH_PROGRAMME;
  const folder = kept ?? temporaryFolder();
  const isKept = kept !== undefined;
  if (existsSync(path.join(folder, "bothends.sqlite"))) return { folder, isKept };
  mkdirSync(folder, { recursive: true });
  console.log(`making ${wanted.sites} sites and ${wanted.hops} hops with a plan in force ...`);
  const db = openDatabase(path.join(folder, "bothends.sqlite"));
  makeProgramme(db, wanted);
  db.$client.pragma("wal_checkpoint(TRUNCATE)");
  db.$client.close();
  return { folder, isKept };
}

/** Fills an empty file with a programme and its first plan, in force. */
export function makeProgramme(db: Db, wanted: ScaleWanted): void {
  const today = calendarDate(TEST_NOW.slice(0, 10));
  migrateDatabase(db);
  loadScale(db, today, wanted);
  // The crew lead of the accounts leads a crew of this programme.
  db.$client.exec("UPDATE user SET crew_id = (SELECT min(code) FROM crew) WHERE role = 'crew lead'");
  const planned = makePlan(
    db,
    {
      today,
      dayCount: wanted.weeks * 7,
      frozenDays: 0,
      seed: "pages",
      maxIterations: 1,
      seconds: Number.POSITIVE_INFINITY,
      state: "in force",
      createdBy: "bench",
      createdAt: Date.parse(TEST_NOW),
    },
    { report: () => {}, shouldStop: () => false, nowMillis: () => 0 },
  );
  if (!planned.ok) throw new Error("no plan");
}

/** The production build on a copy of the programme. */
export const serveLarge = (folder: string): Promise<Server> =>
  startServer({ copyOf: folder, env: { BOTHENDS_AS_IS: "1", BOTHENDS_SIGN_IN_LIMIT: "1000" } });

/** What runs these files marks functions with their names by a helper, which pages that are handed one do not know. */
export const NAMES = "globalThis.__name ??= (f) => f";

/** A browser context in which this role is signed in. */
export async function signedIn(
  browser: Browser,
  server: Server,
  role: TestRole,
  viewport = { width: 1440, height: 900 },
): Promise<BrowserContext> {
  // Without the service worker, which would hand out what it kept and hide what a page weighs.
  const context = await browser.newContext({
    baseURL: server.url,
    viewport,
    locale: "en-GB",
    serviceWorkers: "block",
  });
  await context.addInitScript(NAMES);
  const page = await context.newPage();
  await page.goto("/sign-in");
  await page.getByLabel("Sign-in name").fill(EMAILS[role]);
  await page.getByLabel("Password").fill(PASSWORD);
  await page.getByRole("button", { name: "Sign in", exact: true }).click();
  await page.waitForURL((url) => url.pathname !== "/sign-in");
  await page.close();
  return context;
}

/** Milliseconds until a page was there whole. */
export async function ask(server: Server, page: string, cookie: string): Promise<number> {
  const from = performance.now();
  const answer = await fetch(server.url + page, { headers: { cookie }, redirect: "manual" });
  await answer.text();
  if (answer.status !== 200) throw new Error(`${page} answered ${answer.status}`);
  return performance.now() - from;
}

/** Sends the sign-in page's form as a browser without scripts would. */
export async function signInByForm(server: Server): Promise<string> {
  const page = await (await fetch(`${server.url}/sign-in`)).text();
  const form = new FormData();
  for (const [tag] of page.matchAll(/<input[^>]*type="hidden"[^>]*>/g)) {
    const of = (name: string) =>
      (new RegExp(` ${name}="([^"]*)"`).exec(tag)?.[1] ?? "")
        .replaceAll("&quot;", '"')
        .replaceAll("&amp;", "&");
    form.append(of("name"), of("value"));
  }
  form.append("email", "administrator@bothends.example");
  form.append("password", "both-ends-demo");
  const answer = await fetch(`${server.url}/sign-in`, {
    method: "POST",
    headers: { origin: server.url },
    body: form,
    redirect: "manual",
  });
  const cookies = answer.headers.getSetCookie();
  if (cookies.length === 0) throw new Error(`sign-in answered ${answer.status} without a session`);
  return cookies.map((c) => c.split(";")[0]).join("; ");
}

/** The value below which a share of them lies. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

/** A figure with the bar that it is held to. */
export const against = (figure: number, bar: number, unit: string, digits = 0): string =>
  `${figure.toFixed(digits)} ${unit}${figure <= bar ? "" : ` (over the bar of ${bar})`}`;
