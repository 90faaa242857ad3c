import { readFileSync } from "node:fs";
import type { Page } from "@playwright/test";
import { expect, expectNoAxeViolations, test } from "./harness";

// Moves are held against the plan as it was made: reports and accepted factors of other files would retime it.
test.use({ purpose: "plan" });

/** Opens the first visit of a kind on the board of the plan at `address`. */
async function openVisit(page: Page, name: RegExp): Promise<string> {
  const visit = page.getByRole("button", { name }).first();
  await visit.click();
  await expect(page.getByText("On site with set-up, P80")).toBeVisible();
  return new URL(page.url()).searchParams.get("visit") ?? "";
}

test("the board says who is where when, by keyboard too", async ({ page, asManager }) => {
  test.slow();
  await asManager(page);
  await page.goto("/plan?zoom=4+weeks");
  await expect(page.getByRole("grid", { name: /^Plan \d+, in force/ })).toBeVisible();
  await expect(page.getByRole("button", { name: "4 weeks" })).toHaveAttribute("aria-pressed", "true");
  const reachOut = () =>
    page
      .locator(
        ".ui-visit:not([data-tight]) :is(.ui-visit-head, .ui-visit-foot), .ui-board-crew-note:not([data-tight])",
      )
      .evaluateAll((lines) =>
        lines.filter((line) => line.scrollWidth > line.clientWidth).map((line) => line.textContent),
      );
  // What is not cut off fits, by the browser's own measure.
  expect(await reachOut()).toEqual([]);
  await page.getByRole("button", { name: "12 weeks" }).click();
  await expect(page).toHaveURL(/zoom=12\+weeks/);
  await expect(page.getByRole("region", { name: "Visits not placed" })).toBeVisible();
  await expect(
    page.getByRole("cell", { name: /open gate|no coordinate|design check/ }).first(),
  ).toBeVisible();
  await expectNoAxeViolations(page);

  await page.getByRole("button", { name: "Week", exact: true }).click();
  await expect(page.locator(".ui-visit-head").first()).toBeVisible();
  expect(await reachOut()).toEqual([]);
  await page.locator('[data-cell="0,0"]').focus();
  for (let i = 0; i < 60 && !new URL(page.url()).searchParams.has("visit"); i++) {
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Enter");
  }
  await expect(page.getByText("On site with set-up, P80")).toBeVisible();
  await expectNoAxeViolations(page);
  const address = page.url();
  await page.goto(address);
  await expect(page.getByText("On site with set-up, P80")).toBeVisible();
  await page.getByRole("button", { name: "Try every other crew and day" }).click();
  await expect(page.getByText(/hold no place for it/)).toBeVisible({ timeout: 30_000 });
});

test("a move shows what it does, goes into a draft, and is undone", async ({ page, asManager }) => {
  test.slow();
  await asManager(page);
  await page.goto("/plan?zoom=4+weeks");
  const inForce = await page.getByRole("grid", { name: /in force/ }).getAttribute("aria-label");
  // One that is still to do: only those are held against the weather.
  const visitId = await openVisit(page, /^Install VH.*; weather: /);
  // By keyboard it is taken up where it stands.
  await page
    .locator("[data-cell]")
    .filter({ has: page.locator('[aria-pressed="true"]') })
    .focus();
  await page.keyboard.press("m");
  await expect(page.getByText(/^Choose the new crew and day for /)).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(page.getByText(/^Choose the new crew and day for /)).toBeHidden();
  await page.getByRole("button", { name: "Move …" }).click();
  const dialog = page.getByRole("dialog");
  await expect(dialog.getByText("It stands there already")).toBeVisible({ timeout: 30_000 });
  await expect(dialog.getByRole("button", { name: "Accept the move" })).toBeDisabled();

  await dialog.getByLabel("Start").fill("03:00");
  await expect(dialog.getByText(/Breaks no hard rule|Breaks \d+ hard rule|It stands there/)).toBeVisible();
  // A Sunday: nobody works, and the rule is named.
  const day = await dialog.getByLabel("Day").inputValue();
  const sunday = new Date(`${day}T12:00:00Z`);
  sunday.setUTCDate(sunday.getUTCDate() + ((7 - sunday.getUTCDay()) % 7 || 7));
  await dialog.getByLabel("Day").fill(sunday.toISOString().slice(0, 10));
  await expect(dialog.getByText("calendar", { exact: true }).first()).toBeVisible();
  await expect(dialog.getByRole("columnheader", { name: "Changes" })).toBeVisible();
  await expect(dialog.getByText("What helps: a day on which the crew works").first()).toBeVisible();
  await expectNoAxeViolations(page);
  await expect(dialog.getByRole("button", { name: "Accept the move" })).toBeDisabled();
  await dialog.getByLabel(/Keep it in the draft all the same/).check();
  await dialog.getByRole("button", { name: "Accept the move" }).click();
  await expect(page.getByText(/The move is in draft \d+/)).toBeVisible();
  await expect(page.getByText(/Draft \d+: nobody works by it yet/)).toBeVisible();
  // What was moved is in view on the draft's board, whatever stands above it now.
  await expect(page.locator('.ui-visit[data-selected="true"]').first()).toBeInViewport();
  await expectNoAxeViolations(page);

  // The judge refuses it by name, before any question.
  await page.getByRole("button", { name: "Put in force" }).click();
  await expect(page.getByText(/stays a draft: it breaks/)).toBeVisible({ timeout: 30_000 });
  await expect(page.getByRole("dialog")).toHaveCount(0);
  const board = page.url();
  await page.getByRole("link", { name: "Compare with the plan in force" }).click();
  await expect(page.getByText("It cannot be put in force", { exact: true })).toBeVisible({ timeout: 30_000 });
  await expect(page.getByRole("button", { name: "Put in force" })).toBeDisabled();
  await expect(page.getByRole("button", { name: "Put in force" })).toHaveAccessibleDescription(
    /^It cannot be put in force: it breaks \d+ hard rules?\.$/,
  );
  // The visit that was moved is named with its start and its end.
  const changed = page.getByRole("region", { name: /visits? on another day/ }).getByRole("row");
  await expect(
    changed.filter({ hasText: /\d\d:\d\d–\d\d:\d\d.*\d\d:\d\d–\d\d:\d\d.*later/ }).first(),
  ).toBeVisible();
  await expectNoAxeViolations(page);
  await page.goto(board);

  const name = (visitId ?? "").replaceAll("/", " ");
  await page.getByRole("button", { name: `Undo the move of ${name}` }).click();
  await expect(page.getByText(`Undone: the move of ${name}.`)).toBeVisible();
  await expect(page.getByRole("button", { name: `Redo the move of ${name}` })).toBeEnabled();
  await page.getByRole("button", { name: "Discard" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Discard the draft" }).click();
  await page.waitForURL((url) => url.pathname === "/plan" && !url.searchParams.has("plan"));
  await expect(page.getByRole("grid", { name: inForce ?? "" })).toBeVisible();
});

test("a search shows how far it is, ends in a draft, and the draft is compared and put in force", async ({
  page,
  asManager,
  browser,
}) => {
  test.slow();
  await asManager(page);
  await page.goto("/plan/solve");
  await page.getByLabel("Solve for").fill("0");
  await page.getByRole("button", { name: "Search", exact: true }).click();
  await expect(page.getByText("at least 1 second")).toBeVisible();
  await page.getByLabel("Solve for").fill("120");
  await page.getByRole("button", { name: "Search", exact: true }).click();
  await expect(page.getByText("Searching for better plans")).toBeVisible({ timeout: 60_000 });
  await expect(page.getByText(/[\d,]+ tries/)).toBeVisible({ timeout: 60_000 });
  await page.reload();
  await page.getByRole("button", { name: "Stop and keep the best" }).click();
  await expect(page.getByText(/Draft \d+ is made \(stopped early\)/)).toBeVisible({ timeout: 60_000 });
  await expectNoAxeViolations(page);

  await page.getByRole("link", { name: "Compare and decide" }).click();
  await expect(page.getByRole("heading", { name: /^Plan \d+ against plan \d+, in force/ })).toBeVisible();
  await expect(page.getByRole("row", { name: /^Crew days/ })).toBeVisible();
  // The draft was run through hours and weather after the search, without being asked.
  await expect(page.getByText(/^Run 2,000 times from /)).toBeVisible({ timeout: 60_000 });
  await expect(
    page.getByRole("row", { name: /^Promises kept in fewer than four runs of five \d+ of/ }),
  ).toBeVisible();
  await expectNoAxeViolations(page);

  const address = page.url();
  // Any two plans can be set beside each other.
  const [, draftId, inForceId] = /^Plan (\d+) against plan (\d+)/.exec(
    (await page.locator("h1").textContent()) ?? "",
  )!;
  await page.goto(`/plan/compare?plan=${inForceId}`);
  await page.getByRole("link", { name: `Plan ${draftId}, draft` }).click();
  await expect(
    page.getByRole("heading", { name: `Plan ${inForceId} against plan ${draftId}, draft` }),
  ).toBeVisible();
  await expect(page.getByRole("link", { name: `Plan ${draftId}, draft` })).toHaveAttribute(
    "aria-current",
    "page",
  );
  await page.goto(address);

  // Somebody else puts it in force first: the second planner is told and nothing happens twice.
  const second = await browser.newContext();
  await second.addCookies(await page.context().cookies());
  const other = await second.newPage();
  await other.goto(address);
  await other.getByRole("button", { name: "Put in force" }).click();
  await other.getByRole("dialog").getByRole("button", { name: "Put in force" }).click();
  await expect(other.getByRole("grid", { name: /in force/ })).toBeVisible({ timeout: 30_000 });
  await second.close();
  await page.getByRole("button", { name: "Put in force" }).click();
  await expect(page.getByText(/changed plan \d+ while you had it open|put in force while/)).toBeVisible({
    timeout: 30_000,
  });
  await page.goto("/plan");
  await expect(page.getByRole("link", { name: /^Past plan/ }).first()).toBeVisible();
});

test("on a phone a visit comes as a sheet; a crew lead sees the plan and changes nothing", async ({
  page,
  asCrewLead,
}) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await asCrewLead(page);
  await page.goto("/plan?zoom=week");
  await expect(page.getByRole("link", { name: "Solve anew" })).toBeHidden();
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await openVisit(page, /^Install VH/);
  const sheet = page.getByRole("dialog");
  await expect(sheet.getByText("Site open")).toBeVisible();
  await expect(sheet.getByRole("button", { name: "Move …" })).toBeHidden();
  await expectNoAxeViolations(page);
  await page.keyboard.press("Escape");
  await expect(sheet).toBeHidden();
  expect((await page.goto("/plan/solve"))?.status()).toBe(403);
  const refused = await page.request.get("/plan/why?plan=1&visit=x");
  expect(refused.status()).toBe(403);
});

test("the plan goes out as a list to print and as CSV", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/plan");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("link", { name: "Export CSV" }).click(),
  ]);
  const text = readFileSync(await download.path(), "utf8");
  expect(download.suggestedFilename()).toMatch(/^plan-\d+-2026-\d\d-\d\d\.csv$/);
  expect(text.split("\r\n")[0]).toContain("visit,kind,hop,end,site,crew,start date,start time");
  expect(text.split("\r\n").length).toBeGreaterThan(100);
  await page.getByRole("link", { name: "List to print" }).click();
  await expect(page.getByRole("heading", { name: /^C1 .*W\d+ 2026/ }).first()).toBeVisible();
  await expectNoAxeViolations(page);
  await page.getByRole("link", { name: "C2", exact: true }).click();
  await expect(page.getByRole("heading", { name: /^C1 / })).toHaveCount(0);
  await expect(page.getByRole("heading", { name: /^C2 .*W\d+ 2026/ }).first()).toBeVisible();
});

test("the list prints one week as well as all", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/plan/list");
  const tables = page.getByRole("table");
  const all = await tables.count();
  await page.getByRole("navigation", { name: "Weeks" }).getByRole("link", { name: "This week" }).click();
  await expect(page).toHaveURL(/week=2026-03-16/);
  await expect(page.getByRole("heading", { name: /W12 2026$/ }).first()).toBeVisible();
  expect(await tables.count()).toBeLessThan(all);
  await expect(page.getByRole("heading", { name: /W13 2026$/ })).toHaveCount(0);
  await expectNoAxeViolations(page);
});
