/**
 * Takes the pictures of the README and the guides from the demonstration, at a fixed day. The pages are
 * built when their sources have changed.
 *
 *     npm run pictures
 *     npm run pictures -- week visit
 */
import path from "node:path";
import { chromium, type Page } from "@playwright/test";
import { findBrowser } from "@/tests/app/harness/browser";
import { EMAILS, PASSWORD, type TestRole } from "@/tests/app/harness/people";
import { type Server, startServer } from "@/tests/app/harness/server";

interface Picture {
  name: string;
  role: TestRole;
  page: string;
  width: 1440 | 390;
  /** Only what fits the window; else the whole page. */
  isWindow?: boolean;
  /** What a person would press after the page stands. */
  press?: (page: Page) => Promise<void>;
}

/** Opens the first link of the page whose address begins so, and waits for the page behind it. */
const openFirst = (address: string) => async (page: Page) => {
  await page.locator(`main a[href^="${address}"]`).first().click();
  await page.waitForURL((url) => url.pathname.startsWith(address));
  await page.waitForLoadState("networkidle");
};

const PICTURES: Picture[] = [
  { name: "programme", role: "manager", page: "/programme", width: 1440, isWindow: true },
  { name: "finish", role: "manager", page: "/programme/finish", width: 1440, isWindow: true },
  { name: "plan", role: "manager", page: "/plan", width: 1440, isWindow: true },
  { name: "hops", role: "manager", page: "/sites?tab=hops", width: 1440, isWindow: true },
  { name: "map", role: "manager", page: "/map", width: 1440, isWindow: true },
  { name: "weather", role: "manager", page: "/weather", width: 1440, isWindow: true },
  { name: "import", role: "administrator", page: "/import", width: 1440, isWindow: true },
  { name: "stock", role: "logistics", page: "/stock", width: 1440, isWindow: true },
  { name: "drums", role: "logistics", page: "/stock?tab=drums", width: 1440, isWindow: true },
  { name: "kits", role: "logistics", page: "/kits", width: 1440, isWindow: true },
  {
    name: "kit",
    role: "logistics",
    page: "/kits",
    width: 1440,
    isWindow: true,
    press: openFirst("/kits/"),
  },
  { name: "week", role: "crew lead", page: "/week", width: 390, isWindow: true },
  {
    name: "visit",
    role: "crew lead",
    page: "/week",
    width: 390,
    isWindow: true,
    press: openFirst("/week/visit/"),
  },
  { name: "rules", role: "administrator", page: "/rules", width: 1440, isWindow: true },
];

async function signIn(page: Page, server: Server, role: TestRole): Promise<void> {
  await page.goto(`${server.url}/sign-in`);
  await page.getByLabel("Sign-in name").fill(EMAILS[role]);
  await page.getByLabel("Password").fill(PASSWORD);
  await page.getByRole("button", { name: "Sign in", exact: true }).click();
  await page.waitForURL((url) => url.pathname !== "/sign-in");
}

const wanted = process.argv.slice(2).filter((a) => a !== "--");
const chosen = PICTURES.filter((p) => wanted.length === 0 || wanted.includes(p.name));
const server = await startServer();
const browser = await chromium.launch({
  executablePath: findBrowser(),
  args: [
    "--no-sandbox",
    "--disable-quic",
    "--disable-background-networking",
    "--no-first-run",
    "--disable-dev-shm-usage",
  ],
});
try {
  for (const p of chosen) {
    const context = await browser.newContext({
      viewport: { width: p.width, height: p.width === 390 ? 844 : 900 },
      locale: "en-GB",
      timezoneId: "UTC",
    });
    const page = await context.newPage();
    await signIn(page, server, p.role);
    const answer = await page.goto(server.url + p.page, { waitUntil: "networkidle" });
    if (!answer?.ok()) throw new Error(`${p.page} answered ${answer?.status()}`);
    await p.press?.(page);
    await page.screenshot({
      path: path.join(import.meta.dirname, `${p.name}.png`),
      fullPage: !p.isWindow,
      animations: "disabled",
    });
    console.log(`${p.name}.png`);
    await context.close();
  }
} finally {
  await browser.close();
  await server.stop();
}
