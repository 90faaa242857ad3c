/** Sites, hops, what is brought in, rules and one's account in German: every page on a phone, and what is refused. */
import { expect, test } from "./harness";
import { chooseGerman, expectGerman } from "./languageWalk";

test.use({ viewport: { width: 390, height: 844 }, purpose: "sites, rules and imports in German" });
test.setTimeout(400_000);

/** Names of the demonstration: items, what somebody wrote, titles of rules that a figure comes from, columns of files. */
const NAMES = [
  /\b(connector|gland|grip|hanger|kit) for \d/,
  /cap for hoisting|mount, \d+ to \d+ mm/,
  /Ordinance on Industrial Safety and Health/,
  /^(Access (from|to|days)|no|yes)$|„Time of day“/,
];

const PAGES: readonly [path: string, heading: string][] = [
  ["/sites", "Standorte und Strecken"],
  ["/sites?tab=hops", "Standorte und Strecken"],
  ["/sites?tab=hops&map=1", "Standorte und Strecken"],
  ["/add/site", "Standort hinzufügen"],
  ["/add/hop", "Strecke hinzufügen"],
  ["/import", "Einlesen"],
  ["/rules", "Regeln"],
  ["/rules?tab=figures", "Regeln"],
  ["/rules?tab=weather", "Regeln"],
  ["/rules?tab=hours", "Regeln"],
  ["/rules?tab=plan", "Regeln"],
  ["/rules?tab=stock", "Regeln"],
  ["/rules?tab=acceptance", "Regeln"],
  ["/rules?tab=crews", "Regeln"],
  ["/rules?tab=accounts", "Regeln"],
  ["/rules?tab=interface", "Regeln"],
  ["/rules?tab=log", "Regeln"],
  ["/account", "Ihr Konto"],
];

test("lists, rules, imports and the account are German on a phone", async ({
  page,
  asAdministrator,
  server,
}) => {
  await asAdministrator(page);
  await chooseGerman(page, server.url);
  for (const [address, heading] of PAGES) await expectGerman(page, { path: address, heading, data: NAMES });
  await page.goto("/nowhere");
  await expect(page.getByRole("heading", { name: "Unter dieser Adresse ist nichts" })).toBeVisible();
});

test("a site and a hop are German on each of their tabs", async ({ page, asManager, server }) => {
  await asManager(page);
  await chooseGerman(page, server.url);
  for (const [list, tabs] of [
    ["sites", ["overview", "design", "hours", "weather", "history"]],
    ["hops", ["overview", "alignment", "acceptance", "record"]],
  ] as const) {
    await page.goto(`/sites?tab=${list}`);
    const address = await page.locator(`main a[href^="/${list}/"]`).first().getAttribute("href");
    for (const tab of tabs)
      await expectGerman(page, { path: `${address}?tab=${tab}`, heading: /^V[A-Z]\d+/, data: NAMES });
    await expectGerman(page, { path: `${address}/change`, heading: /V[A-Z]\d+ ändern$/, data: NAMES });
  }
});

test("lists are searched, filtered and grouped by their German words", async ({
  page,
  asManager,
  server,
}) => {
  await asManager(page);
  await chooseGerman(page, server.url);
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto("/sites?tab=hops");
  await page.getByRole("searchbox", { name: "Strecken suchen" }).fill("pünktlich");
  await expect(page.getByText(/^\d+ gezeigt, gesamt \d+ Strecken$/).first()).toBeVisible();
  await page.getByRole("button", { name: "Alle zeigen" }).click();
  await page.getByRole("button", { name: "Stand", exact: true }).first().click();
  await page.getByRole("checkbox", { name: /^angehalten/ }).check();
  await expect(page.getByRole("button", { name: "Filter Stand entfernen" })).toBeVisible();
  // The address keeps the values, so that a link says the same in every language.
  await expect(page).toHaveURL(/f\.state=held/);
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: "Gruppieren" }).click();
  await page.getByRole("radio", { name: "Stand" }).click();
  await expect(page.getByRole("button", { name: /^angehalten/ })).toBeVisible();
});

test("the log says what was done in German and finds it by these words; its export keeps the English", async ({
  page,
  asManager,
  server,
}) => {
  await asManager(page);
  await chooseGerman(page, server.url);
  await page.goto("/rules?tab=log&q=Fehler+aufgenommen");
  const row = page.getByRole("region", { name: "Protokoll" }).getByRole("row").nth(1);
  await expect(row.getByRole("cell", { name: "Fehler aufgenommen" })).toBeVisible();
  const file = await page.request.get("/rules/log?q=Fehler+aufgenommen&format=csv");
  expect(await file.text()).toContain("fault recorded");
});

test("what holds a hop is said in German", async ({ page, asManager, server }) => {
  await asManager(page);
  await chooseGerman(page, server.url);
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto("/sites?tab=hops&f.state=held");
  for (const said of [/^offene Freigabe: /, /^Planungsprüfung: Beide Seiten senden in derselben Hälfte/])
    await expect(page.getByRole("gridcell", { name: said })).toBeVisible();
  await expect(page.getByRole("gridcell", { name: /open gate|design check|no coordinate/ })).toHaveCount(0);
  await page.goto("/sites?tab=hops");
  await page.getByRole("searchbox").fill("offene freigabe");
  await expect(page.getByRole("gridcell", { name: /^offene Freigabe: / }).first()).toBeVisible();
  await expect(page.getByRole("gridcell", { name: "fertig" })).toHaveCount(0);
});

test("the search knows pages by their German names", async ({ page, asManager, server }) => {
  await asManager(page);
  await chooseGerman(page, server.url);
  await page.goto("/sites");
  await page.getByRole("button", { name: "Alles finden" }).click();
  await page.getByRole("combobox", { name: "Alles finden" }).fill("bestand");
  await page.getByRole("option", { name: /^Bestand/ }).click();
  await expect(page).toHaveURL(/tab=on-hand/);
});

test("what a file brings and what is refused is said in German", async ({
  page,
  asAdministrator,
  server,
}) => {
  await asAdministrator(page);
  await chooseGerman(page, server.url);
  await page.goto("/import");
  await page.getByLabel("Dateiauswahl").setInputFiles({
    name: "plan.pdf",
    mimeType: "application/pdf",
    buffer: Buffer.from("%PDF"),
  });
  await expect(page.getByText("Die Tabelle als .csv oder .xlsx speichern.")).toBeVisible();
  await page.getByLabel("Dateiauswahl").setInputFiles({
    name: "sites.csv",
    mimeType: "text/csv",
    buffer: Buffer.from(
      "site,name,region,latitude,longitude,structure,structure height [m],elevation [m],time zone\n" +
        "ZZ1,Probe,Nord,47.5,8.1,lattice,40,400,UTC\nZZ2,Probe,Nord,x,8.1,lattice,40,400,UTC\n",
    ),
  });
  await expect(page.getByRole("heading", { level: 1, name: "sites.csv" })).toBeVisible();
  await expect(page.getByText("Wartet auf Ihr Ja").first()).toBeVisible();
  await expectGerman(page, { path: new URL(page.url()).pathname, heading: "sites.csv", data: NAMES });
  // What is wrong with a row, as well; the value stays as the file has it.
  await expect(page.getByText("„x“ ist keine Zahl.").first()).toBeVisible();
  await page.getByRole("button", { name: "Verwerfen" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Verwerfen" }).click();
  await expect(page.getByText("Diese Einlesung wurde verworfen")).toBeVisible();
});
