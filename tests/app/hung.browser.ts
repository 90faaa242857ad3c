/** Which radio hangs where: recorded at the desk, exchanged, taken down, with its history, on a desk and on a phone. */
import { expect, expectNoAxeViolations, sendReport, test } from "./harness";

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

test.describe("on the phone", () => {
  test.use({ viewport: { width: 390, height: 844 } });

  test("a crew reports the serial that it hung; one that hangs elsewhere is refused and corrected", async ({
    page,
    asCrewLead,
    asLogistics,
  }) => {
    test.setTimeout(180_000);
    await asCrewLead(page);
    await page.goto("/week");
    const installs = (
      await page
        .getByRole("article")
        .getByRole("link")
        .evaluateAll((links) => links.map((a) => new URL((a as HTMLAnchorElement).href).pathname))
    ).filter((path) => path.endsWith("/install"));
    expect(new Set(installs).size).toBeGreaterThan(1);
    const [first, second] = [...new Set(installs)] as [string, string];
    const send = async (visit: string, serial: string) => {
      await page.goto(visit);
      await page.getByText("Serials of the radios that hang").click();
      const field = page.getByLabel(/^Serial of /).first();
      await field.fill(serial);
      await expectNoAxeViolations(page);
      await page.getByRole("spinbutton", { name: "Hours worked on site" }).fill("6");
      await sendReport(page);
      return field;
    };
    await send(first, "RU-88001");
    await expect(page.getByText(/^Report received\./)).toBeVisible();

    const field = await send(second, "RU-88001");
    const hop = first.split("/")[3] ?? "";
    await expect(
      page.getByText(new RegExp(`RU-88001 hangs at ${hop} .* end, by the books`)).first(),
    ).toBeVisible();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await expect(page.locator("th", { hasText: /^Serial of \S+$/ })).toBeVisible();
    await field.fill("RU-88002");
    await sendReport(page);
    await expect(page.getByText(/^Report received\./)).toBeVisible();
    await expect(page.getByText(/^The server did not take the report/)).toHaveCount(0);

    await page.context().clearCookies();
    await asLogistics(page);
    for (const [serial, visit] of [
      ["RU-88001", first],
      ["RU-88002", second],
    ] as const) {
      await page.goto(`/stock?tab=ledger&serial=${serial}`);
      const where = page.getByRole("region", { name: new RegExp(`Where ${serial} hangs`) }).first();
      await expect(where).toContainText(visit.split("/")[3] ?? "");
    }
  });
});
