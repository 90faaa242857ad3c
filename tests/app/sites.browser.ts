import { readFileSync } from "node:fs";
import { expect, expectNoAxeViolations, test } from "./harness";

test("the lists filter, sort and export by address, and the map follows", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/sites?tab=hops&f.state=held");
  await expect(page.getByRole("heading", { name: "Sites and hops", level: 1 })).toBeVisible();
  const table = page.getByRole("grid", { name: "Hops" }).or(page.getByRole("table", { name: "Hops" }));
  await expect(table.first()).toBeVisible();
  const held = page.getByText(/^\d+ of 58 hops$/).first();
  await expect(held).toBeVisible();
  const count = Number((await held.textContent())?.match(/^\d+/)?.[0]);
  expect(count).toBeGreaterThan(0);
  expect(count).toBeLessThan(40);
  await expectNoAxeViolations(page);

  await page.getByRole("button", { name: "Show map" }).click();
  await expect(page).toHaveURL(/map=1/);
  await expect(page.getByRole("img", { name: new RegExp(`${count} hops?\\. The list below`) })).toBeVisible();
  // The key says the state as the list does.
  await expect(page.locator(".ui-map-key")).toHaveText("Held");
  await page.getByText("Show hops as a list").click();
  await expect(page.getByRole("region", { name: "Hops", exact: true }).getByRole("row")).toHaveCount(
    count + 1,
  );

  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Export" }).click();
  const lines = readFileSync(await (await download).path(), "utf8")
    .trim()
    .split(/\r?\n/);
  expect(lines).toHaveLength(count + 1);
  expect(lines[0]).toContain("Held by");

  await page.reload();
  await expect(page.getByText(`${count} of 58 hops`).first()).toBeVisible();
});

test("the programme's tiles add up to all hops, and each opens exactly those that it counts", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/programme");
  const tiles = await page
    .locator(".ui-stat")
    .filter({ has: page.locator('a[href*="f.state="]') })
    .evaluateAll((all) =>
      all.map((tile) => ({
        href: tile.querySelector("a")?.getAttribute("href") ?? "",
        count: Number(tile.querySelector(".ui-stat-figure")?.textContent?.match(/\d+/)?.[0]),
      })),
    );
  expect(tiles.length).toBeGreaterThan(4);
  expect(tiles.reduce((sum, tile) => sum + tile.count, 0)).toBe(58);
  for (const { href, count } of tiles) {
    await page.goto(href);
    await expect(page.getByText(`${count} of 58 hops`).first()).toBeVisible();
  }
});

test("a site is opened by key from the list, and its views have addresses", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await page.goto("/sites?tab=sites");
  await expectNoAxeViolations(page);
  const first = page.getByRole("link", { name: /^VM\d+$/ }).first();
  const code = await first.textContent();
  await first.focus();
  await page.keyboard.press("Enter");
  await expect(page).toHaveURL(new RegExp(`/sites/${code}`));
  await expect(page.getByRole("heading", { level: 1 })).toContainText(code ?? "");
  await expectNoAxeViolations(page);

  await page.getByRole("link", { name: "Take-off", exact: true }).click();
  await expect(page).toHaveURL(/tab=design/);
  await expect(page.getByRole("heading", { name: "Side view" })).toBeVisible();
  await expect(page.getByRole("row", { name: /IF cable .* route \+ .* surplus/ }).first()).toBeVisible();
  await expectNoAxeViolations(page);

  await page.getByRole("link", { name: "Hours", exact: true }).click();
  await expect(page.getByText("Defaults from memory and common practice: calibrate")).toBeVisible();
  await expect(page.getByRole("row", { name: /Safety briefing/ })).toBeVisible();
  await expect(
    page.getByRole("heading", { name: "Hours of this end's install at other mount heights" }),
  ).toBeVisible();
  await expectNoAxeViolations(page);
});

test("a site's weather names the limiting figure to pointer and key", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/sites?tab=hops&f.state=on+promise");
  await page
    .getByRole("link", { name: /^VM\d+$/ })
    .first()
    .click();
  await expect(page).toHaveURL(/\/sites\/VM/);
  await page
    .getByRole("navigation", { name: "Views of the site" })
    .getByRole("link", { name: "Weather" })
    .click();
  const strip = page.getByRole("grid", { name: /Arrow keys move by hour/ });
  await expect(strip).toBeVisible();
  const readout = page.locator(".ui-readout").first();
  await strip.locator('[tabindex="0"]').focus();
  const before = await readout.textContent();
  await page.keyboard.press("ArrowRight");
  await expect(readout).not.toHaveText(before ?? "");
  await expect(readout).toContainText(/planning limits (not )?met/);
  await expect(page.getByRole("heading", { name: "If the work began on one of these days" })).toBeVisible();
  await expect(page.getByRole("heading", { name: "Climate beyond" })).toBeVisible();
  await expect(page.getByText("made-up weather", { exact: false }).first()).toBeVisible();
  // The strip's 1,680 cells take axe a minute; the same part is held to its rules on the hop's page below.
  await expectNoAxeViolations(page, { within: ".ui-panel:not(:has(.ui-strip-table))" });
});

test("an unknown site or hop is a page that says so", async ({ page, asManager }) => {
  await asManager(page);
  for (const path of ["/sites/NOWHERE", "/hops/NOTHING"]) {
    const answer = await page.goto(path);
    expect(answer?.status()).toBe(404);
  }
});

test("a planner dates an open gate, is told of a missing date, and finds the change in the log", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/sites?tab=hops&cols=code,state,gates&sort=-gates");
  await page
    .getByRole("link", { name: /^VH\d+$/ })
    .first()
    .click();
  await expect(page).toHaveURL(/\/hops\/VH/);
  const gate = page
    .getByRole("region", { name: "Gates" })
    .getByRole("row", { name: /Open, no date/ })
    .first();
  const kind = (await gate.getByRole("rowheader").textContent()) ?? "";
  await gate.getByRole("button", { name: `Change ${kind}` }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("State").selectOption("dated");
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog.getByText("needs the date on which it is expected")).toBeVisible();
  await dialog.getByLabel("Expected on").fill("2026-04-20");
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog).toBeHidden();
  await expect(
    page
      .getByRole("region", { name: "Gates" })
      .getByRole("row", { name: new RegExp(`${kind}.*Expected.*20 Apr 2026`) }),
  ).toBeVisible();
  // The old reason does not stand beside the new date.
  const visits = page.locator(".ui-scroll").filter({ hasText: "Not placed" });
  await expect(visits).toHaveCount(1);
  await expect(visits.getByText(`open gate: ${kind}`)).toHaveCount(0);
  // On a phone the reason runs over several lines: nothing of it lies beside the sheet.
  await page.setViewportSize({ width: 390, height: 844 });
  await expect(visits.getByText("held by an open gate when planned").first()).toBeVisible();
  expect(await visits.evaluate((e) => e.scrollWidth - e.clientWidth)).toBeLessThanOrEqual(0);
  await page.setViewportSize({ width: 1280, height: 900 });
  // One that the design data do not have is added, and named where it is there already.
  await page.getByRole("button", { name: "Add a gate" }).click();
  await dialog.getByLabel("Gate", { exact: true }).selectOption("access permit");
  await dialog.getByLabel("Holds").selectOption("far");
  await expect(dialog.getByLabel("Owner")).toHaveValue("site owner");
  await expectNoAxeViolations(page, { within: "dialog" });
  await dialog.getByRole("button", { name: "Add the gate" }).click();
  await expect(dialog).toBeHidden();
  await expect(
    page.getByRole("region", { name: "Gates" }).getByRole("row", { name: /access permit.*far end.*Open/ }),
  ).toBeVisible();
  await page.getByRole("button", { name: "Add a gate" }).click();
  await dialog.getByLabel("Gate", { exact: true }).selectOption("access permit");
  await dialog.getByLabel("Holds").selectOption("far");
  await dialog.getByRole("button", { name: "Add the gate" }).click();
  await expect(dialog.getByText("has a gate of this kind at this end already")).toBeVisible();
  await dialog.getByRole("button", { name: "Close" }).first().click();
  await page.getByRole("link", { name: "Record and log" }).click();
  await expect(
    page.getByRole("row", { name: "add gate access permit, far, owner site owner: open" }),
  ).toBeVisible();
  await expect(
    page.getByRole("row", { name: new RegExp(`change gate ${kind}: open to dated Mon 20 Apr 2026`) }),
  ).toBeVisible();
  await expectNoAxeViolations(page);
  // The plan in force does not know of it, and says so.
  await page.goto("/plan");
  const outOfDate = page.getByText("Data changed since this plan was made");
  await expect(outOfDate).toBeVisible();
  await expect(page.getByText(/changes? of gates, last on .* by /)).toBeVisible();
  await expectNoAxeViolations(page);
});

test("a crew lead reads a hop and its joint window, and changes no gate", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto("/sites?tab=hops&f.state=on+promise");
  await page
    .getByRole("link", { name: /^VH\d+$/ })
    .first()
    .click();
  await expect(page.getByRole("heading", { name: "Gates" })).toBeVisible();
  await expect(page.getByRole("button", { name: /^(Change|Add a gate)/ })).toHaveCount(0);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await expectNoAxeViolations(page);
  await page.getByRole("link", { name: "Alignment", exact: true }).click();
  await expect(page.getByRole("heading", { name: "Hours that suit both ends" })).toBeVisible();
  await expectNoAxeViolations(page);
});
