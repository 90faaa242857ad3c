import { expect, expectNoAxeViolations, test } from "./harness";

const PHONE = { width: 390, height: 844 };

test("the manager sees how far estimates were off, accepts a factor with its effect, and rejects another", async ({
  page,
  asManager,
}) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await asManager(page);
  await page.goto("/programme");
  await page.getByRole("link", { name: "Hours learned" }).click();
  await expect(page.getByRole("heading", { name: "Hours: estimated and worked", level: 1 })).toBeVisible();
  await expect(
    page.getByRole("figure", { name: "Worked against estimated, factors in force" }),
  ).toBeVisible();
  await expect(page.getByRole("region", { name: "Back-test by crew" })).toContainText("too short");
  await expectNoAxeViolations(page);

  const proposed = page.getByRole("region", { name: "Proposed factors", exact: true }).first();
  const slow = proposed.getByRole("row", { name: /Crew C4, all its work/ });
  await expect(slow).toContainText("20 actuals");
  await slow.getByRole("checkbox").check();
  await page.getByRole("button", { name: "Accept the chosen" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Show the effect" }).click();
  const effect = dialog.getByRole("region", { name: "Effect on the plan in force" });
  await expect(effect).toBeVisible({ timeout: 60_000 });
  await expect(effect.getByRole("row", { name: /^C4/ })).toContainText("+");
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByLabel("Reason").fill("Twenty visits speak for it");
  await dialog.getByRole("button", { name: "Save as a new version" }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByRole("region", { name: "Factors in force" }).first()).toContainText(
    "Crew C4, all its work",
  );
  await expect(page.getByRole("region", { name: "History" }).first()).toContainText(
    "Twenty visits speak for it",
  );
  await expect(proposed.getByRole("row", { name: /Crew C4, all its work/ })).toHaveCount(0);

  const cable = proposed.getByRole("row", { name: /Fix.*cable/i });
  await cable.getByRole("checkbox").check();
  await page.getByRole("button", { name: "Reject the chosen" }).click();
  await dialog.getByLabel("Reason").fill("Wait for the summer");
  await dialog.getByRole("button", { name: "Reject", exact: true }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByRole("region", { name: "Rejected proposals" })).toContainText("Wait for the summer");
  await expect(proposed.getByRole("row", { name: /Fix.*cable/i })).toHaveCount(0);

  await page.goto("/rules?tab=log&q=calibration");
  await expect(page.getByRole("region", { name: "Log" })).toContainText("reject hour calibration");
});

test("on a phone the page holds without sideways scroll, task by task too", async ({ page, asManager }) => {
  await page.setViewportSize(PHONE);
  await asManager(page);
  await page.goto("/programme/hours?by=task");
  await expect(page.getByRole("region", { name: "Back-test by task" })).toContainText(/cable/i);
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  expect(width).toBeLessThanOrEqual(PHONE.width);
  await expectNoAxeViolations(page);
});

test("logistics reads it and decides nothing", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/programme/hours");
  await expect(page.getByRole("region", { name: "Back-test by crew" })).toBeVisible();
  await expect(page.getByRole("button", { name: "Accept the chosen" })).toHaveCount(0);
});

test("a site's hours say what would help, with dates, and the crew's report takes minutes by task", async ({
  page,
  asManager,
}) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await asManager(page);
  await page.goto("/week");
  await page.locator('main a[href^="/week/visit/"]').first().click();
  await page.getByText("Minutes by task: if you timed them, then all of them").click();
  await expect(page.getByLabel(/Fix cable|Align/).first()).toBeVisible();
  await expectNoAxeViolations(page);
  await page.getByRole("link", { name: "All about the site" }).click();
  await page.getByRole("link", { name: "Hours", exact: true }).click();
  const help = page.getByRole("region", { name: "What would help" }).last();
  await expect(help.getByRole("row")).toHaveCount(5, { timeout: 30_000 });
  await expect(help).toContainText("One more climber");
  await expectNoAxeViolations(page);
});
