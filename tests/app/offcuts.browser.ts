/** The offcut report: what was lost, what lies on the rack, a remnant scrapped with its reason, and both files. */
import { readFileSync } from "node:fs";
import { expect, expectNoAxeViolations, test } from "./harness";

test.use({ purpose: "offcuts" });

test("logistics cuts, scraps the remnant with a reason, finds it in the report and takes the report out", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/stock/offcuts");
  const rack = page.getByRole("region", { name: "Begun drums, the shortest rest first" });
  await expect(rack.getByRole("row").nth(1)).toBeVisible();
  for (const width of [1440, 390]) {
    await page.setViewportSize({ width, height: 900 });
    await expectNoAxeViolations(page);
    expect(
      await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
    ).toBeLessThanOrEqual(0);
  }
  const scrap = rack.getByRole("button", { name: /^Scrap what is left of / }).first();
  const serial = (await scrap.textContent())!.split(" of ")[1]!;
  await scrap.click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Why").selectOption("damaged");
  await dialog.getByLabel("In your words").fill("crushed by a pallet");
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByRole("button", { name: "Scrap it" }).click();
  await expect(page.getByText(new RegExp(`of ${serial} scrapped`))).toBeVisible();
  await page.goto("/stock/offcuts");
  await expect(
    page.getByRole("region", { name: "By reason" }).getByRole("row", { name: /damaged/ }),
  ).toBeVisible();
  await expect(page.getByRole("button", { name: `Scrap what is left of ${serial}` })).toHaveCount(0);
  const [csv] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("link", { name: "Export CSV" }).click(),
  ]);
  const text = readFileSync(await csv.path(), "utf8");
  expect(text.split(/\r?\n/)[0]).toContain("month,cable,reason,pieces");
  expect(text).toContain(",damaged,1,");
  const [workbook] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("link", { name: "Export workbook" }).click(),
  ]);
  expect(
    readFileSync(await workbook.path())
      .subarray(0, 2)
      .toString(),
  ).toBe("PK");
  await page.goto("/stock/offcuts?from=2020-01-01&to=2020-12-31");
  await expect(page.getByText("Nothing was lost in these days")).toBeVisible();
});
