/** Spares by variant and warehouse: the sum behind a number, and a person's decision instead of it. */
import { expect, expectNoAxeViolations, test } from "./harness";

test.use({ purpose: "faulty pieces" });

test("logistics sees why so many spares are wanted, and fixes a number", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock/spares");
  await expectNoAxeViolations(page);
  const table = page.getByRole("region", { name: "Spares by variant and warehouse" });
  await expect(table.getByText(/expected to die/).first()).toBeVisible();
  const row = table.getByRole("row").nth(1);
  await row.getByRole("button", { name: /^Decide/ }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Kept by").selectOption("fixed");
  await dialog.getByLabel("Spares", { exact: false }).last().fill("7");
  await dialog.getByLabel("Why").fill("the ferry runs once a week");
  await dialog.getByRole("button", { name: "Keep it so" }).click();
  await expect(row).toContainText("the ferry runs once a week");
  await expect(row).toContainText("7");
  await page.setViewportSize({ width: 390, height: 844 });
  await expectNoAxeViolations(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0);
});
