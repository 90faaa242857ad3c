/** How an item is ordered: the rules side by side, changed with prices, on a desk and on a phone. */
import { expect, expectNoAxeViolations, test } from "./harness";

const ITEM = "/stock/items/ARR-IF";

test("the lot rules stand side by side, and another one is chosen with its prices", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto(ITEM);
  const rules = page.getByRole("region", { name: "Lot rules side by side" });
  await expect(rules.getByRole("row")).toHaveCount(7);
  await expect(rules.getByText("least", { exact: true }).first()).toBeVisible();
  await expect(rules.getByRole("row").filter({ hasText: "in use" })).toContainText("minimum and multiple");
  await page.getByRole("button", { name: "Change how it is ordered" }).click();
  const dialog = page.getByRole("dialog");
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByLabel("Rule", { exact: true }).selectOption("price breaks");
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog.getByText("has one price only")).toBeVisible();
  await dialog.getByLabel("Lower prices").fill("20: 0.50\n40: 0.40");
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog).toBeHidden();
  await expect(rules.getByRole("row").filter({ hasText: "in use" })).toContainText("price breaks");
});

test("the comparison is readable on a phone, and a manager may not change it", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(ITEM);
  await expect(page.getByRole("region", { name: "Lot rules side by side" })).toBeVisible();
  await expect(page.getByRole("button", { name: "Change how it is ordered" })).toHaveCount(0);
  await expectNoAxeViolations(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0);
});

test("a supplier gives another day, and the day first promised stays", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock?tab=orders");
  await page
    .getByRole("region", { name: "Sent: on the way" })
    .getByRole("link", { name: /^[PC]O-/ })
    .first()
    .click();
  await page.getByRole("button", { name: "Another day" }).click();
  const dialog = page.getByRole("dialog");
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByLabel("Now due on").fill("2027-06-01");
  await dialog.getByLabel("Why").fill("the works are closed");
  await dialog.getByRole("button", { name: "Note the day" }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByText(/promised for/)).toBeVisible();
});
