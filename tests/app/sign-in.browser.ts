import { EMAILS, expect, expectNoAxeViolations, PASSWORD, signInByHand, startServer, test } from "./harness";

test("signing in leads to where the role begins its day, signing out back to the door", async ({ page }) => {
  await signInByHand(page, EMAILS.administrator);
  await page.waitForURL("**/programme");
  await page.goto("/sign-in");
  await page.waitForURL("**/programme"); // no second sign-in while the first holds
  await page.goto("/jobs");
  await page.getByRole("button", { name: /account/ }).click();
  await page.getByRole("button", { name: "Sign out" }).click();
  await page.waitForURL("**/sign-in");
  await page.goto("/jobs");
  await page.waitForURL("**/sign-in?next=*");
});

test("a wrong password signs nobody in, and the page does not tell whether the name exists", async ({
  page,
}) => {
  const refusal = page.getByRole("alert").filter({ hasText: "Not signed in" });
  await signInByHand(page, EMAILS.manager, "not-the-password");
  const known = await refusal.textContent();
  await expect(page.getByLabel("Sign-in name")).toHaveValue(EMAILS.manager);
  await expect(page.getByLabel("Password")).toHaveValue("");

  await signInByHand(page, "nobody@bothends.example", "not-the-password");
  await expect(refusal).toHaveText(known ?? "");
  expect(await page.context().cookies()).toEqual([]);
});

test("a name rests after too many wrong passwords, even for the right one", async ({ page }) => {
  // A server of its own: on the common one nobody could sign in as logistics for the next 15 minutes.
  const server = await startServer({
    copyOf: process.env.BOTHENDS_TEST_TEMPLATE,
    env: { BOTHENDS_SIGN_IN_LIMIT: "3" },
  });
  try {
    for (const password of ["wrong-1", "wrong-2", "wrong-3"]) {
      await signInByHand(page, EMAILS.logistics, password, server.url);
      await expect(page.getByText("Sign-in name or password is wrong")).toBeVisible();
    }
    await signInByHand(page, EMAILS.logistics, PASSWORD, server.url);
    await expect(page.getByText("Too many failed attempts with this name")).toBeVisible();
    await page.getByRole("radio", { name: "Deutsch" }).check();
    await expect(page.getByRole("heading", { name: "Anmelden" })).toBeVisible();
    await page.getByLabel("Anmeldename").fill(EMAILS.logistics);
    await page.getByLabel("Passwort").fill(PASSWORD);
    await page.getByRole("button", { name: "Anmelden", exact: true }).click();
    await expect(page.getByText("Zu viele Fehlversuche mit diesem Namen. 15 Minuten warten")).toBeVisible();
    await page.getByRole("radio", { name: "English" }).check();
    await signInByHand(page, EMAILS.manager, PASSWORD, server.url);
    await page.waitForURL("**/programme");
  } finally {
    await server.stop();
  }
});

test("a page asked for before signing in opens afterwards, and no other site does", async ({ page }) => {
  await page.goto("/jobs?from=a%20link");
  await page.waitForURL("**/sign-in?next=*");
  await page.getByLabel("Sign-in name").fill(EMAILS.administrator);
  await page.getByLabel("Password").fill(PASSWORD);
  await page.getByRole("button", { name: "Sign in", exact: true }).click();
  await page.waitForURL((url) => url.pathname === "/jobs" && url.searchParams.get("from") === "a link");
  await page.goto("/sign-in?next=//elsewhere.example/");
  await page.waitForURL("**/programme");
});

test("the demonstration's people are one press away", async ({ page }) => {
  await page.goto("/sign-in");
  await page.getByRole("button", { name: /crew lead/ }).click();
  await page.waitForURL("**/week");
});

test("an administrator's page refuses a manager with 403 and says for whom it is", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  const response = await page.goto("/jobs");
  expect(response?.status()).toBe(403);
  await expect(page.getByRole("heading", { name: "This page is for administrators" })).toBeVisible();
  await expect(page.getByText("(manager)")).toBeVisible();
});

test("the sign-in library's own addresses are not served", async ({ request }) => {
  for (const address of ["/api/auth/sign-up/email", "/api/auth/sign-in/email", "/api/auth/update-user"]) {
    const response = await request.post(address, {
      data: { email: "intruder@bothends.example", password: "long-enough-password", name: "Intruder" },
    });
    expect(response.status()).toBe(404);
  }
});

test("the sign-in page keeps the accessibility rules, in light and dark", async ({ page }) => {
  for (const colorScheme of ["light", "dark"] as const) {
    await page.emulateMedia({ colorScheme });
    await page.goto("/sign-in");
    await expectNoAxeViolations(page);
  }
});

test("the sign-in page works without scripts", async ({ browser, server }) => {
  const context = await browser.newContext({ javaScriptEnabled: false, baseURL: server.url });
  const page = await context.newPage();
  await signInByHand(page, EMAILS.administrator);
  await page.waitForURL("**/programme");
  await context.close();
});
