/** What pages look like on paper: nothing to press, folds open, charts drawn, whose hours they are beside the hours. */
import { getDocumentProxy } from "unpdf";
import { expect, test } from "./harness";

test("a visit prints its kit and steps, and no form", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await page.goto("/week");
  await page.emulateMedia({ media: "print" });
  await expect(page.getByText("In your own calendar")).toBeHidden();
  await page.emulateMedia({ media: "screen" });
  const visit = await page.getByRole("article").getByRole("link").first().getAttribute("href");
  await page.goto(visit!);
  const step = page.getByText("1. Travel in", { exact: false });
  await expect(step).toBeHidden();
  await page.emulateMedia({ media: "print" });
  await expect(step).toBeVisible();
  await expect(page.getByRole("button", { name: "Send report" })).toBeHidden();
  await expect(page.getByLabel("What it shows")).toBeHidden();
});

test("the programme prints its charts as wide as the paper", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/programme");
  // The second one lies below the screen; it is drawn soon, not only when it is scrolled to.
  const charts = page.locator(".ui-chart-plot svg.recharts-surface");
  await expect.poll(() => charts.count()).toBeGreaterThan(1);
  await page.setViewportSize({ width: 720, height: 900 });
  await page.emulateMedia({ media: "print" });
  for (const chart of await charts.all())
    expect(await chart.evaluate((svg) => svg.getBoundingClientRect().width)).toBeGreaterThan(500);
});

test("no page of the ten-day sheet begins with hours whose day stands on the page before", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/week/sheet?crew=C1");
  await expect(page.getByRole("rowheader").first()).toBeVisible();
  const paper = await getDocumentProxy(new Uint8Array(await page.pdf({ format: "A4" })));
  expect(paper.numPages).toBeGreaterThan(1);
  for (let no = 2; no <= paper.numPages; no++) {
    const { items } = await (await paper.getPage(no)).getTextContent();
    const top = items.flatMap((i) => ("str" in i && i.str.trim() ? [i] : []));
    top.sort((a, b) => (b.transform[5] as number) - (a.transform[5] as number));
    // A day's heading, or what stands below the last day.
    expect(top[0]?.str).toMatch(/^(Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ \w+: |planning limits|^A planning aid/);
  }
});

test("on a phone all hours of the ten-day sheet stand within the screen", async ({ page, asManager }) => {
  await asManager(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto("/week/sheet?crew=C1");
  const row = page.locator(".ui-hours-sheet tbody tr").filter({ hasText: "Climb" }).first();
  const box = await row.locator("td[data-look]").last().boundingBox();
  expect(box!.x + box!.width).toBeLessThanOrEqual(390);
  await expect(row.locator("td[data-look]").first()).toHaveAttribute("data-look", "dark");
});

for (const landscape of [true, false])
  test(`the board prints whole weeks with its crews, ${landscape ? "on its side" : "upright"}, and nothing is cut`, async ({
    page,
    asManager,
  }) => {
    await asManager(page);
    await page.setViewportSize({ width: 1440, height: 1000 });
    await page.goto("/plan?zoom=week");
    const crews = await page.locator(".ui-board-crews .ui-board-crew-code").allTextContents();
    expect(crews.length).toBeGreaterThan(3);
    // What a print shows is made as it begins: held here to count what must stand on paper.
    const sheet = page.locator(".ui-board-print");
    await expect(async () => {
      await page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
      await expect(sheet).toHaveCount(1, { timeout: 500 });
    }).toPass();
    await page.emulateMedia({ media: "print" });
    const codes = await sheet.locator(".ui-visit").evaluateAll((all) => all.map((one) => one.textContent!));
    const days = await sheet.locator(".ui-board-day").evaluateAll((all) => all.map((one) => one.ariaLabel!));
    expect(days.length % 7).toBe(0);
    expect(days.length).toBeGreaterThan(7);
    expect(codes.length).toBeGreaterThan(10);
    // A word that does not fit its block would be cut without a trace.
    const cut = await sheet
      .locator(".ui-visit-head, .ui-visit[data-size=code]")
      .evaluateAll((all) => all.filter((one) => one.scrollWidth > one.clientWidth + 1).length);
    expect(cut).toBe(0);
    await expect(page.locator(".ui-board")).toBeHidden();
    await page.emulateMedia({ media: null });
    await page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
    await expect(sheet).toHaveCount(0);

    const paper = await getDocumentProxy(new Uint8Array(await page.pdf({ format: "A4", landscape })));
    const texts: string[] = [];
    for (let no = 1; no <= paper.numPages; no++) {
      const sheetOfPaper = await paper.getPage(no);
      const [, , widthPt] = sheetOfPaper.view as [number, number, number, number];
      for (const item of (await sheetOfPaper.getTextContent()).items) {
        if (!("str" in item) || !item.str.trim()) continue;
        texts.push(item.str.replaceAll("\u00a0", " "));
        // Margins of 12 mm are 34 pt.
        const right = (item.transform[4] as number) + item.width;
        expect(right, item.str).toBeLessThanOrEqual(widthPt! - 33);
      }
    }
    const all = texts.join(" ");
    // Crews stand beside each week.
    for (const crew of crews)
      expect(texts.filter((text) => text.startsWith(crew)).length, crew).toBe(days.length / 7);
    for (const day of days) expect(all).toContain(/^\w+ \d+ \w+/.exec(day.replaceAll("\u00a0", " "))![0]);
    const codesOnPaper = all.replaceAll(" ", "");
    for (const code of codes) expect(codesOnPaper).toContain(/^[A-Z]+\d{3}/.exec(code)![0]);
  });
