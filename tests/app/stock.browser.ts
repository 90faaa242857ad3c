/** Stock as logistics staff and the manager use it: the questions at a glance, an order's life, a movement and its way back. */
import { getDocumentProxy } from "unpdf";
import { expect, expectNoAxeViolations, test } from "./harness";

const TABS = ["runs-out", "transfers", "order", "on-hand", "orders", "drums", "ledger"] as const;

test("every view of the stock has its address, its heading and no accessibility violation", async ({
  page,
  asLogistics,
}) => {
  // Seven pages, each looked through for barriers.
  test.setTimeout(240_000);
  await asLogistics(page);
  for (const tab of TABS) {
    await page.goto(`/stock?tab=${tab}`);
    await expect(page.getByRole("heading", { level: 1, name: "Stock" })).toBeVisible();
    await expect(page.getByRole("link", { name: /Order today/ }).first()).toBeVisible();
    await expectNoAxeViolations(page);
  }
});

test("a crew lead has no business in the stock", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  const answer = await page.goto("/stock");
  expect(answer?.status()).toBe(403);
});

test("the item's page shows the balance, the needs and the ledger", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock?tab=runs-out");
  const item = page.getByRole("region", { name: "Items that run out" }).getByRole("link").first();
  const code = (await item.textContent()) ?? "";
  await item.click();
  await expect(page.getByRole("heading", { level: 1, name: code })).toBeVisible();
  await expect(page.getByRole("heading", { name: "Balance by day" })).toBeVisible();
  await expect(page.getByText("Safety stock").first()).toBeVisible();
  await expectNoAxeViolations(page);
});

test("a slip is answered at once, with the address that keeps the question", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/stock?tab=orders");
  await page.getByLabel("Days later").fill("60");
  await expect(page).toHaveURL(/days=60/);
  await expect(page.getByText(/would be short|No further visit stops/)).toBeVisible();
  await page.getByLabel("Days later").fill("1.5");
  await expect(page.getByText("is no whole number of days")).toBeVisible();
});

test("a delivery is booked in part and the order waits for the rest", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock?tab=orders");
  const order = page.getByRole("region", { name: "Sent: on the way" }).getByRole("link", { name: /^PO-/ });
  const codes = await order.allTextContents();
  let booked = false;
  for (const code of codes) {
    await page.goto(`/stock/orders/${code}`);
    const quantity = page.getByLabel("Quantity, line 1", { exact: false });
    if ((await quantity.count()) === 0 || (await page.getByLabel("Lot, line 1").count()) > 0) continue;
    const ordered = Number(await quantity.inputValue());
    if (ordered < 2) continue;
    await expectNoAxeViolations(page);
    await quantity.fill(String(ordered + 1));
    await page.getByRole("button", { name: "Book the delivery" }).click();
    await expect(page.getByText(/That is 1\spiece more than is still to come/)).toBeVisible();
    await quantity.fill("1");
    // The one that came is doubted: received, but on hold.
    await page.getByLabel("Of these on hold, line 1").fill("1");
    await page.getByLabel("Why on hold, line 1").fill("carton wet");
    await expectNoAxeViolations(page);
    await page.getByRole("button", { name: "Book the delivery" }).click();
    await expect(page.getByText("Partly received").first()).toBeVisible();
    const held = page.getByRole("region", { name: "On hold at receipt" }).first();
    await expect(held).toContainText("carton wet");
    await held.getByRole("link", { name: /^Fault/ }).click();
    await page.getByRole("button", { name: "Back to the supplier" }).click();
    await page.getByRole("textbox", { name: "Why" }).fill("they take it back");
    await expectNoAxeViolations(page, { within: "dialog" });
    await page.getByRole("button", { name: "It has left" }).click();
    await expect(page.getByText("Returned to the supplier").first()).toBeVisible();
    await page.goto(`/stock/orders/${code}`);
    // It waits for as much again.
    await expect(page.getByLabel("Quantity, line 1", { exact: false })).toHaveValue(String(ordered));
    await expect(page.getByRole("region", { name: "Log of the order" })).toContainText("order received");
    booked = true;
    break;
  }
  expect(booked, "an order of the demonstration without lots and drums").toBe(true);
});

test("a wrong item in the box is taken in, on hold, and goes back", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock?tab=orders");
  await page
    .getByRole("region", { name: "Sent: on the way" })
    .getByRole("link", { name: /^PO-/ })
    .first()
    .click();
  await page.getByRole("link", { name: "Something else came" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Something else came" })).toBeVisible();
  const what = page.getByLabel("What came");
  const find = page.getByLabel("Find the item by code or name");
  await find.fill("nothing like it");
  await expect(page.getByText("No item fits: try fewer letters.")).toBeVisible();
  await find.fill("lug-16");
  await expect(
    page.getByText(/^(LUG-16 fits and is taken|\d items fit; Enter takes LUG-16)\.$/),
  ).toBeVisible();
  // Enter takes the item and does not send the form.
  await find.press("Enter");
  await expect(what).toHaveValue("LUG-16");
  // What is asked for now is not what was chosen before.
  await find.fill("nothing like it");
  await expect(what).toHaveValue("");
  await find.fill("lug-16");
  await find.press("Enter");
  await page.getByLabel("Quantity").fill("4");
  await page.getByLabel("In your words").fill("in place of line 1");
  for (const width of [390, 1440]) {
    await page.setViewportSize({ width, height: 900 });
    await expectNoAxeViolations(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  }
  await page.getByRole("button", { name: "Take it in, on hold" }).click();
  const held = page.getByRole("region", { name: "On hold at receipt" }).first();
  await expect(held).toContainText("wrong item, came with PO-");
  await held
    .getByRole("row")
    .filter({ hasText: "in place of line 1" })
    .getByRole("link", { name: /^Fault/ })
    .click();
  await expect(page.getByRole("button", { name: "Keep it" })).toBeVisible();
  await expect(page.getByRole("button", { name: "Send to repair" })).toHaveCount(0);
  await page.getByRole("button", { name: "Back to the supplier" }).click();
  await expect(page.getByText(/waits for as much again/)).toHaveCount(0);
  await page.getByRole("textbox", { name: "Why" }).fill("collected by the driver");
  await page.getByRole("button", { name: "It has left" }).click();
  await expect(page.getByText("Returned to the supplier").first()).toBeVisible();
});

test("a manager's order file is a CSV that names its lines", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/stock?tab=orders");
  const code = await page.getByRole("link", { name: /^PO-/ }).first().textContent();
  const answer = await page.request.get(`/stock/orders/${code}/csv`);
  expect(answer.headers()["content-type"]).toContain("text/csv");
  expect(await answer.text()).toContain(code);
});

test("an order is handed on as a PDF in the reader's language", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/stock?tab=orders");
  const code = await page.getByRole("link", { name: /^PO-/ }).first().textContent();
  await page.goto(`/stock/orders/${code}`);
  const download = page.waitForEvent("download");
  await page.getByRole("link", { name: "Download PDF" }).click();
  expect((await download).suggestedFilename()).toBe(`${code}.pdf`);
  const answer = await page.request.get(`/stock/orders/${code}/pdf`);
  expect(answer.headers()["content-type"]).toBe("application/pdf");
  expect(answer.headers()["content-disposition"]).toContain("attachment");
  const bytes = await answer.body();
  const file = await getDocumentProxy(new Uint8Array(bytes));
  const { items } = await (await file.getPage(1)).getTextContent();
  expect(items.map((i) => ("str" in i ? i.str : "")).join(" ")).toContain(`Purchase order ${code}`);
  expect((await page.request.get("/stock/orders/PO-0/pdf")).status()).toBe(404);
});

test("a movement by hand is refused in words, posted, and taken back", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock/record?kind=scrap");
  await expectNoAxeViolations(page);
  const item = page.getByRole("combobox", { name: /^Item\b/ });
  await item.selectOption("LUG-16");
  await page.getByLabel("From").selectOption("WH-EAST");
  await page.getByLabel("Quantity").fill("1000000");
  await page.getByLabel("Why it is scrapped").selectOption("damaged");
  await page.getByLabel("In your words").fill("dropped into the dock");
  await page.getByRole("button", { name: "Post to the ledger" }).click();
  await expect(page.getByText(/on hand would fall below zero/).first()).toBeVisible();
  await page.getByLabel("Quantity").fill("1");
  await page.getByRole("button", { name: "Post to the ledger" }).click();
  await expect(page.getByText(/posted as row/)).toBeVisible();

  await page.goto("/stock?tab=ledger&item=LUG-16");
  const row = page.getByRole("row").filter({ hasText: "dropped into the dock" }).first();
  await row.getByRole("button", { name: /Take back/ }).click();
  await page.getByLabel("Why").fill("found again");
  await page.getByRole("button", { name: "Take it back" }).click();
  await expect(page.getByRole("row").filter({ hasText: "found again" })).toContainText("reversal");
  await expect(row).toContainText("by row");
  await page.getByRole("button", { name: "Check again" }).click();
  await expect(page.getByText(/Balances agree with the sum of [\d,]+ rows/)).toBeVisible();
});

test("a radio is received by hand with its serial, one a line, and once", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock/record?kind=receipt");
  const item = page.getByRole("combobox", { name: /^Item\b/ });
  const radio = item.locator("option[value^='ODU-']").first();
  await expect(page.getByLabel("Serials")).toHaveCount(0);
  await item.selectOption((await radio.getAttribute("value"))!);
  await page.getByRole("combobox", { name: /^To\b/ }).selectOption("WH-EAST");
  await page.getByLabel("Serials").fill("by-hand-1\nby-hand-2");
  await page.getByLabel("Quantity").fill("2");
  await page.getByLabel("Why").fill("brought by the customer");
  await expectNoAxeViolations(page);
  await page.getByRole("button", { name: "Post to the ledger" }).click();
  await expect(page.getByText(/posted as row/)).toBeVisible();
  await page.getByLabel("Serials").fill("BY-HAND-1");
  await page.getByLabel("Quantity").fill("1");
  await page.getByLabel("Why").fill("once more");
  await page.getByRole("button", { name: "Post to the ledger" }).click();
  await expect(page.getByRole("cell", { name: /BY-HAND-1 stands at WH-EAST by the ledger/ })).toBeVisible();
  await expect(page.getByRole("rowheader", { name: "Serials" })).toBeVisible();
  await page.goto("/stock?tab=ledger&serial=by-hand-2");
  await expect(page.getByRole("row").filter({ hasText: "brought by the customer" })).toHaveCount(1);
});

test("a cut is confirmed from the keyboard", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock?tab=drums");
  const cut = page.getByRole("button", { name: /Confirm cut/ }).first();
  const name = ((await cut.textContent()) ?? "").replace(/\s+/g, " ");
  await cut.focus();
  await page.keyboard.press("Enter");
  await expect(page.getByRole("dialog")).toBeVisible();
  // A scanner may type at once: into the field for the drum, never into the length.
  await expect(page.getByLabel("Scan the drum")).toBeFocused();
  await expectNoAxeViolations(page, { within: "dialog" });
  await page.keyboard.press("Enter");
  await expect(page.getByRole("dialog")).toBeVisible();
  for (let i = 0; i < 3; i++) await page.keyboard.press("Tab");
  await expect(page.getByLabel("Length as cut")).toBeFocused();
  await page.keyboard.press("Enter");
  await expect(page.getByRole("dialog")).toBeHidden();
  await expect(page.getByText(/left on/)).toBeVisible();
  await expect(page.getByRole("button", { name, exact: true })).toHaveCount(0);
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 } });

  test("a chosen view begins on the first screen, and a long list is searched and unfolded", async ({
    page,
    asLogistics,
  }) => {
    await asLogistics(page);
    await page.goto("/stock");
    for (const [tab, region] of [
      ["Orders", /^(Proposed|Approved|Sent|Partly received)/],
      ["Order today", /^(Order today|Buy|Call off)/],
    ] as const) {
      const views = page.getByRole("navigation", { name: "Views of the stock" });
      await views.getByRole("link", { name: new RegExp(`^${tab}`) }).click();
      await expect(page).toHaveURL(/tab=/);
      const list = page.getByRole("region", { name: region }).first();
      await expect(list).toBeVisible();
      await page.reload();
      await expect(views.getByRole("link", { name: new RegExp(`^${tab}`) })).toBeInViewport({ ratio: 1 });
      const box = await list.boundingBox();
      expect(box!.y, tab).toBeLessThan(844 - 150);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
      await expectNoAxeViolations(page);
    }

    await page.goto("/kits?show=open");
    expect(await page.evaluate(() => document.documentElement.scrollHeight)).toBeLessThan(9_000);
    const later = page.getByRole("region", { name: "Kits later" });
    const rows = later.getByRole("row");
    const before = await rows.count();
    await page.getByRole("button", { name: "Show more of this list Kits later" }).click();
    expect(await rows.count()).toBeGreaterThan(before);
    const code = (await rows.last().getByRole("link").textContent()) ?? "";
    const search = page.getByLabel("Search this list").last();
    await search.fill(code.split(" ")[0] ?? "");
    await expect(rows.filter({ hasText: code })).toBeVisible();
    expect(await rows.count()).toBeLessThan(6);
    await search.fill("nothing like it");
    await expect(page.getByText(/^0 of \d+ rows$/)).toBeVisible();
    await expectNoAxeViolations(page);
  });
});
