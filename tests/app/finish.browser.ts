import { expect, expectNoAxeViolations, test } from "./harness";

test("promise, plan, P50 and P80 stand on the Programme page and lead to what drives them", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/programme");
  const panel = page.getByRole("region", { name: "When it is finished" });
  for (const label of ["Last promise", "Planned", "P50", "P80", "P90", "All promises kept"])
    await expect(panel.getByText(label, { exact: true }).first()).toBeVisible();
  await expect(panel).toContainText(/run 2,000 times/);
  const hops = panel.getByRole("region", { name: "Finish of the hops least sure of their promise" });
  await expect(hops.getByRole("columnheader")).toHaveText([
    "Hop",
    "Promised",
    "Planned",
    "P50",
    "P80",
    "Promise met",
  ]);
  const met = (await hops.getByRole("row").locator("td:last-child").allTextContents()).map((t) =>
    Number.parseInt(t, 10),
  );
  expect(met.length).toBeGreaterThan(3);
  expect(met).toEqual([...met].sort((a, b) => a - b));
  await expectNoAxeViolations(page);
  await panel.getByRole("link", { name: "What drives the finish" }).click();
  await expect(page).toHaveURL(/\/programme\/finish$/);
  await expect(page.getByRole("heading", { name: "What drives the finish", level: 1 })).toBeVisible();
});

test("visits, crews, kit items and hops can be sorted by what they do to the finish", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/programme/finish");
  await expect(
    page.getByText(/run 2,000 times from .* through drawn hours of work and the weather/),
  ).toBeVisible();
  const visits = page.getByRole("grid", { name: "Visits that drive the finish" });
  await expect(visits).toBeVisible();
  await expect(page.getByRole("region", { name: "What takes the crews' hours" })).toContainText("wind");
  await expect(page.getByRole("figure", { name: "Visits that set the finish most often" })).toBeVisible();
  await expectNoAxeViolations(page);

  const shares = async () =>
    (await visits.getByRole("gridcell").allTextContents()).map(Number).filter((n) => n >= 0);
  const first = await shares();
  expect(first[0]).toBeGreaterThanOrEqual(first.at(-1)!);
  await visits
    .getByRole("button", { name: /^Critical/ })
    .first()
    .click();
  await expect.poll(async () => (await shares())[0]).not.toBe(first[0]);

  // The address follows a moment later; a press before that would be taken back.
  await expect(page).toHaveURL(/sort=share/);
  await page.getByRole("link", { name: /^Crews/ }).click();
  await expect(page).toHaveURL(/by=crews/);
  await expect(page.getByRole("grid", { name: "Crews that drive the finish" })).toBeVisible();
  await expectNoAxeViolations(page);
  await page.getByRole("link", { name: /^Kit items/ }).click();
  await expect(page).toHaveURL(/by=items/);
  await expectNoAxeViolations(page);
  await page.getByRole("link", { name: /^Finish of each hop/ }).click();
  await expect(page.getByRole("grid", { name: "Finish of each hop" })).toBeVisible();
  await expectNoAxeViolations(page);
});

test("visits that slip past a leave, or need a stand-in, say why and lead to the board", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/programme/finish");
  const standIns = page.getByRole("region", { name: "Visits that would need a stand-in" }).first();
  const ends = /slips past .* 20\d\d, when the certificate of .* ends/;
  await expect(standIns.getByRole("row").nth(1)).toContainText(ends);
  const slips = page.getByRole("region", { name: "Visits that slip past a leave of their crew" }).first();
  const first = slips.getByRole("row").nth(1);
  await expect(first).toContainText(/%/);
  await first.getByRole("link").click();
  await expect(page).toHaveURL(/\/plan\?.*visit=/);
});

test("it is worked out again on demand", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/programme/finish");
  await page.getByRole("button", { name: "Work it out again" }).click();
  await expect(page.getByText("Running the plan through hours and weather ...")).toBeVisible();
  await expect(page.getByText(/run 2,000 times/)).toBeVisible({ timeout: 60_000 });
});

test("a crew lead has no part in it", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await page.goto("/programme/finish");
  await expect(
    page.getByRole("heading", {
      name: "This page is for administrators, rollout managers and logistics staff",
    }),
  ).toBeVisible();
});
