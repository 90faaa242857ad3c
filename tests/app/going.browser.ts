/** A press on a link is answered on the screen with the next picture, before the page that it asks for is there. */
import { expect, expectNoAxeViolations, test } from "./harness";

test("a press shows at once that the next page is on its way, and moves nothing", async ({
  page,
  asManager,
}) => {
  test.slow();
  await asManager(page);
  await page.goto("/programme");
  await page.waitForLoadState("networkidle");
  // The answer is held back, so that the sign can be looked at.
  await page.route("**/*", async (route) => {
    if (route.request().headers().rsc) await new Promise((resolve) => setTimeout(resolve, 1500));
    await route.continue();
  });
  const sign = page.locator(".ui-going");
  await expect(sign).toBeHidden();
  // The sign hears of a press once React has it.
  await page.waitForFunction(() =>
    Object.keys(document.querySelector(".ui-going")!).some((key) => key.startsWith("__reactProps$")),
  );
  for (const name of ["Plan", "Sites and hops", "Weather", "Programme"]) {
    const measured = await page.evaluate(async (label) => {
      const link = [...document.querySelectorAll<HTMLAnchorElement>(".ui-nav a")].find(
        (a) => a.textContent === label,
      )!;
      const shifts: number[] = [];
      const watcher = new PerformanceObserver((list) => {
        for (const e of list.getEntries()) shifts.push((e as unknown as { value: number }).value);
      });
      watcher.observe({ type: "layout-shift" });
      link.click();
      await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve, 0)));
      const isShown = getComputedStyle(document.querySelector(".ui-going")!).visibility === "visible";
      await new Promise((resolve) => setTimeout(resolve, 300));
      watcher.disconnect();
      return { isShown, isMarked: link.hasAttribute("data-going"), shifts };
    }, name);
    expect(measured).toMatchObject({ isShown: true, isMarked: true, shifts: [] });
    await expect(sign).toBeHidden({ timeout: 30_000 });
  }
  await page.evaluate(() => document.documentElement.setAttribute("data-going", ""));
  await expectNoAxeViolations(page);
});

test("a row of a list shows it too, and a link that stays on the page does not", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/sites?tab=hops");
  // Pressed before React has the row, a link opens its page without it.
  await page.waitForFunction(() => {
    const link = document.querySelector('main a[href*="/hops/VH"]');
    return link && Object.keys(link).some((key) => key.startsWith("__reactProps$"));
  });
  await page.waitForLoadState("networkidle");
  // The answer is held back until the sign was looked at, however slow the machine is.
  let letGo = (): void => {};
  const isSeen = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  await page.route("**/hops/**", async (route) => {
    if (route.request().headers().rsc) await isSeen;
    await route.continue();
  });
  await page
    .getByRole("link", { name: /^VH\d+$/ })
    .first()
    .click();
  await expect(page.locator(".ui-going")).toBeVisible();
  letGo();
  await expect(page).toHaveURL(/\/hops\/VH/);
  await expect(page.locator(".ui-going")).toBeHidden();
  await page.evaluate(() => document.querySelector<HTMLAnchorElement>("a.ui-skip")!.click());
  await expect(page.locator(".ui-going")).toBeHidden();
});

test("what is typed right after the slash arrives, Enter too", async ({ page, asManager }) => {
  await asManager(page);
  // The dialog's code comes late, as on a slow machine.
  await page.route("**/_next/static/chunks/**", async (route) => {
    await new Promise((resolve) => setTimeout(resolve, 400));
    await route.continue();
  });
  await page.goto("/kits");
  await expect(page.getByRole("heading", { name: "Kits", exact: true })).toBeVisible();
  await page.waitForTimeout(300);
  await page.keyboard.type("/vh024", { delay: 5 });
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/hops\/VH024/);
});
