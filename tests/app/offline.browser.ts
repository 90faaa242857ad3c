/** My week without a signal: pages that open, a report that waits, goes out once, and survives what cuts it off. */
import type { BrowserContext, Page } from "@playwright/test";
import { EMAILS, expect, expectNoAxeViolations, sendReport, signInByHand, test } from "./harness";

test.use({ viewport: { width: 390, height: 844 }, purpose: "reports" });
test.setTimeout(180_000);

/** Opens the week with a signal and waits until its pages are on the phone. */
async function keepWeek(page: Page): Promise<string[]> {
  await page.goto("/week");
  const links = await page
    .getByRole("article")
    .getByRole("link")
    .evaluateAll((links) => links.map((a) => new URL((a as HTMLAnchorElement).href).pathname));
  const visits = links.filter((path) => path.startsWith("/week/visit/"));
  expect(visits.length).toBeGreaterThan(1);
  await expect
    .poll(
      () =>
        page.evaluate(async () => {
          const names = (await caches.keys()).filter((n) => n.startsWith("week pages"));
          const kept = await Promise.all(names.map(async (n) => (await caches.open(n)).keys()));
          return kept.flat().map((r) => new URL(r.url).pathname);
        }),
      { timeout: 60_000 },
    )
    .toEqual(expect.arrayContaining(["/week", ...links]));
  // From here on the worker answers this page, too.
  await page.reload();
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  return visits;
}

async function fillReport(page: Page, hours: string, note: string): Promise<void> {
  await page.getByRole("spinbutton", { name: "Hours worked on site" }).fill(hours);
  await page.getByRole("textbox", { name: "Note" }).fill(note);
}

/** Those of the reports' notes that the server has of a visit's hop and that are this one: as often as it was counted. */
async function countedOf(page: Page, visit: string, note: string): Promise<string[]> {
  return (await notesOf(page, visit)).filter((n) => n === note);
}

/** Notes of the reports that the server has of a visit's hop: other visits of the hop may have some, too. */
async function notesOf(page: Page, visit: string): Promise<string[]> {
  const hop = visit.split("/")[3]!;
  const answer = await page.request.get(`/hops/${hop}?tab=record`);
  // What the page shows, without the copy of it that its scripts carry.
  const html = (await answer.text()).replace(/<script[\s\S]*?<\/script>/g, "");
  return [...html.matchAll(/note [a-z]+ \d+/g)].map((m) => m[0]);
}

const offline = (context: BrowserContext, is: boolean) => context.setOffline(is);

test("the week and its visits open with no signal, and say that they are kept", async ({
  page,
  context,
  asCrewLead,
}) => {
  await asCrewLead(page);
  const [first] = await keepWeek(page);
  await offline(context, true);
  await page.goto("/week");
  await expect(page.getByRole("heading", { level: 1, name: /^Crew C1/ })).toBeVisible();
  await expect(page.getByText("Kept on this phone")).toBeVisible();
  await expectNoAxeViolations(page);
  await page.getByRole("article").getByRole("link").first().click();
  await expect(page).toHaveURL(new RegExp(`${first}$`));
  await expect(page.getByRole("heading", { name: "Steps" })).toBeVisible();
  await page.getByText(/^\d+ steps in order$/).click();
  const steps = page.locator("li[data-where]");
  await expect(steps.first()).toContainText(/^1\. /);
  const all = await steps.filter({ visible: true }).count();
  await page.getByRole("radio", { name: /^On the ground \(\d+\)$/ }).check();
  await expect(page.locator('li[data-where="aloft"]').first()).toBeHidden();
  const ground = await steps.filter({ visible: true }).count();
  expect(ground).toBeGreaterThan(0);
  expect(ground).toBeLessThan(all);
  await page.getByRole("link", { name: "Pick list" }).click();
  await expect(page.getByRole("heading", { name: "Pick list" })).toBeVisible();
  await expect(page.getByText("Kept on this phone")).toBeVisible();
  for (const path of ["/week/visit/never/near/seen", "/", "/sites"]) {
    await page.goto(path);
    await expect(page.getByText("This page was not kept on this phone."), path).toBeVisible();
  }
  await expectNoAxeViolations(page);
  await page.getByRole("link", { name: "My week" }).click();
  await expect(page.getByRole("heading", { level: 1, name: /^Crew C1/ })).toBeVisible();
  await offline(context, false);
});

test("a report written without a signal waits through a closed page and goes out once", async ({
  page,
  context,
  asCrewLead,
}) => {
  await asCrewLead(page);
  const [first] = await keepWeek(page);
  await offline(context, true);
  await page.goto(first!);
  await fillReport(page, "6.5", "note offline 1");
  await sendReport(page);
  await expect(page.getByText("1 report waits on this phone")).toBeVisible();
  await expect(page.getByText(/There is no signal/)).toBeVisible();
  // Pressed once more, changed or not: a visit is done once.
  await sendReport(page);
  await fillReport(page, "6.75", "note offline 1");
  await sendReport(page);
  await expect(page.getByText("1 report waits on this phone")).toBeVisible();
  await expectNoAxeViolations(page);
  await page.close();

  const later = await context.newPage();
  await later.goto("/week");
  await expect(later.getByText("1 report waits on this phone")).toBeVisible();
  await offline(context, false);
  await later.evaluate(() => window.dispatchEvent(new Event("online")));
  await expect(later.getByText("A report that waited has arrived.")).toBeVisible();
  await expect(later.getByText("1 report waits on this phone")).toHaveCount(0);
  expect(await countedOf(later, first!, "note offline 1")).toEqual(["note offline 1"]);
});

test("a report whose answer is lost in mid-send counts once when it is sent again", async ({
  page,
  asCrewLead,
}) => {
  await asCrewLead(page);
  const visits = await keepWeek(page);
  const visit = visits[1]!;
  await page.goto(visit);
  await fillReport(page, "3", "note lost 2");
  let reached = 0;
  await page.route("**/api/reports", async (route) => {
    reached++;
    if (reached > 1) return route.continue();
    await route.fetch(); // the server takes it ...
    await route.abort("connectionreset"); // ... and the phone never hears of it
  });
  await sendReport(page);
  await expect(page.getByText("1 report waits on this phone")).toBeVisible();
  await page.getByRole("button", { name: "Send now" }).click();
  await expect(page.getByText(/^Report received\./)).toBeVisible();
  expect(reached).toBe(2);
  expect(await countedOf(page, visit, "note lost 2")).toEqual(["note lost 2"]);
});

test("an ended session keeps the report and asks to sign in; what is typed outlives the page", async ({
  page,
  context,
  asCrewLead,
}) => {
  await asCrewLead(page);
  const visits = await keepWeek(page);
  const visit = visits[2] ?? visits[1]!;
  await page.goto(visit);
  await fillReport(page, "2.25", "note typed 3");
  await page.reload();
  await expect(page.getByRole("spinbutton", { name: "Hours worked on site" })).toHaveValue("2.25");
  await expect(page.getByRole("textbox", { name: "Note" })).toHaveValue("note typed 3");
  await context.clearCookies();
  await page.getByRole("button", { name: "Send report" }).click();
  await expect(page.getByText(/^\d+ readings are not taken$/)).toBeVisible();
  await page.getByRole("button", { name: "Send all the same" }).click();
  await expect(page.getByText(/Your session has ended/)).toBeVisible();
  await page.goto("/week");
  await page.waitForURL("**/sign-in?*");
  await expect(page.getByText(/sign in; the report that waits on this phone stays/i)).toBeVisible();
  await asCrewLead(page);
  await page.goto("/week");
  await expect(page.getByText("A report that waited has arrived.")).toBeVisible();
  expect(await notesOf(page, visit)).toContain("note typed 3");
});

test("somebody else's report in between is told, and a person decides", async ({
  page,
  context,
  browser,
  asCrewLead,
  asManager,
}) => {
  await asCrewLead(page);
  // An alignment would ask for its readings.
  const visit = (await keepWeek(page)).filter((v) => v.endsWith("/install")).at(-1)!;
  await page.goto(visit);
  await offline(context, true);
  await fillReport(page, "4", "note mine 4");
  await sendReport(page);
  await expect(page.getByText("1 report waits on this phone")).toBeVisible();

  const office = await (await browser.newContext({ baseURL: new URL(page.url()).origin })).newPage();
  await asManager(office);
  await office.goto(visit);
  await fillReport(office, "5", "note office 4");
  await sendReport(office);
  await expect(office.getByText(/^Report received\./)).toBeVisible();
  await office.context().close();

  // It goes out by itself as the signal comes back.
  await offline(context, false);
  await expect(
    page.getByText(/reported this visit as done, worked on .*, while this report was on its way/),
  ).toBeVisible();
  await page.getByRole("button", { name: "Send anyway" }).click();
  await expect
    .poll(() => notesOf(page, visit))
    .toEqual(expect.arrayContaining(["note mine 4", "note office 4"]));
});

test("signing out takes the kept pages off the phone", async ({ page, context }) => {
  // A session of its own: the other tests go on with theirs.
  await signInByHand(page, EMAILS["crew lead"]);
  await page.waitForURL((url) => url.pathname !== "/sign-in");
  await keepWeek(page);
  await page.getByRole("button", { name: /, account$/ }).click();
  await page.getByRole("button", { name: "Sign out" }).click();
  await page.waitForURL(/sign-in/);
  await offline(context, true);
  await page.goto("/week");
  await expect(page.getByText("This page was not kept on this phone.")).toBeVisible();
  await offline(context, false);
});
