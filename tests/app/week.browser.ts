/** My week on a narrow screen: what crews write themselves stays within it. */
import { expect, expectNoAxeViolations, test } from "./harness";

test.use({ viewport: { width: 390, height: 844 }, purpose: "week on the phone" });

/** As long as a reason may be: words, and at the end a text without a blank, such as an address. */
const LONG_REASON = `${"The owner keeps the gate locked until the survey is signed and nobody has a key. "
  .repeat(3)
  .slice(0, 220)}${"x".repeat(80)}`;

test("a reason for a hold runs over as many lines as it needs", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await page.goto("/week");
  const card = page.getByRole("region", { name: "Today" }).getByRole("article").first();
  const visit = await card.getByRole("link").getAttribute("href");
  await page.goto(visit!);
  await page.getByLabel("Outcome").selectOption("hold");
  await page.getByLabel("Why is it on hold?").fill(LONG_REASON);
  await page.getByRole("spinbutton", { name: "Hours worked on site" }).fill("1");
  await page.getByRole("button", { name: "Send report" }).click();
  await expect(page.getByText(/^Report received\./)).toBeVisible();
  for (const path of ["/week", visit!]) {
    await page.goto(path);
    await expect(page.getByText(LONG_REASON)).toBeVisible();
    expect(await page.evaluate(() => document.documentElement.scrollWidth), path).toBeLessThanOrEqual(390);
  }
  await expectNoAxeViolations(page);
});

test("the way out stands on the screen, and the week says what follows it", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await page.goto("/week");
  const more = page.getByText(/^\d+ more visits? follows?, /);
  await expect(more).toBeVisible();
  await page.getByRole("button", { name: /, account$/ }).click();
  await expect(page.getByRole("button", { name: "Sign out" })).toBeInViewport({ ratio: 1 });
  await expect(page.getByRole("link", { name: "Your account" })).toBeInViewport({ ratio: 1 });
  await page.keyboard.press("Escape");
  await more.getByRole("link").click();
  await expect(page.getByRole("heading", { level: 1, name: /by crew and week$/ })).toBeVisible();
});
