/** Acceptance from both sides: the manager's tab of a hop, and the readings in a crew's report. */
import { expect, expectFocusIn, expectNoAxeViolations, sendReport, test } from "./harness";

/** Of the demonstration: its work is done, its error run is missing; and one that failed at a receive level. */
const WAITS_FOR_ERROR_RUN = "VH016";
const FAILED_LEVEL = "VH015";

test("a missing error run is entered and the hop counts as finished", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/programme");
  // Its promise has passed: until it is accepted it is late, though its work was done in time.
  const threat = page
    .getByRole("region", { name: "Hops that need attention" })
    .getByRole("row")
    .filter({ hasText: WAITS_FOR_ERROR_RUN });
  await expect(threat).toContainText("readings missing or failed, no revisit planned: missing: error run");
  await expect(threat).toContainText("3 days late");
  await page.goto(`/hops/${WAITS_FOR_ERROR_RUN}`);
  await expect(page.getByText("missing: error run")).toBeVisible();
  await page.getByRole("link", { name: "Readings and revisits" }).click();
  await expect(page.getByText(/^1 of \d+ readings is still open$/)).toBeVisible();
  await expectNoAxeViolations(page);

  await page.getByRole("button", { name: "Store readings" }).click();
  await expect(page.getByText("Enter at least one reading.")).toBeVisible();
  await page.getByRole("spinbutton", { name: "Error run" }).fill("0");
  await page.getByRole("button", { name: "Store readings" }).click();
  await expect(page.getByText(/^Every reading passed, the last on /)).toBeVisible();
  await page.goto("/programme");
  await expect(threat).toHaveCount(0);
});

test("a reading in place of a wrong one withdraws the revisits that only the wrong one asked for", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto(`/hops/${WAITS_FOR_ERROR_RUN}?tab=acceptance`);
  const errorRun = page.getByRole("spinbutton", { name: "Error run" });
  const store = page.getByRole("button", { name: "Store readings" });
  await errorRun.fill("5000000");
  await store.click();
  await expect(page.getByRole("region", { name: "List of problems" })).toContainText(
    /Error run.*5000000.*Too large for any reading/,
  );
  await expect(errorRun).toBeFocused();
  await expect(errorRun).toHaveAccessibleDescription(/Too large for any reading/);
  await errorRun.fill("5000");
  await store.click();
  await expect(page.getByText("Readings stored. A failed one opened 2 revisits.")).toBeVisible();
  await errorRun.fill("0");
  await page.getByRole("checkbox", { name: /^What was entered before was wrong/ }).check();
  await expectNoAxeViolations(page);
  await store.click();
  await expect(
    page.getByText("Readings stored. 2 revisits withdrawn that only the wrong ones asked for."),
  ).toBeVisible();
  await expect(page.getByText(/^Withdrawn by .*: The reading was sent again and passes\.$/)).toHaveCount(2);
  await expect(page.getByText("Entered wrongly: counts no more")).toHaveCount(1);
  await expect(page.getByText(/^Every reading passed, the last on /)).toBeVisible();
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 } });

  test("a failed level has its joint revisit in the plan, and the crew reads it again", async ({
    page,
    asManager,
  }) => {
    await asManager(page);
    await page.goto(`/hops/${FAILED_LEVEL}?tab=acceptance`);
    await expect(page.getByText(/^1 of \d+ readings failed$/)).toBeVisible();
    await expect(page.getByRole("cell", { name: /dB below the target of/ }).first()).toBeVisible();
    await expectNoAxeViolations(page);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(wide).toBeLessThanOrEqual(0);

    await page.goto(`/week/visit/${FAILED_LEVEL}/far/revisit`);
    await expect(page.getByText("What is to be mended: align again")).toBeVisible();
    await expect(page.getByText(/Crew C\d at .*, same hours/)).toBeVisible();
    await expectNoAxeViolations(page);
    await page.getByRole("spinbutton", { name: "Hours worked on site" }).fill("3");
    const level = page.getByRole("spinbutton", { name: "Far end, receive level R1" });
    const target = /target of (-?[\d.]+) dBm/.exec((await page.locator("form").textContent()) ?? "")![1]!;
    await level.fill(target);
    await sendReport(page);
    await expect(page.getByText(/^Report received\./)).toBeVisible();
    await page.goto(`/hops/${FAILED_LEVEL}?tab=acceptance`);
    await expect(page.getByText(/readings failed$/)).toHaveCount(0);
  });
});

test("a revisit is withdrawn with a reason that stays on record", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto(`/hops/${FAILED_LEVEL}?tab=acceptance`);
  await page.getByRole("button", { name: /^Withdraw revisit 1, near end/ }).click();
  await page.getByRole("dialog").getByLabel("Why").fill("the meter was off by six decibels");
  await expectNoAxeViolations(page);
  await page.getByRole("dialog").getByRole("button", { name: "Withdraw" }).click();
  await expect(page.getByText(/Withdrawn by .*: the meter was off by six decibels/).first()).toBeVisible();
  await expectFocusIn(page, ".ui-panel");
});
