/** Kits as logistics staff and a crew lead see them: list, tick-off on a phone, count and issue, return, the sheet. */
import { getDocumentProxy } from "unpdf";
import { expect, expectNoAxeViolations, test } from "./harness";

test("the list answers what to pick today, and leads into a kit", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/kits");
  await expect(page.getByRole("heading", { name: /^Today: \d+ kits?$/ })).toBeVisible();
  await expect(page.getByRole("region", { name: "Load by crew and day" })).toContainText("kg");
  await expectNoAxeViolations(page);
  await page.getByRole("region", { name: "Kits today" }).getByRole("link").first().click();
  await expect(page.getByRole("heading", { level: 1, name: /^Kit / })).toBeVisible();
  await expectNoAxeViolations(page);
  await page.getByRole("link", { name: "Sheet to print" }).click();
  await expect(page.getByRole("heading", { name: /^Pick list / })).toBeVisible();
  await expectNoAxeViolations(page);
});

test("a long kit's sheet stands on one page, no line over another", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/kits/VH028/near/install?view=sheet");
  const boxed = page.getByRole("row").filter({ has: page.locator(".ui-sheet-box") });
  const opened = page.getByRole("row").filter({ hasText: "opened on the vehicle" });
  const inBox = Number(/of (\d+)/.exec((await page.locator("main").textContent()) ?? "")?.[1]);
  // A long one. Every line of the kit, runs too, and what it adds to the count of the box.
  expect(inBox).toBeGreaterThan(25);
  await expect(boxed).toHaveCount(inBox);
  await expect(page.getByRole("row").filter({ hasText: "TIE-UV" })).toContainText("1 bag");
  await page.emulateMedia({ media: "print" });
  await expect(page.getByRole("heading", { level: 1 })).toBeHidden();
  for (const format of ["A4", "Letter"]) {
    const paper = await getDocumentProxy(new Uint8Array(await page.pdf({ format })));
    expect(paper.numPages, format).toBe(1);
    const { items } = await (await paper.getPage(1)).getTextContent();
    const lineOf = (word: string) =>
      items.flatMap((i) => ("str" in i && i.str.includes(word) ? [i.transform[5] as number] : []))[0]!;
    // From the foot of the page, points: what follows the last item stands a line's height below it.
    expect(lineOf("PWR-BREAKER") - lineOf("Cuts, each in one piece"), format).toBeGreaterThan(9);
    expect(lineOf("Cuts, each in one piece") - lineOf("From mark"), format).toBeGreaterThan(9);
  }

  // What the vehicle has opened for a visit before is told, with no box to tick.
  await page.goto("/kits?show=open");
  const kits = page.getByRole("link", { name: /^VH\d+ (near|far)/ });
  const sheets = await kits.evaluateAll((links) =>
    links.map((a) => `${(a as HTMLAnchorElement).pathname}?view=sheet`),
  );
  expect(sheets.length).toBeGreaterThan(5);
  let later = "";
  for (const sheet of sheets) {
    later = sheet;
    if ((await (await page.request.get(sheet)).text()).includes("opened on the vehicle")) break;
  }
  await page.emulateMedia({ media: "screen" });
  await page.goto(later);
  await expect(opened.first()).toBeVisible();
  await expect(opened.locator(".ui-sheet-box")).toHaveCount(0);
});

test("a crew lead sees the kits of the own crew and nothing to press", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await page.goto("/kits");
  await expect(page.getByRole("heading", { level: 1, name: "Kits of crew C1" })).toBeVisible();
  const crews = await page
    .getByRole("cell")
    .filter({ hasText: /^C\d, / })
    .allTextContents();
  expect(crews.length).toBeGreaterThan(0);
  expect(crews.every((c) => c.startsWith("C1"))).toBe(true);
  await page.getByRole("region", { name: /^Kits/ }).getByRole("link").first().click();
  await expect(page.getByRole("heading", { name: "Pick list" })).toBeVisible();
  await expect(page.getByRole("button", { name: /^Pick / })).toHaveCount(0);
  await expect(page.getByRole("button", { name: "Issue to the vehicle" })).toHaveCount(0);
  await expectNoAxeViolations(page);
});

test("the visit's page says the kit's quantities, place and state as the kit's page does", async ({
  page,
  asCrewLead,
}) => {
  await asCrewLead(page);
  await page.goto("/kits?show=open");
  await page.getByRole("region", { name: /^Kits/ }).getByRole("link").first().click();
  await expect(page.getByRole("heading", { name: "Pick list" })).toBeVisible();
  const lead = page.locator("main").getByText(/To be picked at .* warehouse on /);
  const place = /picked at (.*) on /.exec((await lead.textContent()) ?? "")?.[1] ?? "no place";
  const earthing = page.getByRole("listitem").filter({ hasText: "EL-16" }).first();
  const metres = /[\d.]+\sm\b/.exec((await earthing.locator(".font-semibold").textContent()) ?? "")?.[0];
  expect(metres, "the earthing lead in metres").toBeDefined();

  await page.goto(page.url().replace("/kits/", "/week/visit/"));
  const kit = page
    .locator("section")
    .filter({ has: page.getByRole("heading", { name: "Kit", exact: true }) });
  await expect(kit).toContainText(`To be picked at ${place} on `);
  await kit.getByText(/^\d+ lines/).click();
  await expect(kit.getByRole("row").filter({ hasText: "EL-16" })).toContainText(metres!);
  await expect(page.getByText("Work ends", { exact: true })).toBeVisible();
});

test.describe("on a phone", () => {
  test.use({ viewport: { width: 390, height: 844 } });

  test("a kit is ticked off, counted, issued, and taken back", async ({ page, asLogistics }) => {
    await asLogistics(page);
    await page.goto("/kits");
    const load = page.getByRole("region", { name: "Load by crew and day" });
    const state = await load.getByText("Below payload").first().boundingBox();
    expect(state!.x + state!.width).toBeLessThanOrEqual(390);
    await page.getByRole("region", { name: "Kits this week" }).getByRole("link").first().click();
    await expect(page.getByRole("heading", { name: "Pick list" })).toBeVisible();
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(wide).toBeLessThanOrEqual(0);

    const lines = page.getByRole("listitem").filter({ has: page.getByRole("button", { name: /^Pick / }) });
    const ties = lines.filter({ hasText: "TIE-UV" }).first();
    await expect(ties).toContainText("Counts as one bag.");
    await ties.getByRole("button", { name: /^Pick / }).click();
    await expect(page.getByRole("button", { name: /^Picked / })).toHaveCount(1);
    await expect(page.getByText("Picking").first()).toBeVisible();
    // Less than the box wants is a part, and can be issued as such.
    const less = page.getByRole("spinbutton", { name: /^Picked quantity of TIE-UV / });
    await less.fill(String(Number(await less.inputValue()) - 1));
    await less.blur();
    await expect(page.getByRole("button", { name: /^Part picked / })).toHaveCount(1);
    await expect(page.getByText(/^0 of \d+ lines picked\. 1 line in part\.$/)).toBeVisible();

    await page.getByLabel("Things counted in the box").fill("99");
    await page.getByLabel("Counted by").fill("A second pair of eyes");
    await page.getByRole("button", { name: "Issue to the vehicle" }).click();
    await expect(page.getByText("That is not what the lines ticked off come to.")).toBeInViewport();
    await page.getByLabel("Things counted in the box").fill("1");
    await page.getByLabel("Why it leaves short").fill("the rest follows tomorrow");
    await page.getByRole("button", { name: "Issue to the vehicle" }).click();
    await expect(page.getByRole("heading", { name: "On the vehicle" })).toBeVisible();
    await expect(page.getByText(/^Issued short by \d+ lines$/)).toBeVisible();
    await expect(page.getByText("Said when it was issued: the rest follows tomorrow")).toBeVisible();
    await expectNoAxeViolations(page);
    const kitAt = page.url();

    await page.goto("/stock/close-out");
    // Other hops have cut runs there and no issued kit.
    const hop = /VH\d+/.exec(kitAt)?.[0];
    await page.getByText(new RegExp(`^${hop}: \\d+ of \\d+ items? open`)).click();
    await page
      .getByRole("link", { name: /^Kit, (near|far) end$/ })
      .first()
      .click();
    await expect(page).toHaveURL(kitAt);

    await page.getByRole("button", { name: "Take the issue back" }).click();
    await page.getByLabel("Why").fill("only a trial");
    await page.getByRole("button", { name: "Take it back" }).click();
    await expect(page.getByRole("heading", { name: "Count and issue" })).toBeVisible();
  });
});
