/** Plan, programme, weather, map and long work in German: every page on a phone, and a move that is looked at and left. */
import { expect, test } from "./harness";
import { chooseGerman, expectGerman } from "./languageWalk";

test.use({ viewport: { width: 390, height: 844 }, purpose: "plan and programme in German" });
test.setTimeout(400_000);

/** Names of the demonstration: forecasts, outlines, versions of rules, rows of the take-off. */
const NAMES = [
  /made up for( the)? demonstration/,
  /As delivered with the product/,
  /caps for hoisting|glands at the entry|connector for/,
  /GMT|UTC/,
];

const PAGES: readonly [path: string, heading: string | RegExp][] = [
  ["/plan", "Plan"],
  ["/plan/list", /^Plan \d+, gültig, nach Trupp und Woche$/],
  ["/plan/solve", "Neu planen"],
  ["/programme", "Programm"],
  ["/programme/finish", "Was das Ende bestimmt"],
  ["/programme/finish?by=crews", "Was das Ende bestimmt"],
  ["/programme/finish?by=items", "Was das Ende bestimmt"],
  ["/programme/finish?by=hops", "Was das Ende bestimmt"],
  ["/programme/hours", "Stunden: geschätzt und gearbeitet"],
  ["/programme/hours?by=task", "Stunden: geschätzt und gearbeitet"],
  ["/programme/use", "Material: gezählt und verbraucht"],
  ["/weather", "Wetter"],
  ["/weather?tab=plan", "Wetter"],
  ["/weather?tab=climate", "Wetter"],
  ["/map", "Karte"],
  ["/map/ground", "Was unter der Karte liegt"],
  ["/jobs", "Lange Arbeiten"],
];

test("pages of planning are German on a phone", async ({ page, asAdministrator, server }) => {
  await asAdministrator(page);
  await chooseGerman(page, server.url);
  for (const [path, heading] of PAGES) await expectGerman(page, { path, heading, data: NAMES });
});

test("a visit says in German where it stands, why, and what a move would do", async ({
  page,
  asManager,
  server,
}) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await asManager(page);
  await chooseGerman(page, server.url);
  await page.goto("/plan/list");
  const visit = await page.locator('main a[href*="visit="]').first().getAttribute("href");
  await page.goto(visit!);
  const panel = page.getByRole("complementary", { name: "Der Einsatz" });
  await expect(panel.getByText(/^\S+\s\d+\.\s\S+\s\d{4}, \d\d:\d\d bis /)).toBeVisible();
  await panel.getByRole("button", { name: "Jeden anderen Trupp und Tag versuchen" }).click();
  await expect(panel.getByText(/Trupptage haben keinen Platz für ihn/)).toBeVisible({ timeout: 60_000 });
  await panel.getByRole("button", { name: "Verschieben …" }).click();
  const dialog = page.getByRole("dialog", { name: /verschieben$/ });
  await dialog.getByLabel("Beginn").fill("03:00");
  // Before its site opens: it keeps the earliest start that it can have.
  await expect(dialog.getByText("Er steht schon dort")).toBeVisible({ timeout: 60_000 });
  await dialog.getByRole("button", { name: "So lassen" }).click();
  await expect(dialog).toBeHidden();
});

test("the board finds, filters and names in German", async ({ page, asManager, server }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await asManager(page);
  await chooseGerman(page, server.url);
  await page.goto("/plan");
  await expect(page.getByRole("grid", { name: /^Plan \d+, gültig\. Pfeiltasten gehen/ })).toBeVisible();
  await page.getByLabel("Zeigen", { exact: true }).selectOption("install");
  await expect(page.getByRole("option", { name: /^Montagen \(\d+\)$/ })).toBeAttached();
  await page.getByRole("button", { name: "Mehrere vormerken" }).click();
  await page.locator(".ui-board .ui-visit").first().click();
  await expect(page.getByRole("region", { name: "Vorgemerkte Einsätze" })).toContainText(
    "1 Einsatz, 1 Trupp vorgemerkt",
  );
});
