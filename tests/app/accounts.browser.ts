import type { Locator, Page } from "@playwright/test";
import { fromBase32, totp } from "../helpers/totp";
import { EMAILS, expect, expectFocusIn, expectNoAxeViolations, signInByHand, test } from "./harness";

const WIDTHS = [1440, 390];

/** The page at both widths: no rule broken, nothing wider than the screen. */
async function expectWell(page: Page): Promise<void> {
  for (const width of WIDTHS) {
    await page.setViewportSize({ width, height: 900 });
    await expectNoAxeViolations(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  }
  await page.setViewportSize({ width: 1440, height: 900 });
}

/** Told at the field itself, which keeps the focus; in no list beside it, where a password would stand as a value. */
async function expectToldAt(field: Locator, within: Locator, words: string | RegExp): Promise<void> {
  await expect(field).toHaveAccessibleDescription(words);
  await expect(field).toHaveAttribute("aria-invalid", "true");
  await expect(field).toBeFocused();
  await expect(within.getByRole("region", { name: "List of problems" })).toHaveCount(0);
}

const NOT_THE_PASSWORD =
  /This is not your current password\. Type it again; if it is lost, ask an administrator/;

test("an administrator invites; the person chooses a password, adds a second factor, loses the phone", async ({
  page,
  browser,
  server,
  asAdministrator,
}) => {
  test.setTimeout(240_000);
  const NOOR = { email: "noor@masts.example", password: "first-password" };
  await asAdministrator(page);
  await page.goto("/rules?tab=accounts");
  const dialog = page.getByRole("dialog");
  let invitation = "";

  await test.step("the account is made with a one-time address instead of a password", async () => {
    await page.getByRole("button", { name: "New account" }).click();
    await dialog.getByRole("textbox", { name: /^Name\b/ }).fill("Noor Lindqvist");
    await dialog.getByLabel("Sign-in name").fill("noor");
    await dialog.getByRole("button", { name: "Make the account" }).click();
    const name = dialog.getByLabel("Sign-in name");
    await expect(dialog.getByRole("alert")).toContainText(/Sign-in name.*in the form of an e-mail address\./);
    await expect(name).toHaveAccessibleDescription(/in the form of an e-mail address\./);
    await expect(name).toHaveAttribute("aria-invalid", "true");
    await expect(name).toBeFocused();
    await dialog.getByLabel("Sign-in name").fill(NOOR.email);
    await dialog.getByRole("button", { name: "Make the account" }).click();
    await expectNoAxeViolations(page, { within: "dialog" });
    await expectFocusIn(page, "dialog[open]");
    // It is shown once only: no slip takes it away.
    await page.keyboard.press("Escape");
    invitation = await dialog.getByLabel("One-time address").inputValue();
    expect(invitation.startsWith(`${server.url}/invitation/`)).toBe(true);
    await dialog.getByRole("button", { name: "I have copied it" }).click();
    await expect(page.getByRole("row", { name: /Noor Lindqvist.*Invited until/ })).toBeVisible();
    const own = page.getByRole("row", { name: new RegExp(EMAILS.administrator) });
    await expect(own.getByRole("button")).toHaveCount(0);
  });

  const phone = await browser.newContext({ baseURL: server.url });
  const noor = await phone.newPage();
  await test.step("she chooses a password and is signed in; the address serves no second time", async () => {
    await noor.goto(invitation);
    await expectWell(noor);
    await noor.getByLabel(/^Password(?! again)/).fill("short");
    await noor.getByLabel("Password again").fill("other");
    await noor.getByRole("button", { name: "Set the password and sign in" }).click();
    await expect(noor.getByText("The password needs at least 10 characters.")).toBeVisible();
    await expect(noor.getByText("The two passwords differ.")).toBeVisible();
    await noor.getByLabel(/^Password(?! again)/).fill(NOOR.password);
    await noor.getByLabel("Password again").fill(NOOR.password);
    await noor.getByRole("button", { name: "Set the password and sign in" }).click();
    await noor.waitForURL("**/stock");
    await noor.goto(invitation);
    await expect(noor.getByText("This invitation has been used")).toBeVisible();
    await expectNoAxeViolations(noor);
  });

  await test.step("she changes the password", async () => {
    await noor.goto("/account");
    await expectWell(noor);
    const fill = async (current: string, next: string, again = next) => {
      await noor.getByLabel("Current password").fill(current);
      await noor.getByLabel(/^New password(?! again)/).fill(next);
      await noor.getByLabel("New password again").fill(again);
      await noor.getByRole("button", { name: "Change the password" }).click();
    };
    await fill("wrong-password", "second-password");
    const main = noor.getByRole("main");
    await expectToldAt(noor.getByLabel("Current password"), main, NOT_THE_PASSWORD);
    await expect(noor.getByLabel("New password again")).toHaveValue("second-password");
    await expectWell(noor);
    await fill(NOOR.password, "second-password", "second-passwort");
    const differ = /The two new passwords differ\. Correct this value/;
    await expectToldAt(noor.getByLabel("New password again"), main, differ);
    await fill(NOOR.password, "second-password");
    await expect(noor.getByText("Password changed")).toBeVisible();
    NOOR.password = "second-password";
  });

  let key: Buffer = Buffer.alloc(0);
  const codeIn = (seconds: number) => totp(key, Date.now() / 1000 + seconds);
  let backupCode = "";
  await test.step("she turns on the second factor with a code of her app", async () => {
    const asked = noor.getByRole("dialog");
    await noor.getByRole("button", { name: "Turn on" }).click();
    await asked.getByLabel("Your password").fill("not-the-password");
    await asked.getByRole("button", { name: "Go on" }).click();
    await expectToldAt(asked.getByLabel("Your password"), asked, NOT_THE_PASSWORD);
    await expectNoAxeViolations(noor, { within: "dialog" });
    await asked.getByLabel("Your password").fill(NOOR.password);
    await asked.getByRole("button", { name: "Go on" }).click();
    await expect(asked.getByRole("img", { name: /The key as a picture/ })).toBeVisible();
    await expectNoAxeViolations(noor, { within: "dialog" });
    key = fromBase32(await asked.getByLabel("Key", { exact: true }).inputValue());
    expect(key).toHaveLength(32);
    await asked.getByLabel("Code that the app shows").fill("12345");
    await asked.getByRole("button", { name: "Turn on" }).click();
    await expectToldAt(asked.getByLabel("Code that the app shows"), asked, /A code has 6 digits\./);
    await asked.getByLabel("Code that the app shows").fill("000000");
    await asked.getByRole("button", { name: "Turn on" }).click();
    const notTheCode = /This is not the code of this moment\./;
    await expectToldAt(asked.getByLabel("Code that the app shows"), asked, notTheCode);
    await asked.getByLabel("Code that the app shows").fill(codeIn(0));
    await asked.getByRole("button", { name: "Turn on" }).click();
    const codes = asked.getByRole("list", { name: "Backup codes" }).getByRole("listitem");
    await expect(codes).toHaveCount(10);
    backupCode = (await codes.nth(4).textContent()) ?? "";
    await expectNoAxeViolations(noor, { within: "dialog" });
    await asked.getByRole("button", { name: "I have kept them" }).click();
    await expect(noor.getByRole("button", { name: "New backup codes" })).toBeVisible();
  });

  await test.step("new codes and turning it off ask for the password, and say at its field that it is wrong", async () => {
    const asked = noor.getByRole("dialog");
    for (const [open, send] of [
      ["New backup codes", "Make new codes"],
      ["Turn off", "Turn off"],
    ] as const) {
      await noor.getByRole("button", { name: open, exact: true }).click();
      await asked.getByRole("button", { name: send, exact: true }).click();
      await expectToldAt(asked.getByLabel("Your password"), asked, /Type your current password\. Fill it in/);
      await asked.getByLabel("Your password").fill("not-the-password");
      await asked.getByRole("button", { name: send, exact: true }).click();
      await expectToldAt(asked.getByLabel("Your password"), asked, NOT_THE_PASSWORD);
      await asked.getByRole("button", { name: "Leave as it is" }).click();
    }
  });

  const office = await browser.newContext({ baseURL: server.url });
  const desk = await office.newPage();
  await test.step("elsewhere the password alone does not let her in; the code does, and leads where she wanted", async () => {
    await desk.goto("/kits");
    await desk.getByLabel("Sign-in name").fill(NOOR.email);
    await desk.getByLabel("Password").fill(NOOR.password);
    await desk.getByRole("button", { name: "Sign in", exact: true }).click();
    await desk.waitForURL("**/sign-in/code?next=*");
    await expectWell(desk);
    await desk.goto("/sites");
    await desk.waitForURL("**/sign-in?next=*");
    await desk.goto("/sign-in/code?next=%2Fkits");
    await desk.getByLabel("Code").fill("000000");
    await desk.getByRole("button", { name: "Sign in", exact: true }).click();
    await expect(desk.getByText("This is not the code of this moment")).toBeVisible();
    await desk.getByLabel("Code").fill(codeIn(30));
    await desk.getByRole("button", { name: "Sign in", exact: true }).click();
    await desk.waitForURL("**/kits");
  });

  await test.step("a backup code serves once", async () => {
    for (const isFirst of [true, false]) {
      await office.clearCookies();
      await signInByHand(desk, NOOR.email, NOOR.password);
      await desk.waitForURL("**/sign-in/code");
      await desk.getByLabel("Code").fill(backupCode);
      await desk.getByRole("button", { name: "Sign in", exact: true }).click();
      if (isFirst) await desk.waitForURL("**/stock");
      else await expect(desk.getByText("nor an unused backup code")).toBeVisible();
    }
  });

  await test.step("she sees where she is signed in and ends the others", async () => {
    await noor.reload();
    const table = noor.getByRole("region", { name: "Sessions" });
    await expect(table.getByRole("row")).toHaveCount(4); // the head, this one, the code's, the backup code's
    await expect(table.getByText("This one")).toHaveCount(1);
    await expectWell(noor);
    await table.getByRole("button", { name: /^End/ }).first().click();
    await expect(table.getByRole("row")).toHaveCount(3);
    await noor.getByRole("button", { name: "End all others" }).click();
    await noor.getByRole("dialog").getByRole("button", { name: "End them" }).click();
    await expect(table.getByRole("row")).toHaveCount(2);
    await noor.reload();
    await expect(noor.getByRole("heading", { name: "Your account" })).toBeVisible();
  });

  await test.step("the administrator sees her sessions, resets the second factor and the password", async () => {
    await page.goto("/rules?tab=accounts");
    await expectWell(page);
    await page.getByRole("button", { name: /Sign-ins.*Noor Lindqvist/ }).click();
    await expect(dialog.getByRole("row")).toHaveCount(2);
    await expectNoAxeViolations(page, { within: "dialog" });
    await dialog.getByRole("button", { name: "End all sessions" }).click();
    await expect(page.getByRole("row", { name: /Noor Lindqvist.*nowhere/ })).toBeVisible();
    await noor.goto("/account");
    await noor.waitForURL("**/sign-in?next=*");

    await page.getByRole("button", { name: /Second factor.*Noor Lindqvist/ }).click();
    await dialog.getByRole("button", { name: "Reset the second factor" }).click();
    await expect(page.getByRole("row", { name: /Noor Lindqvist.*password alone/ })).toBeVisible();
    await signInByHand(noor, NOOR.email, NOOR.password);
    await noor.waitForURL("**/stock");

    await page.getByRole("button", { name: /Password.*Noor Lindqvist/ }).click();
    await dialog.getByRole("button", { name: "Make a one-time address" }).click();
    await expect(dialog.getByLabel("One-time address")).toBeVisible();
    await dialog.getByRole("button", { name: "I have copied it" }).click();
    await signInByHand(noor, NOOR.email, NOOR.password);
    await expect(noor.getByText("Sign-in name or password is wrong")).toBeVisible();
  });

  await test.step("all of it is in the log", async () => {
    await page.goto("/rules?tab=log&q=account");
    for (const words of [
      "create account",
      "accept invitation",
      "change own password",
      "turn on second factor",
      "end other sessions",
      "reset second factor",
      "reset password",
    ])
      await expect(page.getByRole("cell", { name: words, exact: true }).first()).toBeVisible();
  });
  for (const context of [phone, office]) await context.close();
});
