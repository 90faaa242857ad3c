/**
 * The browser harness. A test file begins with
 *
 *     import { expect, expectNoAxeViolations, test } from "./harness";
 *
 *     test("a manager sees the programme", async ({ page, asManager }) => {
 *       await asManager(page);
 *       await page.goto("/programme");
 *       ...
 *     });
 *
 * Every Playwright worker has a server of its own with a fresh copy of the demonstration, made for `TEST_NOW`.
 * Tests of one file share it, and so do files that the same worker runs: look for what you made, do not count. What
 * takes the programme another way (reports of visits that others move) asks for a server of its own: `purpose`.
 */
import AxeBuilder from "@axe-core/playwright";
import { type BrowserContext, test as base, expect, type Page } from "@playwright/test";
import { EMAILS, PASSWORD, type TestRole } from "./people";
import { type Server, startServer } from "./server";

export { EMAILS, PASSWORD, type TestRole } from "./people";
export { freePort, type Server, type ServerOptions, startServer, TEST_NOW, temporaryFolder } from "./server";
export { expect };

/** Puts this role's session into the page's browser context. Signs in once per role and worker. */
type SignIn = (page: Page) => Promise<void>;

type Cookies = Awaited<ReturnType<BrowserContext["cookies"]>>;

interface WorkerFixtures {
  /** A file that changes the demonstration's course names a purpose and gets a server that no other file sees. */
  purpose: string;
  server: Server;
  sessions: Map<TestRole, Cookies>;
}

interface TestFixtures {
  asAdministrator: SignIn;
  asManager: SignIn;
  asLogistics: SignIn;
  asCrewLead: SignIn;
}

/** Signs in through the sign-in page, as a person does; `at` is another server than the worker's own. */
export async function signInByHand(page: Page, email: string, password = PASSWORD, at = ""): Promise<void> {
  await page.goto(`${at}/sign-in`);
  await page.getByLabel("Sign-in name").fill(email);
  await page.getByLabel("Password").fill(password);
  await page.getByRole("button", { name: "Sign in", exact: true }).click();
}

/** Sends what stands in a visit's form. The tests' clock stands before the shift: hours of today are asked about. */
export async function sendReport(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Send report" }).click();
  await page.getByRole("button", { name: "Send all the same" }).click();
}

const as =
  (role: TestRole) =>
  async ({ sessions, server }: WorkerFixtures, use: (signIn: SignIn) => Promise<void>): Promise<void> =>
    use(async (page) => {
      const kept = sessions.get(role);
      if (kept) return page.context().addCookies(kept);
      await signInByHand(page, EMAILS[role]);
      await page.waitForURL((url) => url.pathname !== "/sign-in");
      sessions.set(role, await page.context().cookies(server.url));
    });

export const test = base.extend<TestFixtures, WorkerFixtures>({
  purpose: ["", { scope: "worker", option: true }],
  server: [
    // Another purpose makes another worker, which has another server.
    async ({ purpose: _ }, use) => {
      const server = await startServer({ copyOf: process.env.BOTHENDS_TEST_TEMPLATE });
      await use(server);
      await server.stop();
    },
    { scope: "worker", timeout: 120_000 },
  ],
  sessions: [
    // biome-ignore lint/correctness/noEmptyPattern: Playwright reads the fixtures' names from this pattern
    async ({}, use) => use(new Map()),
    { scope: "worker" },
  ],
  baseURL: async ({ server }, use) => use(server.url),
  asAdministrator: as("administrator"),
  asManager: as("manager"),
  asLogistics: as("logistics"),
  asCrewLead: as("crew lead"),
});

/**
 * Holds the page as it stands to WCAG 2.2 A and AA, as far as axe can tell. What breaks a rule counts if it still does a
 * moment later: a page that is being laid out anew for another width is not yet what anybody meets.
 */
export async function expectNoAxeViolations(page: Page, options: { within?: string } = {}): Promise<void> {
  // Pages without frames need no blank page to gather in (legacy mode), and what is in order need not be listed.
  let axe = new AxeBuilder({ page }).setLegacyMode().options({
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
    resultTypes: ["violations"],
  });
  if (options.within) axe = axe.include(options.within);
  const broken = async () =>
    (await axe.analyze()).violations.map(
      ({ id, help, nodes }) => `${id}: ${help}\n  ${nodes.map((n) => n.html).join("\n  ")}`,
    );
  if ((await broken()).length === 0) return;
  await page.waitForTimeout(1_000);
  expect(await broken(), "accessibility rules that the page breaks").toEqual([]);
}

/** Whoever works by key goes on where the work was done, not at the top of the page. */
export async function expectFocusIn(page: Page, selector: string): Promise<void> {
  await expect
    .poll(() =>
      page.evaluate((within) => {
        const at = document.activeElement;
        return at === document.body
          ? "the page's top"
          : at?.closest(within)
            ? "in it"
            : at?.outerHTML.slice(0, 200);
      }, selector),
    )
    .toBe("in it");
}
