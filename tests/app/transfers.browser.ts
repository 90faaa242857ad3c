/** Transfers between warehouses: from the proposal to the ledger, on a desk and on a phone. */
import type { Page } from "@playwright/test";
import { expect, expectFocusIn, expectNoAxeViolations, test } from "./harness";

const WIDTHS = [
  { width: 1440, height: 900 },
  { width: 390, height: 844 },
];

async function noSidewaysScroll(page: Page): Promise<void> {
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0);
}

test("what a shelf lacks and another has is shown apart, with the transfers that help", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  for (const size of WIDTHS) {
    await page.setViewportSize(size);
    await page.goto("/stock?tab=runs-out");
    const saved = page.getByRole("region", { name: "Items saved by a transfer" });
    await expect(saved.getByText(/saves (all|\d)/).first()).toBeVisible();
    await expectNoAxeViolations(page);
    await noSidewaysScroll(page);
    await page.goto("/stock?tab=transfers");
    await expect(page.getByRole("heading", { name: /Proposed: WH-/ }).first()).toBeVisible();
    await expectNoAxeViolations(page);
    await noSidewaysScroll(page);
  }
});

test("a proposed transfer is planned, refused beyond its quantity, and moved in the ledger", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/stock?tab=transfers");
  const region = page.getByRole("region", { name: /^Proposed from/ }).first();
  const row = region.getByRole("row").nth(1);
  const code = (await row.getByRole("link").textContent()) ?? "";
  await row.getByRole("button", { name: `Plan the transfer of ${code}` }).press("Enter");
  await expect(page.getByText("Planned 1 transfer")).toBeVisible();
  await expect(row.getByRole("button", { name: `Plan the transfer of ${code}` })).toHaveCount(0);
  await expectFocusIn(page, "main .ui-panel, main");
  const planned = page
    .getByRole("region", { name: "Planned transfers" })
    .getByRole("row")
    .filter({ hasText: code });
  await planned
    .first()
    .getByRole("button", { name: /^Moved/ })
    .click();
  const dialog = page.getByRole("dialog");
  await expect(dialog).toBeVisible();
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByLabel("Moved").fill("1");
  await dialog.getByRole("button", { name: "Write it into the ledger" }).click();
  await expect(dialog).toBeHidden();
  await page.goto(`/stock?tab=ledger&item=${encodeURIComponent(code)}`);
  await expect(page.getByRole("row").filter({ hasText: "Planned transfer" }).first()).toContainText(
    "transfer",
  );
});

test("an item's page has a balance for each shelf, and a kit says by when its transfer leaves", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/stock?tab=runs-out");
  const saved = page.getByRole("region", { name: "Items saved by a transfer" });
  const kit = saved.locator('a[href^="/kits/"]').first();
  const kitHref = (await kit.getAttribute("href"))!;
  await saved.getByRole("link").first().click();
  await expect(page.getByRole("heading", { name: /Balance of .*, WH-EAST/ })).toBeVisible();
  await expect(page.getByRole("heading", { name: /Balance of .*, WH-WEST/ })).toBeVisible();
  await expectNoAxeViolations(page);
  await page.goto(kitHref);
  await expect(page.getByText(/Transfer by /).first()).toBeVisible();
  await expectNoAxeViolations(page);
  await page.goto(`${kitHref}?view=sheet`);
  await expect(page.getByText(/Transfer by /).first()).toBeVisible();
});

test("a manager sees the transfers and may not plan them; the rules behind them stand under Rules", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/stock?tab=transfers");
  await expect(page.getByRole("heading", { name: /Proposed: WH-/ }).first()).toBeVisible();
  await expect(page.getByRole("button", { name: /^Plan/ })).toHaveCount(0);
  await page.goto("/rules?tab=stock");
  await expect(page.getByText("A transfer takes at least")).toBeVisible();
  await expectNoAxeViolations(page);
});
