/** One site and one hop entered by hand, by key and on a phone, refused with its faults at the fields, and changed. */
import type { Page } from "@playwright/test";
import { expect, expectNoAxeViolations, test } from "./harness";
import { chooseGerman } from "./languageWalk";

// Adds to the demonstration what other files count.
test.use({ purpose: "by hand" });

const sideways = (page: Page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

test("a site is added by key, its faults stand at the fields, and its page says what follows", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/sites");
  await page.getByRole("link", { name: "Add a site" }).click();
  await expect(page.getByRole("heading", { name: "Add a site", level: 1 })).toBeVisible();
  await expectNoAxeViolations(page);

  await page.getByLabel("Site required").fill("ZZ-001");
  await page.keyboard.press("Tab");
  await page.keyboard.type("Mill roof");
  // Left by the bar and come back to: what was typed stands there, and can be given up.
  await page.getByRole("link", { name: "Plan", exact: true }).first().click();
  await expect(page).toHaveURL(/\/plan/);
  await page.goto("/add/site");
  await expect(page.getByText("What you typed here before stands in the form again")).toBeVisible();
  await expect(page.getByLabel("Name required")).toHaveValue("Mill roof");
  await expectNoAxeViolations(page);
  await page.getByRole("button", { name: "Discard it" }).click();
  await expect(page.getByLabel("Name required")).toHaveValue("");
  await page.reload();
  await expect(page.getByLabel("Name required")).toHaveValue("");
  await page.getByLabel("Site required").fill("ZZ-001");
  await page.keyboard.press("Tab");
  await page.keyboard.type("Mill roof");
  await page.getByLabel("Latitude").fill("97");
  await page.getByLabel("Elevation").fill("high");
  await page.getByLabel("Structure required").focus();
  await page.getByLabel("Structure required").selectOption("roof");
  await page.keyboard.press("Tab");
  await page.keyboard.type("24,5");
  await page.keyboard.press("Enter");
  await expect(page.getByText("2 fields to look at; nothing was saved")).toBeVisible();
  await expect(
    page.getByText("Latitude: 97 is over 90 deg. Give a number at least -90 deg and at most 90 deg."),
  ).toBeVisible();
  await expect(
    page.getByText('Elevation: "high" is not a number. Write the number alone, without a unit.'),
  ).toBeVisible();
  // The first field that is wrong has the keys, and what was typed is still there.
  await expect(page.getByLabel("Latitude")).toBeFocused();
  await expect(page.getByLabel("Name required")).toHaveValue("Mill roof");
  await expectNoAxeViolations(page);

  await page.keyboard.press("ControlOrMeta+A");
  await page.keyboard.press("Delete");
  await page.getByLabel("Elevation").fill("612");
  await page.keyboard.press("Enter");
  await expect(page).toHaveURL(/\/sites\/ZZ-001\?saved=new/);
  await expect(page.getByText("Site ZZ-001 added")).toBeVisible();
  await expect(page.getByText("rooftop, 24.5 m").first()).toBeVisible();
  await expect(page.getByText("No coordinate", { exact: true })).toBeVisible();
  await expectNoAxeViolations(page);

  // The same code once more leads to the one that is there.
  await page.goto("/add/site");
  await page.getByLabel("Site required").fill("ZZ-001");
  await page.getByLabel("Name required").fill("Mill");
  await page.getByLabel("Elevation").fill("1");
  await page.getByLabel("Structure required").selectOption("roof");
  await page.getByLabel("Structure height").fill("3");
  await page.getByRole("button", { name: "Add the site" }).click();
  await page.getByRole("link", { name: "Change ZZ-001 instead" }).click();
  await expect(page.getByRole("heading", { name: "Change site ZZ-001" })).toBeVisible();
  await expect(page.getByLabel("Name required")).toHaveValue("Mill roof");
  await page.getByLabel("Latitude").fill("47.381");
  await page.getByLabel("Longitude").fill("8.5417");
  await page.getByRole("button", { name: "Save the changes" }).click();
  await expect(page.getByText("Site ZZ-001 changed")).toBeVisible();
  await expect(page.getByText("47.381°, 8.5417°")).toBeVisible();
});

const end = (page: Page, side: "Near" | "Far") => page.getByRole("region", { name: `${side} end` });

async function fillEnd(page: Page, side: "Near" | "Far", query: string): Promise<void> {
  const area = end(page, side);
  const site = area.getByRole("combobox", { name: `${side} site` });
  await site.fill(query);
  await expect(area.getByRole("option").first()).toBeVisible();
  await page.keyboard.press("Enter");
  await expect(area.getByRole("listbox")).toBeHidden();
  await area.getByLabel("Mount height").fill("12");
  await area.getByLabel("Diameter").fill("0.6");
  const polarisations = area.getByLabel("Polarisation");
  await polarisations.nth(0).selectOption("V");
  await area.getByLabel("Sub-band").fill("B");
  await area.getByLabel("Duplex spacing").fill("1010");
  await area.getByLabel("Transmit half").selectOption(side === "Near" ? "high" : "low");
  await polarisations.nth(1).selectOption("V");
  await area.getByLabel("Vertical").fill("12");
}

test("a hop is added between two sites that are found by letters, and a plan made before says so", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/add/hop");
  await expectNoAxeViolations(page);
  // Ten thousand sites are never sent: the field asks for those that it shows.
  await expect(page.getByRole("option", { name: /VM/ })).toHaveCount(0);
  await page.getByLabel("Hop required").fill("ZZ-H1");
  await page.getByLabel("Protection scheme").selectOption("1+0");
  await page.getByRole("region", { name: "Hop", exact: true }).getByLabel("Band").fill("18");
  await expect(end(page, "Near").getByLabel("Band").first()).toHaveValue("18");
  await fillEnd(page, "Near", "VM10");
  await page.getByRole("link", { name: "Plan", exact: true }).first().click();
  await expect(page).toHaveURL(/\/plan/);
  await page.goBack();
  await expect(end(page, "Near").getByLabel("Mount height")).toHaveValue("12");
  await expect(page.getByLabel("Hop required")).toHaveValue("ZZ-H1");
  await page.getByRole("button", { name: "Equip it as the near end" }).click();
  await expect(end(page, "Far").getByLabel("Sub-band")).toHaveValue(
    await end(page, "Near").getByLabel("Sub-band").inputValue(),
  );
  await expect(end(page, "Far").getByLabel("Mount height")).toHaveValue("");
  await fillEnd(page, "Far", "VM11");
  await end(page, "Far").getByLabel("Mount height").fill("");
  await page.getByRole("button", { name: "Add a gate" }).click();
  await page.getByLabel("Gate required").selectOption("supply");
  await page.getByLabel("State required").selectOption("open");
  // Enter takes nothing from a list that still answers to earlier letters.
  const far = end(page, "Far").getByRole("combobox", { name: "Far site" });
  const chosen = await far.inputValue();
  await far.fill("VM1");
  await expect(end(page, "Far").getByRole("option").first()).toBeVisible();
  await far.fill("Nowhere");
  await page.keyboard.press("Enter");
  await expect(far).toHaveValue("Nowhere");
  await far.fill(chosen);
  await page.getByRole("button", { name: "Add the hop" }).click();
  await expect(page.getByText("1 field to look at; nothing was saved")).toBeVisible();
  await expect(end(page, "Far").getByLabel("Mount height")).toBeFocused();
  await expect(end(page, "Far").getByText("Mount height is blank.")).toBeVisible();
  await expectNoAxeViolations(page);
  await page.keyboard.type("14");
  await page.keyboard.press("Enter");

  await expect(page).toHaveURL(/\/hops\/ZZ-H1\?saved=new/);
  await expect(page.getByText("Hop ZZ-H1 added")).toBeVisible();
  await expect(page.getByText("No plan places the hop until this is there:")).toBeVisible();
  await expect(page.getByText("Gate supply is open and has no date; give it one")).toBeVisible();
  await expectNoAxeViolations(page);
  await page.goto("/add/hop");
  await expect(page.getByLabel("Hop required")).toHaveValue("");
  await expect(page.getByText("What you typed here before")).toHaveCount(0);
  await page.goto("/plan");
  await expect(page.getByText(/sites? (and|or) hops? entered or changed by hand/)).toBeVisible();

  // The form of the hop is filled with what was typed; a field that is cleared wrongly keeps everything as it was.
  await page.goto("/hops/ZZ-H1");
  await page.getByRole("link", { name: "Change", exact: true }).click();
  await expect(page.getByRole("textbox", { name: "Hop", exact: true })).toHaveAttribute("readonly", "");
  await expect(end(page, "Far").getByLabel("Mount height")).toHaveValue("14");
  await page.getByLabel("State required").selectOption("dated");
  await page.getByLabel("Due on").fill("2026-09-01");
  await page.getByRole("button", { name: "Save the changes" }).click();
  await expect(page.getByText("Hop ZZ-H1 changed")).toBeVisible();
  await expect(page.getByText("the next plan takes the hop in as it is now")).toBeVisible();
  await page.getByRole("link", { name: "Record and log" }).click();
  await expect(page.getByText("Gates ZZ-H1//supply, State: open to dated")).toBeVisible();
});

test.describe("on a phone, in German", () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

  test("the ends stand below each other, and words, units and numbers are German", async ({
    page,
    asManager,
    server,
  }) => {
    await asManager(page);
    await chooseGerman(page, server.url);
    await page.goto("/add/hop");
    await expect(page.getByRole("heading", { name: "Strecke hinzufügen", level: 1 })).toBeVisible();
    const near = await page.getByRole("region", { name: "Nahe Seite" }).boundingBox();
    const far = await page.getByRole("region", { name: "Ferne Seite" }).boundingBox();
    expect(far!.y).toBeGreaterThan(near!.y + near!.height);
    expect(await sideways(page)).toBe(0);
    await expectNoAxeViolations(page);

    await page.goto("/add/site");
    expect(await sideways(page)).toBe(0);
    await page.getByLabel("Bauwerkshöhe").fill("900,5");
    await page.getByRole("button", { name: "Standort hinzufügen" }).click();
    await expect(page.getByText(/Bauwerkshöhe: 900,5 liegt über 700\sm\./)).toBeVisible();
    await expect(page.getByText("Name ist leer.", { exact: false })).toBeVisible();
    await expectNoAxeViolations(page);
  });
});
