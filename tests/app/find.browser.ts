import { expect, expectFocusIn, expectNoAxeViolations, test } from "./harness";

test("anything is found by a few letters, by keyboard alone", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/kits");
  await expect(page.getByRole("heading", { name: "Kits", exact: true })).toBeVisible();
  const field = page.getByRole("combobox", { name: "Find anything" });
  // A key that is pressed before the page has come alive is nobody's.
  await expect(async () => {
    if (!(await field.isVisible())) await page.keyboard.press("/");
    await expect(field).toBeFocused({ timeout: 1000 });
  }).toPass();
  await expectNoAxeViolations(page);
  await field.pressSequentially("vh02");
  await expect(page.getByRole("option").first()).toBeVisible();
  await expect(page.getByRole("group", { name: "Hops" })).toBeVisible();
  await expect(page.getByRole("group", { name: "Visits" })).toBeVisible();
  await expectNoAxeViolations(page);
  const marked = page.locator('[role="option"][aria-selected="true"]');
  const first = await marked.textContent();
  await page.keyboard.press("ArrowDown");
  expect(await marked.textContent()).not.toBe(first);
  expect(await field.getAttribute("aria-activedescendant")).toBe(await marked.getAttribute("id"));
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/(hops|sites)\//);
  await expect(field).toBeHidden();

  // In a field a slash is a slash; the other key works everywhere, and Escape leaves.
  await page.goto("/sites");
  await page.getByRole("searchbox", { name: "Search sites" }).fill("a/b");
  await expect(field).toBeHidden();
  await page.keyboard.press("Control+k");
  await expect(field).toBeFocused();
  await field.fill("nothing is called so");
  await expect(page.getByText(/Nothing that you may open is called/)).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(field).toBeHidden();
});

test("a crew lead on a phone finds the own visits and no stock", async ({ page, asCrewLead }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await asCrewLead(page);
  await page.goto("/week");
  await page.getByRole("button", { name: "Find anything" }).click();
  const field = page.getByRole("combobox", { name: "Find anything" });
  await field.fill("odu");
  await expect(page.getByText(/Nothing that you may open is called/)).toBeVisible();
  await field.fill("vh");
  await expect(page.getByRole("group", { name: "Visits" })).toBeVisible();
  await expect(page.getByRole("group", { name: "Drums" })).toHaveCount(0);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await expectNoAxeViolations(page);
});

test("a view is kept by name, opened, shared, renamed and deleted", async ({
  page,
  asManager,
  asLogistics,
  browser,
  server,
}) => {
  await asManager(page);
  await page.goto("/sites?tab=hops&f.state=late&sort=-late&cols=code%2Cstate");
  const views = page.getByRole("navigation", { name: "Your views" });
  await views.getByRole("button", { name: "Keep this view" }).click();
  const dialog = page.getByRole("dialog", { name: "Your views of this list" });
  await dialog.getByLabel("Keep what is shown now as").fill("Late ones");
  await expectNoAxeViolations(page);
  const link = await dialog.getByLabel("Link to what is shown now").inputValue();
  await dialog.getByRole("button", { name: "Keep", exact: true }).click();
  const kept = views.getByRole("link", { name: "Late ones" });
  await expect(kept).toHaveAttribute("aria-current", "page");

  // From the plain list the view is one press away.
  await page.goto("/sites?tab=hops");
  await kept.click();
  await expect(page).toHaveURL(/f\.state=late/);
  await expect(page.getByText("State: late")).toBeVisible();

  // The same name again is refused, and may be replaced.
  await page.goto("/sites?tab=hops&group=region");
  await views.getByRole("button", { name: "Keep or change views" }).click();
  await dialog.getByLabel("Keep what is shown now as").fill("Late ones");
  await dialog.getByRole("button", { name: "Keep", exact: true }).click();
  await expect(dialog.getByText(/You keep a view called Late ones of this list already/)).toBeVisible();
  await dialog.getByRole("button", { name: "Replace Late ones" }).click();
  await expect(kept).toHaveAttribute("aria-current", "page");

  // Another person opens the link, and has no such view of their own.
  const context = await browser.newContext({ baseURL: server.url });
  const other = await context.newPage();
  await asLogistics(other);
  await other.goto(link);
  await expect(other.getByText("State: late")).toBeVisible();
  await expect(other.getByRole("navigation", { name: "Your views" }).getByRole("link")).toHaveCount(0);
  await context.close();

  await views.getByRole("button", { name: "Keep or change views" }).click();
  await dialog.getByLabel("Name of Late ones").fill("By region");
  await dialog.getByRole("button", { name: "Rename" }).click();
  await expect(dialog.getByRole("button", { name: "Delete By region" })).toBeVisible();
  await expectFocusIn(page, "dialog[open]");
  await expectNoAxeViolations(page);
  await dialog.getByRole("button", { name: "Delete By region" }).click();
  await expect(dialog.getByRole("button", { name: "Delete By region" })).toBeHidden();
  await expectFocusIn(page, "dialog[open]");
  await page.keyboard.press("Escape");
  await expect(views.getByRole("link")).toHaveCount(0);
});

test("each list offers to keep its view", async ({ page, asManager }) => {
  await asManager(page);
  for (const address of ["/plan?show=late&zoom=4+weeks", "/stock?tab=on-hand", "/kits?crew=C1"]) {
    await page.goto(address);
    const views = page.getByRole("navigation", { name: "Your views" });
    await views.getByRole("button", { name: /^Keep/ }).click();
    const dialog = page.getByRole("dialog", { name: "Your views of this list" });
    await dialog.getByLabel("Keep what is shown now as").fill("Mine");
    await dialog.getByRole("button", { name: "Keep", exact: true }).click();
    await expect(views.getByRole("link", { name: "Mine" })).toHaveAttribute("aria-current", "page");
  }
});
