import type { Locator, Page } from "@playwright/test";
import { expect, expectNoAxeViolations, test } from "./harness";

// Visits are moved and pinned.
test.use({ purpose: "plan edits" });

/** Installs that are still to do: only those are held against the weather. */
const TO_DO = /^Install VH.*; weather: /;

const undo = (page: Page) => page.getByRole("button", { name: /^Undo/ });
const redo = (page: Page) => page.getByRole("button", { name: /^Redo/ });

/** Moves the visit that the panel shows by days, and gives its id. */
async function moveShown(page: Page, byDays: number): Promise<string> {
  const id = new URL(page.url()).searchParams.get("visit") ?? "";
  await page.getByRole("button", { name: "Move …" }).click();
  const dialog = page.getByRole("dialog");
  const day = new Date(`${await dialog.getByLabel("Day").inputValue()}T12:00:00Z`);
  day.setUTCDate(day.getUTCDate() + byDays);
  await dialog.getByLabel("Day").fill(day.toISOString().slice(0, 10));
  await acceptShown(page, /Accept/);
  return id;
}

/** Takes hold of a visit and moves it on, as a hand does, until the board shows on which crew it would land. */
async function holdOver(page: Page, from: { x: number; y: number }, toY: number, crew: string) {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + 12, from.y + 4, { steps: 3 });
  const mark = page.locator(".ui-board-drop:not([hidden])");
  let x = from.x + 20;
  await expect(async () => {
    await page.mouse.move(x++, toY, { steps: 6 });
    await expect(mark).toContainText(crew, { timeout: 1000 });
  }).toPass({ timeout: 15_000 });
}

async function acceptShown(page: Page, name: RegExp): Promise<void> {
  const dialog = page.getByRole("dialog");
  await expect(dialog.getByText(/Breaks no hard rule|Breaks \d+ hard rule/)).toBeVisible({ timeout: 30_000 });
  const keep = dialog.getByLabel(/Keep it in the draft all the same/);
  if (await keep.isVisible()) await keep.check();
  await dialog.getByRole("button", { name }).click();
  await expect(dialog).toBeHidden({ timeout: 30_000 });
}

test("several visits are picked, moved as one, undone and done again by key; find jumps", async ({
  page,
  asManager,
}) => {
  test.slow();
  await asManager(page);
  await page.goto("/plan?zoom=4+weeks");
  await expect(page.getByRole("grid", { name: /in force/ })).toBeVisible();
  await expect(undo(page)).toBeDisabled();
  const blocks = page.getByRole("button", { name: TO_DO });
  await blocks.nth(0).click({ modifiers: ["Control"] });
  await page
    .getByRole("button", { name: TO_DO })
    .nth(1)
    .click({ modifiers: ["Control"] });
  const bar = page.getByRole("region", { name: "Picked visits" });
  await expect(bar.getByText(/^[12] visits? of/)).toBeVisible();
  await expectNoAxeViolations(page);
  await page.keyboard.press("Escape");

  // By keyboard: the cell's visits with Space, the next cell's too.
  await page.locator('[data-cell][tabindex="0"]').focus();
  for (let i = 0; i < 80 && (await page.locator('[data-picked="true"]').count()) < 3; i++) {
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press(" ");
  }
  await expect(bar).toBeVisible();
  const count = await page.locator('[data-picked="true"]').count();
  expect(count).toBeGreaterThanOrEqual(3);
  await bar.getByRole("button", { name: "Move them …" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Days later").fill("");
  await expect(dialog.getByText("a whole number of days, such as 7 or -2")).toBeVisible();
  await dialog.getByLabel("Days later").fill("7");
  await expectNoAxeViolations(page);
  await acceptShown(page, /^Accept for/);
  await expect(page.getByText(/Draft \d+: nobody works by it yet/)).toBeVisible();
  await expect(undo(page)).toHaveAccessibleName(/^Undo the move of \d+ visits/);
  // Priced anew by hand: the bound of the search says nothing of it.
  await expect(page.getByText(/^No bound: visits were moved by hand/)).toBeVisible();
  await expect(page.getByText(/a better plan could save at most/)).toBeHidden();

  await page.keyboard.press("Control+z");
  await expect(page.getByText(/^Undone: the move of \d+ visits/)).toBeVisible({ timeout: 30_000 });
  await expect(redo(page)).toBeEnabled();
  await expect(undo(page)).toBeDisabled();
  await page.keyboard.press("Control+Shift+z");
  // The move of several may have broken rules when it was accepted: then doing it again asks anew.
  const again = page.getByRole("button", { name: "Redo all the same" });
  const done = page.getByText(/^Done again: the move of \d+ visits/);
  await expect(again.or(done)).toBeVisible({ timeout: 30_000 });
  if (await again.isVisible()) await again.click();
  await expect(page.getByText(/^Done again: the move of \d+ visits/)).toBeVisible({ timeout: 30_000 });
  await expect(redo(page)).toBeDisabled();

  // Find: a hop by its code jumps to its visit and shows it.
  const find = page.getByRole("combobox", { name: "Find on the board" });
  await find.fill("vh0");
  await expect(page.getByRole("option").first()).toBeVisible();
  await expectNoAxeViolations(page);
  await find.press("ArrowDown");
  await find.press("Enter");
  await expect(page.getByText("On site with set-up, P80")).toBeVisible();
  await expect(page).toHaveURL(/visit=/);
  await find.fill("c2");
  await page.getByRole("option", { name: /^C2 / }).click();
  await expect(page.locator('[data-cell][tabindex="0"]')).toHaveAttribute("data-cell", /^1,/);

  // What is filtered out stays on the board, faintly; the filter is in the address.
  await page.getByLabel("Show", { exact: true }).selectOption("alignment");
  await expect(page).toHaveURL(/show=alignment/);
  await expect(page.locator('.ui-visit[data-kind="install"][data-faint]').first()).toBeVisible();
  await expect(page.locator('.ui-visit[data-kind="alignment"][data-faint]')).toHaveCount(0);
  await expectNoAxeViolations(page);
});

test("two planners at once: the second is told, sees what changed and chooses", async ({
  page,
  asManager,
  asAdministrator,
  browser,
  server,
}) => {
  test.slow();
  await asManager(page);
  await page.goto("/plan?zoom=4+weeks");
  await page.getByRole("button", { name: TO_DO }).first().click();
  await moveShown(page, 7);
  await page.waitForURL(/plan=\d+/);
  await expect(page.getByText(/Draft \d+: nobody works by it yet/)).toBeVisible();
  const address = `/plan?zoom=4+weeks&plan=${new URL(page.url()).searchParams.get("plan")}`;

  const context = await browser.newContext({ baseURL: server.url, viewport: { width: 1280, height: 900 } });
  const other = await context.newPage();
  await asAdministrator(other);
  await other.goto(address);
  const mine = other.getByRole("button", { name: TO_DO }).nth(3);
  await mine.click();
  await expect(other.getByText("On site with set-up, P80")).toBeVisible();
  await other.getByRole("button", { name: "Move …" }).click();
  const dialog = other.getByRole("dialog");
  const day = new Date(`${await dialog.getByLabel("Day").inputValue()}T12:00:00Z`);
  day.setUTCDate(day.getUTCDate() + 7);
  await dialog.getByLabel("Day").fill(day.toISOString().slice(0, 10));
  await expect(dialog.getByText(/Breaks no hard rule|Breaks \d+ hard rule/)).toBeVisible({ timeout: 30_000 });

  // Meanwhile the first pins a visit.
  await page
    .getByRole("button", { name: "Pin", exact: true })
    .or(page.getByRole("button", { name: "Unpin", exact: true }))
    .first()
    .click();
  await expect(page.getByText(/^(Pinned|Free): the next search/)).toBeVisible();
  const touched = new URL(page.url()).searchParams.get("visit") ?? "";

  const keep = dialog.getByLabel(/Keep it in the draft all the same/);
  if (await keep.isVisible()) await keep.check();
  await dialog.getByRole("button", { name: "Accept the move" }).click();
  await expect(dialog.getByText(/Somebody changed plan \d+ while you had it open/)).toBeVisible();
  const told = dialog.getByRole("region", { name: "What changed meanwhile" });
  await expect(
    told.getByText(new RegExp(`(un)?pinned ${touched.replaceAll("/", " ")}`)).first(),
  ).toBeVisible();
  await expectNoAxeViolations(other);
  await told.getByRole("button", { name: "Work mine out on top of it" }).click();
  await acceptShown(other, /Accept the move/);
  await expect(undo(other)).toHaveAccessibleName(/^Undo the move of VH/);

  // The first has the plan open and is told of it, without anything moving under the hand.
  await expect(page.getByText(/Plan \d+ was changed while you have it open/)).toBeVisible({
    timeout: 20_000,
  });
  await expectNoAxeViolations(page);
  await page.getByRole("button", { name: "Show it as it is now" }).click();
  await expect(page.getByText(/was changed while you have it open/)).toBeHidden();

  // Each undoes the own edits only: the first one's last is the pin, not the other's move.
  await expect(undo(page)).toHaveAccessibleName(/^Undo the (un)?pin/);

  // Who changed the same visit last decides: the first pins what the second moved, and the second cannot undo it.
  const theirs = new URL(other.url()).searchParams.get("visit") ?? "";
  await page.goto(`${address}&visit=${encodeURIComponent(theirs)}`);
  await page.getByRole("button", { name: "Unpin", exact: true }).click();
  await expect(page.getByText("Free: the next search may move it.")).toBeVisible();
  await undo(other).click();
  const named = theirs.replaceAll("/", " ");
  await expect(
    other.getByText(new RegExp(`${named} stands elsewhere by now: .* unpinned ${named}`)),
  ).toBeVisible();
  await context.close();
});

test("a visit is dragged to where it is let go, a pinned one too, and nothing moves under the hand", async ({
  page,
  asManager,
}) => {
  test.slow();
  await page.setViewportSize({ width: 1440, height: 900 });
  await asManager(page);
  await page.goto("/plan?zoom=week");
  const grid = page.getByRole("grid", { name: /in force/ });
  const visit = page.getByRole("button", { name: TO_DO }).first();
  await visit.scrollIntoViewIfNeeded();
  const boxOf = async (of: Locator) => (await of.boundingBox())!;
  const from = await boxOf(visit);
  const before = await boxOf(grid);
  const crew = page.locator(".ui-board-row").nth(1);
  const toY = (await boxOf(crew)).y + 12;
  const name = (await page.locator(".ui-board-crew-code").nth(1).textContent()) ?? "";
  const code = name.split(" ")[0]!;
  // The panel of the visit takes room: it comes once the visit is let go.
  await holdOver(page, { x: from.x + Math.min(20, from.width / 2), y: from.y + 10 }, toY, code);
  expect(await grid.boundingBox()).toEqual(before);
  await expect(page.getByText("On site with set-up, P80")).toBeHidden();
  await page.mouse.up();
  const dialog = page.getByRole("dialog");
  await expect(dialog.getByLabel("Crew")).toHaveValue(code);
  await expect(dialog.getByText(/It is pinned/)).toBeHidden();
  await dialog.getByRole("button", { name: "Leave it" }).click();
  await expect(page.getByText("On site with set-up, P80")).toBeVisible();
  // Whoever leaves the dialog goes on from where it was opened.
  await page.getByRole("button", { name: "Move …" }).click();
  await expect(dialog).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(page.getByRole("button", { name: "Move …" })).toBeFocused();

  await page.getByRole("button", { name: "Pin", exact: true }).click();
  await expect(page.getByText("Pinned: the next search leaves it here.")).toBeVisible();
  const shown = page.locator('.ui-visit[data-selected="true"]');
  await shown.scrollIntoViewIfNeeded();
  const held = await boxOf(shown);
  const other = page.locator(".ui-board-row").nth(2);
  const otherCode = ((await page.locator(".ui-board-crew-code").nth(2).textContent()) ?? "").split(" ")[0]!;
  await holdOver(page, { x: held.x + 10, y: held.y + 10 }, (await boxOf(other)).y + 14, otherCode);
  await page.mouse.up();
  await expect(dialog.getByText(/^It is pinned: the search leaves it on/)).toBeVisible();
  await expectNoAxeViolations(page);
  await dialog.getByRole("button", { name: "Leave it" }).click();

  // Let go where no day is: it is said.
  await shown.dragTo(page.getByRole("button", { name: "4 weeks" }), { sourcePosition: { x: 10, y: 10 } });
  await expect(page.getByText(/^Nothing was moved: let the visit go on a crew's row, on /)).toBeVisible();
  await page.getByRole("button", { name: "Unpin", exact: true }).click();

  // What one looks at does not move along with what is picked by press.
  await page.getByRole("button", { name: "Pick several" }).click();
  await page.locator('.ui-visit[data-selected="false"]:not([data-partner="true"])').nth(2).click();
  await expect(page.getByRole("region", { name: "Picked visits" }).getByText(/^1 visit of/)).toBeVisible();
});
