/** The whole path on a fresh programme: files in, take-off, plan, shortage, pick list, the crew's week, hours back. */

import { calendarDate } from "@/lib/time";
import { programmeFiles } from "../helpers/programmeFiles";
import { expect, expectNoAxeViolations, sendReport, startServer, TEST_NOW, test } from "./harness";

const OWNER = { email: "iris@masts.example", password: "a-password-of-her-own" };
const LEAD = { email: "lead@masts.example", password: "another-long-password" };
const XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

test("a fresh programme goes from its files to the crew's report", async ({ page, browser }) => {
  test.setTimeout(420_000);
  const files = await programmeFiles(calendarDate(TEST_NOW.slice(0, 10)));
  const server = await startServer({ demo: false });
  try {
    await test.step("the first administrator is made", async () => {
      const token = /token: (\S+)/.exec(server.printed())?.[1] ?? "";
      await page.goto(`${server.url}/setup`);
      await page.getByLabel("Set-up token").fill(token);
      await page.getByLabel("Your name").fill("Iris Halvorsen");
      await page.getByLabel("Sign-in name").fill(OWNER.email);
      await page.getByLabel("Password").fill(OWNER.password);
      await page.getByRole("button", { name: "Make the first administrator" }).click();
      await page.waitForURL("**/programme");
      await expect(page.getByRole("heading", { name: "No hops yet" })).toBeVisible();
    });

    const bringIn = async (name: string, mimeType: string, bytes: Uint8Array, isForecast = false) => {
      await page.goto(`${server.url}/import`);
      await page.getByLabel("File chooser").setInputFiles({ name, mimeType, buffer: Buffer.from(bytes) });
      await page.waitForURL(/\/import\/./);
      const yes = page.getByRole("button", { name: /^Bring .* in$/ });
      if (isForecast) {
        // Nothing can be brought in before it is answered.
        await expect(page.getByText("Waits for an answer", { exact: true })).toBeVisible({ timeout: 60_000 });
        await page.getByLabel("a forecast").check();
        await page.getByLabel("Issued at").fill(`${TEST_NOW.slice(0, 10)}T00:00`);
        await page.getByRole("button", { name: "Read again with these choices" }).click();
      }
      await expect(yes).toBeEnabled({ timeout: 60_000 });
      await yes.click();
      await expect(page.getByText(/^Brought in: /)).toBeVisible({ timeout: 60_000 });
    };
    await test.step("the programme's workbook and the weather come in", async () => {
      await bringIn("programme.xlsx", XLSX, files.workbook);
      await bringIn("history.csv", "text/csv", files.history);
      await bringIn("forecast.csv", "text/csv", files.forecast, true);
    });

    await test.step("the take-off of an end shows its reasons", async () => {
      await page.goto(`${server.url}/sites?tab=hops`);
      for (const code of files.hopCodes) {
        await expect(page.getByRole("link", { name: code, exact: true }).first()).toBeVisible();
      }
      await page.goto(`${server.url}/sites/${files.siteCodes[0]}?tab=design`);
      await expect(page.getByText(/ route \+ .* surplus/).first()).toBeVisible({ timeout: 30_000 });
    });

    await test.step("a plan is searched and put in force", async () => {
      await page.goto(`${server.url}/plan/solve`);
      await page.getByLabel("Solve for").fill("5");
      await page.getByRole("button", { name: "Search", exact: true }).click();
      await expect(page.getByText(/Draft \d+ is made/)).toBeVisible({ timeout: 120_000 });
      await page
        .getByRole("link", { name: /Compare and decide|Open the draft/ })
        .first()
        .click();
      await page.getByRole("button", { name: "Put in force" }).first().click();
      await page.getByRole("dialog").getByRole("button", { name: "Put in force" }).click();
      await expect(page.getByRole("grid", { name: /in force/ })).toBeVisible({ timeout: 60_000 });
    });

    await test.step("the item that was kept short is named with what it stops", async () => {
      await page.goto(`${server.url}/stock`);
      await expect(page.getByRole("link", { name: files.shortItem }).first()).toBeVisible({
        timeout: 30_000,
      });
      await expectNoAxeViolations(page);
    });

    let visitPath = "";
    await test.step("a kit has a pick list with the run, its drum and the short line", async () => {
      await page.goto(`${server.url}/kits`);
      const first = page.locator('main a[href^="/kits/"]').first();
      visitPath = ((await first.getAttribute("href")) ?? "").replace("/kits/", "");
      await first.click();
      await expect(page.getByRole("heading", { name: "Pick list" })).toBeVisible();
      await expect(page.getByText(/IF cable run/).first()).toBeVisible();
    });

    await test.step("the crew lead gets an account, sees the week and reports hours", async () => {
      let crew = "";
      for (const code of files.crewCodes) {
        await page.goto(`${server.url}/week?crew=${code}`);
        await expect(page.getByRole("heading", { level: 1, name: new RegExp(code) })).toBeVisible();
        if ((await page.locator('main a[href^="/week/visit/"]').count()) > 0) crew = code;
      }
      expect(crew, "a crew with a visit in the next two weeks").not.toBe("");
      await page.goto(`${server.url}/rules?tab=accounts`);
      await page.getByRole("button", { name: "New account" }).click();
      const dialog = page.getByRole("dialog");
      await dialog.getByRole("textbox", { name: /^Name\b/ }).fill("Sol Ferran");
      await dialog.getByLabel("Sign-in name").fill(LEAD.email);
      await dialog.getByLabel("Role").selectOption("crew lead");
      await dialog.getByLabel("Crew").selectOption(crew);
      await dialog.getByRole("button", { name: "Make the account" }).click();
      const invitation = await dialog.getByLabel("One-time address").inputValue();

      const phone = await browser.newContext({ viewport: { width: 390, height: 844 } });
      const lead = await phone.newPage();
      await lead.goto(invitation);
      await lead.getByLabel(/^Password(?! again)/).fill(LEAD.password);
      await lead.getByLabel("Password again").fill(LEAD.password);
      await lead.getByRole("button", { name: "Set the password and sign in" }).click();
      await lead.waitForURL("**/week");
      await expect(lead.getByRole("heading", { level: 1, name: new RegExp(crew) })).toBeVisible();
      await expectNoAxeViolations(lead);
      await lead.locator('main a[href^="/week/visit/"]').first().click();
      await expect(lead.getByRole("heading", { name: "Steps" })).toBeVisible();
      await expectNoAxeViolations(lead);
      await lead.getByLabel("Hours worked on site").fill("6.5");
      await lead.getByLabel("Note").fill("Gate code changed");
      await sendReport(lead);
      await expect(lead.getByText("Report received.")).toBeVisible({ timeout: 30_000 });
      await expect(lead.getByText("6 h 30 min worked")).toBeVisible();
      await phone.close();
    });

    await test.step("the report is in the log", async () => {
      await page.goto(`${server.url}/rules?tab=log&q=report`);
      await expect(page.getByText("report visit").first()).toBeVisible();
      expect(visitPath).not.toBe("");
    });
  } finally {
    await server.stop();
  }
});
