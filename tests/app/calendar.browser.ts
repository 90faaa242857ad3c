import ICAL from "ical.js";
import { expect, expectNoAxeViolations, test } from "./harness";

test("a crew lead makes a calendar address, a calendar program reads it, and it ends when it is revoked", async ({
  page,
  asCrewLead,
  browser,
  server,
}) => {
  await asCrewLead(page);
  for (const width of [1440, 390]) {
    await page.setViewportSize({ width, height: 900 });
    await page.goto("/week");
    await expect(page.getByRole("heading", { name: "In your own calendar" })).toBeVisible();
    await expectNoAxeViolations(page);
  }
  await page.getByRole("button", { name: "Make a calendar address" }).click();
  const field = page.getByLabel("Calendar address");
  await expect(field).toBeVisible();
  await expectNoAxeViolations(page);
  const address = await field.inputValue();
  expect(address.startsWith(`${server.url}/calendar/`)).toBe(true);

  const program = await browser.newContext();
  // A server under load may end a connection that it kept open: asked once more, as a calendar program does.
  const answer = await program.request.get(address, { maxRetries: 2 });
  expect(answer.status()).toBe(200);
  expect(answer.headers()["content-type"]).toBe("text/calendar; charset=utf-8");
  const calendar = new ICAL.Component(ICAL.parse(await answer.text()));
  expect(calendar.getAllSubcomponents("vevent").length).toBeGreaterThan(0);

  await page.reload();
  await expect(page.getByText("It is not shown again")).toBeVisible();
  expect(await page.content()).not.toContain(address.slice(-30));
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await page.getByRole("button", { name: "Revoke the address" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Revoke the address" }).click();
  await expect(page.getByRole("button", { name: "Make a calendar address" })).toBeVisible();
  expect((await program.request.get(address, { maxRetries: 2 })).status()).toBe(404);
  await program.close();
});
