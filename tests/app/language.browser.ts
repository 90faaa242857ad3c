/** The crew's pages in another language, chosen at the door and kept on the device. */
import { EMAILS, expect, expectNoAxeViolations, PASSWORD, test } from "./harness";

test.use({ viewport: { width: 390, height: 844 } });
test.setTimeout(180_000);

test("a crew lead signs in, reads a visit in German, and goes back to English", async ({ page }) => {
  await page.goto("/sign-in");
  await page.getByRole("radio", { name: "Deutsch" }).check();
  await expect(page.getByRole("heading", { level: 1, name: "Anmelden" })).toBeVisible();
  await expect(page.locator("html")).toHaveAttribute("lang", "de-DE");
  await expectNoAxeViolations(page);
  await page.getByLabel("Anmeldename").fill(EMAILS["crew lead"]);
  await page.getByLabel("Passwort").fill("wrong");
  await page.getByRole("button", { name: "Anmelden", exact: true }).click();
  await expect(page.getByText("Anmeldename oder Passwort stimmt nicht.")).toBeVisible();
  await page.getByLabel("Passwort").fill(PASSWORD);
  await page.getByRole("button", { name: "Anmelden", exact: true }).click();

  await expect(page.getByRole("heading", { level: 1, name: /^Trupp C1/ })).toBeVisible();
  await expect(page).toHaveTitle(/Woche/);
  await expect(page.getByRole("heading", { name: "Die nächsten sieben Tage" })).toBeVisible();
  await expectNoAxeViolations(page);
  const install = page.getByRole("article").filter({ hasText: "Montage" }).first();
  await install.getByRole("link").click();
  await expect(page.getByRole("heading", { name: "Schritte" })).toBeVisible();
  await page.locator("details").evaluateAll((all) => {
    for (const details of all) (details as HTMLDetailsElement).open = true;
  });
  await expect(page.getByText("Achtung: Niemand im Gefahrenbereich unter der Last.").first()).toBeVisible();
  // Figures stand in the sentences with the language's decimal comma.
  await expect(
    page.getByText(/ODU\d?.*: \d+,\d m .* in einem Stück|\d+,\d m von der ODU/).first(),
  ).toBeVisible();
  await expect(page.getByRole("combobox", { name: "Ergebnis" })).toBeVisible();
  await expectNoAxeViolations(page);

  await page.goto("/week/sheet");
  await expect(page.getByRole("link", { name: "Woche" }).first()).toBeVisible();
  await expect(page.locator("html")).toHaveAttribute("lang", "de-DE");

  await page.getByRole("button", { name: /, Konto$/ }).click();
  await page.getByRole("radio", { name: "English" }).check();
  await expect(page.getByRole("link", { name: "My week" }).first()).toBeVisible();
  await page.reload();
  await expect(page.locator("html")).toHaveAttribute("lang", "en-GB");
});

test("a browser that asks for German gets it before anybody chose", async ({ browser, baseURL }) => {
  const context = await browser.newContext({ locale: "de-AT", baseURL: baseURL! });
  const page = await context.newPage();
  await page.goto("/sign-in");
  await expect(page.getByRole("heading", { level: 1, name: "Anmelden" })).toBeVisible();
  await context.close();
});
