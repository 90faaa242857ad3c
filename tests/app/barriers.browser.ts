/** That the look for barriers finds them: without this, a page could pass because nobody looked. */
import { expect, expectNoAxeViolations, test } from "./harness";

test("a page with a nameless field and pale text does not pass the look for barriers", async ({ page }) => {
  await page.goto("/sign-in");
  await expectNoAxeViolations(page);
  await page.evaluate(() =>
    document
      .querySelector("main")
      ?.insertAdjacentHTML("beforeend", '<input type="text"><p style="color:#ccc;background:#fff">pale</p>'),
  );
  const refused = await expectNoAxeViolations(page).catch((thrown: Error) => thrown.message);
  expect(refused).toContain("label: ");
  expect(refused).toContain("color-contrast: ");
});
