/** Allowances from reported use: seen, accepted with their effect, rejected, on a desk and on a phone. */
import { expect, expectNoAxeViolations, test } from "./harness";

test.use({ purpose: "use learned" });

test("logistics sees what ends used, accepts an allowance with its effect, and rejects another", async ({
  page,
  asLogistics,
}) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await asLogistics(page);
  await page.goto("/programme");
  await page.getByRole("link", { name: "Use learned" }).click();
  await expect(page.getByRole("heading", { name: "Material: counted and used", level: 1 })).toBeVisible();
  await expectNoAxeViolations(page);
  const proposed = page.getByRole("region", { name: "Proposed allowances", exact: true }).last();
  const ties = proposed.getByRole("row", { name: /Ties, UV-stable/ });
  await expect(ties).toContainText("ends");
  await ties.getByRole("checkbox").check();
  await page.getByRole("button", { name: "Accept the chosen" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Show the effect" }).click();
  await expect(dialog.getByText("TIE-UV", { exact: false }).first()).toBeVisible({ timeout: 90_000 });
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByLabel("Reason").fill("Forty ends speak for it");
  await dialog.getByRole("button", { name: "Save as a new version" }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByRole("region", { name: "History" }).first()).toContainText(
    "Forty ends speak for it",
  );
  await expect(proposed.getByRole("row", { name: /Ties, UV-stable/ })).toHaveCount(0);

  await proposed
    .getByRole("row", { name: /Cleaning wipes/ })
    .getByRole("checkbox")
    .check();
  await page.getByRole("button", { name: "Reject the chosen" }).click();
  await dialog.getByLabel("Reason").fill("They were given away");
  await dialog.getByRole("button", { name: "Reject", exact: true }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByRole("region", { name: "Rejected allowances" })).toContainText(
    "They were given away",
  );

  await page.setViewportSize({ width: 390, height: 844 });
  await expectNoAxeViolations(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0);
});
