import { expect, expectNoAxeViolations, startServer, test } from "./harness";

test("without demonstration data the first administrator is made with the printed token, once", async ({
  page,
}) => {
  const server = await startServer({ demo: false });
  try {
    const token = /token: (\S+)/.exec(server.printed())?.[1] ?? "";
    expect(token).not.toBe("");
    expect(server.printed()).not.toContain("password");

    await page.goto(`${server.url}/`);
    await page.waitForURL("**/setup");
    await expectNoAxeViolations(page);
    const send = async (given: { token: string; password: string }) => {
      await page.getByLabel("Set-up token").fill(given.token);
      await page.getByLabel("Your name").fill("Iris Halvorsen");
      await page.getByLabel("Sign-in name").fill("iris@masts.example");
      await page.getByLabel("Password").fill(given.password);
      await page.getByRole("button", { name: "Make the first administrator" }).click();
    };

    await send({ token: "guessed", password: "a-password-of-her-own" });
    await expect(page.getByText("This is not the token of this start.")).toBeVisible();
    await send({ token, password: "a-password-of-her-own" });
    await page.waitForURL("**/programme");

    await page.goto(`${server.url}/setup`);
    await expect(page.getByRole("heading", { name: "Already set up" })).toBeVisible();
    await expect(page.getByLabel("Set-up token")).toHaveCount(0);
  } finally {
    expect(await server.stop()).toBe(0);
  }
});
