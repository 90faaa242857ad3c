import { readFileSync } from "node:fs";
import type { Page } from "@playwright/test";
import { expect, expectNoAxeViolations, test } from "./harness";

const region = (page: Page, name: string | RegExp) => page.getByRole("region", { name });

// On a phone the walk in German holds them to the same, with the longer words.
test("every view has an address and breaks no accessibility rule", async ({ page, asAdministrator }) => {
  test.setTimeout(240_000);
  await asAdministrator(page);
  for (const [tab, heading] of [
    ["takeoff", "History"],
    ["figures", "IF cable and connectors"],
    ["weather", "Climb"],
    ["hours", "Tasks of one end"],
    ["plan", "Plan weights"],
    ["crews", "Certificates"],
    ["accounts", "Accounts"],
    ["interface", "Keys of the open interface"],
    ["log", ""],
  ] as const) {
    await page.goto(`/rules?tab=${tab}`);
    if (heading) await expect(page.getByRole("heading", { name: heading, exact: true })).toBeVisible();
    await expectNoAxeViolations(page);
  }
});

test("logistics changes a take-off row by key: the effect comes first, then reason, version and log", async ({
  page,
  asLogistics,
}) => {
  test.setTimeout(180_000);
  await asLogistics(page);
  await page.goto("/rules?tab=takeoff");
  await page.getByRole("searchbox").fill("connector");
  const row = page.getByRole("button", { name: /connector/i }).first();
  await row.focus();
  await page.keyboard.press("Enter");
  const dialog = page.getByRole("dialog");
  await expect(dialog.locator(":focus")).toHaveCount(1);
  await expectNoAxeViolations(page, { within: "dialog" });

  await dialog.getByLabel("Factor").fill("-1");
  await dialog.getByRole("button", { name: "Show the effect" }).click();
  await expect(dialog.getByRole("rowheader", { name: "Factor", exact: true })).toBeVisible();
  await dialog.getByLabel("Factor").fill("3");
  await expect(dialog.getByRole("button", { name: "Save as a new version" })).toHaveCount(0);
  await dialog.getByRole("button", { name: "Show the effect" }).focus();
  await page.keyboard.press("Enter");
  const effect = dialog.getByRole("region", { name: "Effect on the whole programme" });
  await expect(effect).toBeVisible({ timeout: 60_000 });
  await expect(effect).toContainText("over 58 hops");
  await expect(effect).toContainText("Money:");
  await expectNoAxeViolations(page, { within: "dialog" });

  await dialog.getByLabel("Reason").fill("Three per run on the new feeders");
  await dialog.getByRole("button", { name: "Save as a new version" }).click();
  await expect(dialog).toBeHidden();
  const history = region(page, "History").first();
  await expect(history).toContainText("Three per run on the new feeders");
  await expect(page.getByText("The plan in force was made with earlier rules")).toBeVisible();

  await page.goto("/rules?tab=log&q=takeoff+feeders");
  await expect(region(page, "Log")).toContainText("change takeoff rules");

  await page.goto("/rules?tab=takeoff");
  await history.getByRole("button", { name: "Bring back version 0" }).click();
  await dialog.getByRole("button", { name: "Show the effect" }).click();
  await expect(effect).toBeVisible({ timeout: 60_000 });
  await dialog.getByLabel("Reason").fill("Measured again");
  await dialog.getByRole("button", { name: "Save as a new version" }).click();
  await expect(history).toContainText("Measured again");
});

test("a manager makes a limit stricter, is refused a looser one, and Escape leaves it as it is", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/rules?tab=weather");
  await expect(page.getByText("never that it is safe to climb").first()).toBeVisible();
  const change = page.getByRole("button", { name: "Change Ground", exact: true });
  const dialog = page.getByRole("dialog");
  const gust = dialog.getByLabel("Gust at the mount, at most");

  await change.focus();
  await page.keyboard.press("Enter");
  await gust.fill("25");
  await page.keyboard.press("Escape");
  await expect(dialog).toBeHidden();
  await expect(change).toBeFocused();

  await change.click();
  await gust.fill("25");
  await dialog.getByLabel("Reason").fill("less waiting for the crews");
  await dialog.getByRole("button", { name: "Save as a new version" }).click();
  await expect(dialog.getByText("Only an administrator may make a limit looser").first()).toBeVisible();
  await expectNoAxeViolations(page, { within: "dialog" });
  await gust.fill("16");
  await dialog.getByRole("button", { name: "Save as a new version" }).click();
  await expect(dialog).toBeHidden();
  await expect(
    region(page, "Ground").getByRole("row", { name: /Gust at the mount.*16.*stricter/ }),
  ).toBeVisible();
});

test("two people change the same figures: the second is told and loses nothing", async ({
  page,
  context,
  asAdministrator,
}) => {
  await asAdministrator(page);
  const other = await context.newPage();
  for (const p of [page, other]) {
    await p.goto("/rules?tab=plan");
    await p.getByRole("button", { name: "Change Cutting policy" }).click();
    await p.getByRole("dialog").getByLabel("Reason").fill("new saw at the depot");
  }
  const save = (p: Page, cm: string) =>
    p
      .getByRole("dialog")
      .getByLabel("Lost at each cut")
      .fill(cm)
      .then(() => p.getByRole("dialog").getByRole("button", { name: "Save as a new version" }).click());
  await save(other, "25");
  await expect(other.getByRole("dialog")).toBeHidden();
  await save(page, "30");
  await expect(
    page.getByRole("dialog").getByText("Reload the page, look at the newer version"),
  ).toBeVisible();
  await expect(page.getByRole("dialog").getByLabel("Lost at each cut")).toHaveValue("30");
  await other.close();
});

test("crew leads read rules and change none; accounts are not shown to them", async ({
  page,
  asCrewLead,
}) => {
  await asCrewLead(page);
  for (const tab of ["takeoff", "figures", "weather", "hours", "plan", "crews"]) {
    await page.goto(`/rules?tab=${tab}`);
    await expect(page.getByRole("heading", { name: "Rules", level: 1 })).toBeVisible();
    await expect(
      page.getByRole("main").getByRole("button", { name: /^(Change|Add|Bring back)/ }),
    ).toHaveCount(0);
  }
  await page.goto("/rules?tab=accounts");
  await expect(page.getByRole("heading", { name: "Accounts" })).toHaveCount(0);
});

test("a manager adds leave and sees certificates soonest first", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/rules?tab=crews");
  await page.getByRole("button", { name: "Add leave" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Who").selectOption({ index: 1 });
  await dialog.getByLabel("First day").fill("2026-07-10");
  await dialog.getByLabel("Last day").fill("2026-07-01");
  await dialog.getByLabel("Why").fill("holiday");
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog.getByText("Enter 2026-07-10 or a later day.")).toBeVisible();
  await dialog.getByLabel("Last day").fill("2026-07-17");
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog).toBeHidden();
  await expect(
    region(page, "Leave")
      .first()
      .getByRole("row", { name: /10 Jul 2026.*17 Jul 2026.*holiday/ }),
  ).toBeVisible();
});

test("a certificate taken away names the visits of its crew, and the runs' shares are given to no other", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/programme");
  const threats = region(page, "What threatens it").first();
  const cause = /the certificate of (.+?) for rescue at height ends on/;
  const [, name] = ((await threats.textContent()) ?? "").match(cause)!;
  await page.goto("/rules?tab=crews");
  const button = page.getByRole("button", { name: `certificate of ${name} for rescue at height` });
  const until = async () => (await page.getByLabel("Valid until, that day included").inputValue()) ?? "";
  await button.click();
  const before = await until();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Reason, when it is taken away").fill("lost it");
  await dialog.getByRole("button", { name: "Take it away" }).click();
  await expect(page.getByText(/visits? of the plan in force now lacks? people/)).toBeVisible();
  const missing = region(page, "Visits that miss people").first();
  await expect(missing).toContainText("the crew is 1 rescuer short");
  await expectNoAxeViolations(page);
  await page.goto("/programme");
  await expect(threats).toContainText("who may do it changed since the last runs");
  await expect(threats).toContainText("Worked out before data changed");
  await expect(threats).not.toContainText(`the certificate of ${name}`);

  await page.goto("/rules?tab=crews");
  await page.getByRole("button", { name: "Add a certificate" }).click();
  const who = dialog.getByLabel("Who");
  const choice = await who.locator("option", { hasText: name }).getAttribute("value");
  await who.selectOption(choice);
  await dialog.getByLabel("For", { exact: true }).selectOption("rescue");
  await dialog.getByLabel("Valid until").fill(before);
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog).toBeHidden();
  await expect(missing).not.toContainText("the crew is 1 rescuer short");
});

test("the log is searched by address and exported whole", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/rules?tab=log");
  await page.getByLabel("Search: who").fill("zzz-nothing");
  await page.keyboard.press("Enter");
  await expect(page).toHaveURL(/q=zzz-nothing/);
  await expect(page.getByText("No row fits")).toBeVisible();
  await page.getByRole("link", { name: "All rows" }).click();
  const download = page.waitForEvent("download");
  await page.getByRole("link", { name: "Export CSV" }).click();
  const [head] = readFileSync(await (await download).path(), "utf8").split(/\r?\n/);
  expect(head).toContain("when (UTC)");
});
