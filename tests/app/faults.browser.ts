/** A dead radio from the shelf onto hold, to a repairer and exchanged, with its history, on a desk and on a phone. */
import { expect, expectNoAxeViolations, test } from "./harness";

test.use({ purpose: "faulty pieces" });

test("logistics records a dead unit, sends it to repair, and gets another for it", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/stock/faults");
  await expectNoAxeViolations(page);
  await page.getByLabel("Find the item by code or name").fill("odu-23-1008a-lo");
  await expect(page.getByRole("combobox", { name: /^Item\b/ })).toHaveValue(/^ODU-23-1008A-LO/i);
  await page.getByLabel("Serial", { exact: false }).first().fill("SN-4711");
  await page.getByLabel("What is wrong with it").fill("no transmit power");
  // A serial that nobody issued: the ledger says that none lies there, and the unit was on a tower.
  await page.getByLabel("Where it was").selectOption("VAN-1");
  await page.getByRole("button", { name: "Put on hold" }).click();
  await expect(page.getByText(/The ledger has no 1 of/).first()).toBeVisible();
  await page.getByLabel("Where it was").selectOption("installed");
  await page.getByRole("button", { name: "Put on hold" }).click();
  await expect(page).toHaveURL(/\/stock\/faults\/\d+$/);
  await expect(page.getByText("Hold at", { exact: false }).first()).toBeVisible();
  await expectNoAxeViolations(page);

  await page.getByRole("button", { name: "Send to repair" }).click();
  await page.getByLabel("Repaired by").fill("Hill Repairs");
  await page.getByLabel("Promised back on").fill("2026-04-20");
  await page.getByRole("textbox", { name: "Why" }).fill("under warranty");
  await page.getByRole("button", { name: "It is sent" }).click();
  await expect(page.getByText("counted on like a delivery")).toBeVisible();

  await page.setViewportSize({ width: 390, height: 844 });
  await expectNoAxeViolations(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0);
  await page.getByRole("button", { name: "Exchanged", exact: true }).click();
  await page.getByLabel("Serial of the piece that came").fill("SN-4711");
  await page.getByRole("textbox", { name: "Why" }).fill("new unit came");
  await page.getByRole("button", { name: "It was exchanged" }).click();
  await expect(page.getByText("That is the serial of the faulty piece.").first()).toBeVisible();
  await page.getByLabel("Serial of the piece that came").fill("SN-5000");
  await page.getByRole("button", { name: "It was exchanged" }).click();
  await expect(page.getByText("SN-5000", { exact: true })).toBeVisible();

  await page.setViewportSize({ width: 1440, height: 900 });
  const history = page.getByRole("region", { name: "Ledger, newest first" });
  for (const kind of ["quality hold", "to repair", "exchange"]) await expect(history).toContainText(kind);
  await page.goto("/stock/faults");
  await expect(page.getByRole("region", { name: "Ended" })).toContainText("SN-5000");
  await expectNoAxeViolations(page);
  await page.goto("/stock?tab=orders");
  await expect(page.getByRole("region", { name: "Suppliers", exact: true })).toContainText(
    /pieces?, none received/,
  );
});

test("a whole drum goes on hold, no cut is planned from it, and it is released", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/stock/faults");
  const cable = page.getByRole("combobox", { name: /^Item\b/ });
  const code = await cable
    .locator("option")
    .evaluateAll(
      (options) => options.map((o) => (o as HTMLOptionElement).value).find((v) => v.startsWith("IFC-")) ?? "",
    );
  await cable.selectOption(code);
  const serial = await page.getByLabel("Drum", { exact: false }).first().inputValue();
  await page.getByLabel("What is wrong with it").fill("jacket damaged");
  await expectNoAxeViolations(page);
  await page.getByRole("button", { name: "Put on hold" }).click();
  await expect(page).toHaveURL(/\/stock\/faults\/\d+$/);
  await expect(page.getByText("no cut is planned from it")).toBeVisible();
  await expect(page.getByRole("button", { name: "Send to repair" })).toHaveCount(0);
  const fault = page.url();
  await page.goto("/stock/faults");
  await cable.selectOption(code);
  await expect(
    page.getByLabel("Drum", { exact: false }).first().locator("option", { hasText: serial }),
  ).toHaveCount(0);
  await page.goto(fault);
  await page.getByRole("button", { name: "Nothing wrong with it" }).click();
  await page.getByRole("textbox", { name: "Why" }).fill("only the wrapping");
  await page.getByRole("button", { name: "Release it" }).click();
  await expect(page.getByText("Released").first()).toBeVisible();
});
