/** Which radio hangs where: recorded at the desk, exchanged, taken down, with its history, on a desk and on a phone. */
import { expect, expectNoAxeViolations, test } from "./harness";

test.use({ purpose: "radios that hang" });

test("logistics records a serial at a site, another takes its place, and it is taken down", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/sites?tab=hops&f.state=on+promise");
  await page
    .getByRole("link", { name: /^VM\d+$/ })
    .first()
    .click();
  const radios = page.getByRole("region", { name: /^Radios of / }).first();
  await expect(radios).toContainText("not recorded");
  await expectNoAxeViolations(page);
  const record = async (serial: string) => {
    await page.getByLabel("Serial on its label").first().fill(serial);
    await page.getByRole("button", { name: "Record the serial" }).first().click();
    await expect(radios.getByRole("link", { name: serial })).toBeVisible();
  };
  await record("RU-77001");
  await record("RU-77002");
  await expect(radios).toContainText("exchanged for another");
  await page.getByLabel("Serial on its label").first().fill("RU-77002");
  await page.getByLabel("Hangs since").first().fill("2027-01-01");
  await page.setViewportSize({ width: 390, height: 844 });
  await expectNoAxeViolations(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0);
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.getByRole("button", { name: "Take RU-77002 down" }).click();
  await expectNoAxeViolations(page, { within: "dialog" });
  await page.getByRole("button", { name: "It is down" }).click();
  await expect(radios).toContainText("not recorded");
  await radios.getByRole("link", { name: "RU-77002" }).click();
  await expect(page.getByText("Where RU-77002 hangs and hung")).toBeVisible();
  await expectNoAxeViolations(page);
});
