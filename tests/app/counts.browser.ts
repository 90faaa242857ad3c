/** A count from beginning to posting, by two people, on a desk and on a phone. */
import { expect, expectNoAxeViolations, test } from "./harness";

test("logistics counts a vehicle blind, a manager approves, and the ledger has the difference", async ({
  page,
  asLogistics,
  asManager,
}) => {
  await asLogistics(page);
  // Something to count: a few lugs go onto a vehicle first.
  await page.goto("/stock/record?kind=transfer");
  await page.getByRole("combobox", { name: /^Item\b/ }).selectOption("LUG-16");
  await page.getByLabel("From").selectOption("WH-EAST");
  await page.getByRole("combobox", { name: /^To\b/ }).selectOption("VAN-5");
  await page.getByLabel("Quantity").fill("7");
  await page.getByLabel("Why").fill("to be counted");
  await page.getByRole("button", { name: "Post to the ledger" }).click();
  await expect(page.getByText(/posted as row/)).toBeVisible();

  await page.goto("/stock/counts");
  await expectNoAxeViolations(page);
  await page.getByLabel("Place", { exact: true }).selectOption("VAN-5");
  await page.getByRole("button", { name: "Begin the count" }).click();
  await expect(page).toHaveURL(/\/stock\/counts\/\d+$/);
  const path = new URL(page.url()).pathname;

  await page.setViewportSize({ width: 390, height: 844 });
  await expectNoAxeViolations(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0);
  await page.getByRole("button", { name: "Hand in" }).click();
  await expect(page.getByText(/not counted yet/)).toBeVisible();
  await expect(page.getByText("What is counted is kept.")).toBeVisible();
  await expect(page.getByText("Nothing was saved")).toHaveCount(0);
  await expectNoAxeViolations(page);
  const fields = page.getByRole("spinbutton", { name: /^Counted of/ });
  const lines = await fields.count();
  expect(lines).toBeGreaterThan(0);
  for (let i = 0; i < lines; i++) {
    await fields.nth(i).fill("5");
    await fields.nth(i).press("Enter");
    if (i + 1 < lines) await expect(fields.nth(i + 1)).toBeFocused();
    await expect(page.getByText(/^5\spieces, /)).toHaveCount(i + 1);
  }
  await page.getByRole("button", { name: "Hand in" }).click();
  await expect(
    page.getByText("Waits for a rollout manager or administrator who did not count."),
  ).toBeVisible();
  await expect(page.getByRole("button", { name: /Approve/ })).toHaveCount(0);

  await page.setViewportSize({ width: 1440, height: 900 });
  await page.context().clearCookies();
  await asManager(page);
  await page.goto(path);
  await expect(page.getByRole("region", { name: "Lines that differ" })).toContainText(/[-−]2/);
  await expectNoAxeViolations(page);
  await page.getByRole("button", { name: /Approve and post/ }).click();
  await expect(page.getByText("approved and posted").first()).toBeVisible();
  await expect(page.getByText(/Approved by .+, Mon\s16\sMar\s2026, \d\d:\d\d/)).toBeVisible();
  await page.goto("/stock?tab=ledger&item=LUG-16");
  await expect(
    page
      .getByRole("row")
      .filter({ hasText: /^.*Count \d+: 5 counted by/ })
      .first(),
  ).toContainText("count adjustment");
  await page.goto("/stock/counts");
  await expect(page.getByRole("region", { name: "Counts" })).toContainText("approved and posted");
});

test("what was used since the count is counted again, and only that", async ({
  page,
  asLogistics,
  asManager,
}) => {
  const move = async (kind: string, fill: () => Promise<void>, quantity: string) => {
    await page.goto(`/stock/record?kind=${kind}`);
    await page.getByRole("combobox", { name: /^Item\b/ }).selectOption("LUG-16");
    await fill();
    await page.getByLabel("Quantity").fill(quantity);
    await page.getByRole("textbox", { name: /Why|In your words/ }).fill("for a count");
    await page.getByRole("button", { name: "Post to the ledger" }).click();
    await expect(page.getByText(/posted as row/)).toBeVisible();
  };
  const as = async (sign: (p: typeof page) => Promise<void>) => {
    await page.context().clearCookies();
    await sign(page);
  };
  const countOpen = async (quantity: string) => {
    const line = page.getByRole("listitem").filter({ hasText: "not counted" });
    while ((await line.count()) > 0) {
      const left = await line.count();
      await line.first().getByRole("spinbutton").fill(quantity);
      await line.first().getByRole("spinbutton").press("Enter");
      await expect(line).toHaveCount(left - 1);
    }
    await page.getByRole("button", { name: "Hand in" }).click();
    await expect(page.getByText(/Waits for a rollout manager/)).toBeVisible();
  };

  await asLogistics(page);
  await move(
    "transfer",
    async () => {
      await page.getByLabel("From").selectOption("WH-EAST");
      await page.getByRole("combobox", { name: /^To\b/ }).selectOption("VAN-4");
    },
    "7",
  );
  await page.goto("/stock/counts");
  await page.getByLabel("Place", { exact: true }).selectOption("VAN-4");
  await page.getByRole("button", { name: "Begin the count" }).click();
  await expect(page).toHaveURL(/\/stock\/counts\/\d+$/);
  const path = new URL(page.url()).pathname;
  await countOpen("5");
  await move("scrap", async () => void (await page.getByLabel("From").selectOption("VAN-4")), "6");

  await as(asManager);
  await page.goto(path);
  await expect(page.getByText("Used since the count", { exact: true })).toBeVisible();
  await expectNoAxeViolations(page);
  await page.getByRole("button", { name: /Approve and post/ }).click();
  await expect(page.getByText(/the books had 7 when 5 were counted, and have 1 now/)).toBeVisible();
  await page.getByRole("button", { name: "Count these lines again" }).click();
  await expect(page.getByText(/1 line.* to count/).first()).toBeVisible();

  await as(asLogistics);
  await page.goto(path);
  await countOpen("1");
  await as(asManager);
  await page.goto(path);
  await page.getByRole("button", { name: /Approve and post/ }).click();
  await expect(page.getByText("approved and posted").first()).toBeVisible();
});
