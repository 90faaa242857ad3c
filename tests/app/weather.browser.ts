import { expect, expectNoAxeViolations, test } from "./harness";

test("the ten days are shown by work class, and a key reaches the limiting figure", async ({
  page,
  asCrewLead,
}) => {
  await asCrewLead(page);
  await page.goto("/weather");
  await expect(page.getByRole("heading", { name: "Weather", level: 1 })).toBeVisible();
  await expect(page.getByText("Made-up weather", { exact: true })).toBeVisible();
  await expectNoAxeViolations(page);

  await page.getByRole("link", { name: "Hoist", exact: true }).click();
  await expect(page).toHaveURL(/class=hoist/);
  await expect(
    page.getByRole("heading", { name: "Hoist: hours of the shift within the limits" }),
  ).toBeVisible();
  const grid = page.getByRole("grid", { name: /Hoist, next ten days/ });
  await expect(grid.getByRole("columnheader")).toHaveCount(11);
  const readout = page.locator(".ui-readout");
  await grid.locator('[tabindex="0"]').focus();
  const first = await readout.textContent();
  await page.keyboard.press("ArrowRight");
  await expect(readout).not.toHaveText(first ?? "");
  await page.keyboard.press("ArrowLeft");
  await expect(readout).toHaveText(first ?? "");
  await expect(readout).toContainText(/limits met in .* of .* h|closed/);
});

test("the matrix follows region and search, and an empty choice says what to do", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/weather?show=all");
  await expect(page.getByText(/^6\d sites shown/)).toBeVisible();
  // A site without a coordinate has no weather and says so.
  await expect(page.getByText("the site has no coordinate").first()).toBeVisible();
  await page.getByLabel("Region").selectOption({ index: 1 });
  await page.getByRole("button", { name: "Show", exact: true }).click();
  await expect(page).toHaveURL(/region=[^&]+/);
  await expect(page.getByText(/^[1-5]?\d sites shown/)).toBeVisible();
  await page.getByLabel("Code or name").fill("no such site");
  await page.getByRole("button", { name: "Show", exact: true }).click();
  await expect(page.getByText("No site passes this choice.")).toBeVisible();
  await page.getByRole("link", { name: "Show all sites" }).click();
  await expect(page.getByText(/^6\d sites shown/)).toBeVisible();
});

test("the plan is held against the forecast, visit by visit", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/weather?tab=plan");
  await expect(page.getByRole("heading", { name: "Planned visits of the next ten days" })).toBeVisible();
  const rows = page.getByRole("region", { name: "Planned visits against the forecast" }).getByRole("row");
  expect(await rows.count()).toBeGreaterThan(1);
  await expect(rows.nth(1)).toContainText(/Holds|Window lost|Not checked/);
  await expect(rows.nth(1)).toContainText(/\d+ of 12 members|–/);
  await expect(page.getByText("The plan was made with this forecast.")).toBeVisible();
  await expectNoAxeViolations(page);
});

test("the climate beyond is a table of months by place", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/weather?tab=climate&class=climb&height=60");
  await expect(page.getByRole("heading", { name: "Climb at 60 m, month by month" })).toBeVisible();
  await expect(page.getByRole("row", { name: /^WX-.* \d+%/ }).first()).toBeVisible();
  await expectNoAxeViolations(page);
});

test("a crew's ten days stand on a sheet to print, hour by hour", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/week?crew=C2");
  await page.getByRole("link", { name: "Ten-day sheet" }).click();
  await expect(page.getByRole("heading", { level: 1, name: /^Crew C2: ten days from / })).toBeVisible();
  const day = page.getByRole("region", { name: /^Hours of VM\d+ on / }).first();
  await expect(day.getByRole("rowheader").first()).toBeVisible();
  await expect(page.getByRole("button", { name: "Print" })).toBeVisible();
  await expectNoAxeViolations(page);
  await page.setViewportSize({ width: 390, height: 844 });
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await page.getByLabel("Crew").selectOption("C3");
  await expect(page.getByRole("heading", { level: 1, name: /^Crew C3: ten days from / })).toBeVisible();
});

test("on a phone nothing is wider than the screen", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await page.setViewportSize({ width: 390, height: 844 });
  for (const path of ["/weather", "/weather?tab=plan", "/weather?tab=climate"]) {
    await page.goto(path);
    await expect(page.getByRole("heading", { name: "Weather", level: 1 })).toBeVisible();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  }
  await expectNoAxeViolations(page);
});
