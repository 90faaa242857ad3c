/** Up to which amount who approves: the administrator sets it, logistics and manager meet it. */
import { expect, expectNoAxeViolations, test } from "./harness";

test.use({ purpose: "approval limits" });

test("an administrator's limit lets logistics approve small orders and says who approves large ones", async ({
  page,
  browser,
  server,
  asAdministrator,
  asLogistics,
}) => {
  await asAdministrator(page);
  await page.goto("/rules?tab=accounts");
  const limits = page.getByRole("region", { name: "Approving orders" }).first();
  await expect(limits.getByRole("row", { name: /Logistics/ })).toContainText("none");
  const set = async (role: string, amount: string) => {
    await limits
      .getByRole("row", { name: new RegExp(role) })
      .getByRole("button", { name: /Change/ })
      .click();
    const dialog = page.getByRole("dialog");
    await dialog.getByLabel("Up to, an order").fill(amount);
    await dialog.getByLabel("Why").fill("decided by the board");
    await expectNoAxeViolations(page, { within: "dialog" });
    await dialog.getByRole("button", { name: "Save" }).click();
    await expect(dialog).toBeHidden();
  };

  await test.step("an empty amount is refused", async () => {
    await limits
      .getByRole("row", { name: /Logistics/ })
      .getByRole("button", { name: /Change/ })
      .click();
    const dialog = page.getByRole("dialog");
    await dialog.getByLabel("Why").fill("decided by the board");
    await dialog.getByRole("button", { name: "Save" }).click();
    await expect(dialog.getByText("Enter an amount.")).toBeVisible();
    await dialog.getByRole("button", { name: "Leave as it is" }).click();
  });

  await set("Logistics", "0.01");
  await expect(limits.getByRole("row", { name: /Logistics/ })).toContainText("\u20ac0.01");
  for (const width of [390, 1440]) {
    await page.setViewportSize({ width, height: 900 });
    await expectNoAxeViolations(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  }

  const office = await browser.newContext({ baseURL: server.url });
  const desk = await office.newPage();
  await asLogistics(desk);
  await desk.goto("/stock?tab=order");
  await desk.getByRole("button", { name: /Propose orders/ }).click();
  await expectNoAxeViolations(desk, { within: "dialog" });
  await desk.getByRole("button", { name: /^Propose \d+ lines?$/ }).click();
  await expect(desk.getByText(/proposed/).first()).toBeVisible();
  await desk.goto("/stock?tab=orders");
  // One whose supplier is known: without one, nobody may approve it.
  const proposed = desk
    .getByRole("region", { name: /^Proposed/ })
    .getByRole("row", { name: /Supplies/ })
    .getByRole("link", { name: /^PO-/ });
  await proposed.first().click();
  await expect(
    desk.getByText(/costs [\d,]+\.\d\d\sEUR; logistics staff approve up to 0\.01\sEUR/),
  ).toBeVisible();
  await expect(desk.getByText("It may be approved by rollout managers or administrators.")).toBeVisible();
  await expect(desk.getByRole("button", { name: "Approve" })).toHaveCount(0);
  await expectNoAxeViolations(desk);

  await set("Logistics", "1000000");
  await desk.reload();
  await desk.getByRole("button", { name: "Approve" }).click();
  await expect(desk.getByText("Approved").first()).toBeVisible();
  await office.close();
});
