/** A key from the page to the program that uses it, and its end. */
import { expect, expectNoAxeViolations, test } from "./harness";

test.use({ purpose: "open interface" });

test("an administrator makes a key; a program reads with it, within its scope, until it is revoked", async ({
  page,
  browser,
  server,
  asAdministrator,
}) => {
  await asAdministrator(page);
  await page.goto("/rules?tab=interface");
  await expect(page.getByText("No key yet")).toBeVisible();
  await page.getByRole("button", { name: "New key" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Program").fill("Purchasing");
  await dialog.getByRole("button", { name: "Make the key" }).click();
  await expect(dialog.getByText("Choose at least one thing that the key may do.").first()).toBeVisible();
  await dialog.getByLabel("Read what lies where").check();
  await dialog.getByLabel("Read needs and what to order").check();
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByRole("button", { name: "Make the key" }).click();
  const key = await dialog.getByLabel("Key").inputValue();
  expect(key).toMatch(/^bothends_/);
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByRole("button", { name: "I have copied it" }).click();
  await expect(page.getByRole("row", { name: /Purchasing.*read needs, read stock.*never/ })).toBeVisible();
  expect(await page.content()).not.toContain(key);

  const program = await browser.newContext();
  const ask = (path: string, headers = { Authorization: `Bearer ${key}` }) =>
    program.request.get(`${server.url}/api/open/v1${path}`, { headers });
  const stock = await ask("/stock?limit=5");
  expect(stock.status()).toBe(200);
  const body = await stock.json();
  expect(body.rows.length).toBe(5);
  expect(body.total).toBeGreaterThan(5);
  const needs = await ask("/needs?limit=1000");
  expect((await needs.json()).rows.length).toBeGreaterThan(10);
  const orders = await ask("/orders");
  expect(orders.status()).toBe(403);
  expect(orders.headers()["content-type"]).toBe("application/problem+json");
  // The signed-in browser's cookie opens nothing here.
  expect((await page.request.get(`${server.url}/api/open/v1/stock`)).status()).toBe(401);
  const described = await program.request.get(`${server.url}/api/open/v1/openapi.json`);
  expect((await described.json()).openapi).toBe("3.1.0");

  for (const width of [1440, 390]) {
    await page.setViewportSize({ width, height: 900 });
    await page.goto("/rules?tab=interface");
    await expect(page.getByRole("row", { name: /Purchasing/ })).not.toContainText("never");
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    await expectNoAxeViolations(page);
  }
  await page.getByRole("button", { name: "Revoke the key of Purchasing" }).click();
  await dialog.getByRole("button", { name: "Revoke it" }).click();
  await expect(page.getByRole("row", { name: /Purchasing.*Revoked/ })).toBeVisible();
  expect((await ask("/stock")).status()).toBe(401);
  await program.close();
});
