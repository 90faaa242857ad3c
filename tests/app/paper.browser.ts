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
