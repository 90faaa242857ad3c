import { expect, expectNoAxeViolations, test } from "./harness";

for (const address of ["/nothing/here", "/sites/NO-SUCH-SITE"])
  test(`${address} says so and keeps the ways on`, async ({ page, asLogistics }) => {
    await asLogistics(page);
    for (const width of [1440, 390]) {
      await page.setViewportSize({ width, height: 900 });
      const answer = await page.goto(address);
      expect(answer?.status()).toBe(404);
      await expect(page.getByRole("heading", { name: "There is nothing at this address" })).toBeVisible();
      await expect(page.getByRole("main")).toHaveCount(1);
      await expect(page.getByRole("navigation", { name: "Main" })).toHaveCount(1);
      await expectNoAxeViolations(page);
    }
    await page.getByRole("link", { name: "Search sites and hops" }).click();
    await page.waitForURL("**/sites");
  });

test("who is not signed in is shown the door", async ({ page }) => {
  const answer = await page.goto("/nothing/here");
  expect(answer?.status()).toBe(404);
  await expect(page.getByRole("navigation", { name: "Main" })).toHaveCount(0);
  await expectNoAxeViolations(page);
  await page.getByRole("link", { name: "Sign in" }).click();
  await page.waitForURL("**/sign-in");
});
