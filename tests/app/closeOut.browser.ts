/** The close-out of hops: empty at first, then with what was cut. */
import { expect, expectNoAxeViolations, test } from "./harness";

test("a run that is cut stands in its hop's close-out until it is reported", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/stock/close-out");
  await expect(page.getByRole("heading", { level: 1, name: "Close-out" })).toBeVisible();
  await expectNoAxeViolations(page);
  await page.goto("/stock?tab=drums");
  await page
    .getByRole("button", { name: /Confirm cut/ })
    .first()
    .click();
  const dialog = page.getByRole("dialog");
  // The scan has the focus; who has no scanner goes on to the length.
  await dialog.getByLabel("Length as cut").focus();
  await page.keyboard.press("Enter");
  await expect(dialog).toBeHidden();
  for (const size of [
    { width: 1440, height: 900 },
    { width: 390, height: 844 },
  ]) {
    await page.setViewportSize(size);
    await page.goto("/stock/close-out");
    // As the Programme page counts them: finished and to accept, told apart.
    await expect(
      page.getByText(
        /^\d+ hops whose work is done have material from the ledger, \d+ of them still to accept/,
      ),
    ).toBeVisible();
    await page
      .getByText(/ of 1 item open/)
      .first()
      .click();
    await expect(page.getByRole("region", { name: /^Material of/ }).first()).toContainText("open");
    await expect(page.getByRole("columnheader", { name: "Scrapped or left over" }).first()).toBeAttached();
    await expectNoAxeViolations(page);
    expect(
      await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
    ).toBeLessThanOrEqual(0);
  }
  await page.goto("/stock/record?kind=scrap");
  await expect(page.getByLabel("For the visit")).toBeVisible();
});
