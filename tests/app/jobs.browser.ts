import { expect, expectNoAxeViolations, test } from "./harness";

test("a job shows how far it is, stops when asked, and leaves a line", async ({ page, asAdministrator }) => {
  await asAdministrator(page);
  await page.goto("/jobs");
  await page.getByRole("button", { name: "Start the check" }).click();
  await expect(page.getByText(/step \d+ of 200/)).toBeVisible();
  await page.getByRole("button", { name: "Stop" }).click();
  await expect(page.getByText(/Counted to \d+ before it was stopped/)).toBeVisible();
  await expectNoAxeViolations(page);
  await page.reload();
  await expect(
    page.getByRole("row", { name: /Checking the worker process cancelled/ }).first(),
  ).toBeVisible();
});

test("a killed worker is noticed, said and replaced", async ({ page, asAdministrator, server }) => {
  await asAdministrator(page);
  await page.goto("/jobs");
  await page.getByRole("button", { name: "Start the check" }).click();
  await expect(page.getByText(/step \d+ of 200/)).toBeVisible();
  const pid = Number([...server.printed().matchAll(/worker: ready \(process (\d+)\)/g)].at(-1)?.[1]);
  process.kill(pid, "SIGKILL");
  await expect(page.getByText("the solver process ended; start again")).toBeVisible();
  await page.getByRole("button", { name: "Start the check" }).click();
  await expect(page.getByText("The worker takes work and finishes it")).toBeVisible({ timeout: 45_000 });
});

test("a job's stream and its stop are closed to other roles and to nobody", async ({
  page,
  asAdministrator,
  asCrewLead,
  request,
}) => {
  await asAdministrator(page);
  await page.goto("/jobs");
  const streaming = page.waitForRequest(/\/api\/jobs\/[^/]+\/stream/);
  await page.getByRole("button", { name: "Start the check" }).click();
  const address = new URL((await streaming).url()).pathname;
  expect((await request.get(address)).status()).toBe(401);
  await page.context().clearCookies();
  await asCrewLead(page);
  expect((await page.request.get(address)).status()).toBe(403);
  expect((await page.request.post(address.replace("stream", "cancel"))).status()).toBe(403);
});
