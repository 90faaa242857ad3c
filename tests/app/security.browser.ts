/** What every answer tells the browser to allow, and that the pages live within it. */
import { EMAILS, expect, signInByHand, test } from "./harness";
import { addressesOf } from "./harness/pages";

// Imports and counts that other files make would give those pages a link.
test.use({ purpose: "security" });

/** Links lead to no import and no count before there is one, and to no invitation ever. */
const WITHOUT_LINK = ["/import/[id]", "/invitation/[secret]", "/stock/counts/[id]"];

test("every page keeps its content policy, comes alive within it and fetches no file ahead", async ({
  page,
  asAdministrator,
}) => {
  test.setTimeout(240_000);
  await asAdministrator(page);
  const broken: string[] = [];
  page.on("console", (message) => {
    if (/Content.Security.Policy/i.test(message.text())) broken.push(`${page.url()} ${message.text()}`);
  });
  // A file is made for who presses its link, not for everybody who passes by.
  const fetched: string[] = [];
  page.on("response", (response) => {
    if (/^attachment/.test(response.headers()["content-disposition"] ?? "")) fetched.push(response.url());
  });
  const addresses = await addressesOf(page);
  const unknown = [...addresses].filter(([, address]) => !address).map(([pattern]) => pattern);
  expect(unknown).toEqual(WITHOUT_LINK);
  const all = [...addresses.values()].filter((address) => address !== undefined);
  for (const address of [...all, "/nothing/here", "/sites/NO-SUCH-SITE", "/invitation/none"]) {
    await page.goto(address);
    // React marks what it has taken over.
    await page.waitForFunction(() => {
      const main = document.querySelector("main");
      return main && Object.keys(main).some((key) => key.startsWith("__reactProps$"));
    });
    await page.waitForLoadState("networkidle", { timeout: 10_000 }).catch(() => fetched.push(address));
  }
  expect(broken).toEqual([]);
  expect(fetched).toEqual([]);
});

test("a script that the page did not name is kept from running, and the report is heard", async ({
  page,
}) => {
  const said: string[] = [];
  page.on("console", (message) => said.push(message.text()));
  // As if a text had come into the page unescaped.
  await page.route("**/sign-in", async (route) => {
    const answer = await route.fetch();
    const slipped = `<script>document.title = "taken over"</script><button id="b" onclick="document.title = 'taken over'">b</button>`;
    await route.fulfill({
      response: answer,
      body: (await answer.text()).replace("</body>", `${slipped}</body>`),
    });
  });
  await page.goto("/sign-in");
  await page.evaluate(() => document.getElementById("b")?.click());
  const refused = () => said.filter((text) => /Content Security Policy/.test(text));
  await expect.poll(() => refused().some((text) => /inline script/.test(text))).toBe(true);
  await expect.poll(() => refused().some((text) => /inline event handler/.test(text))).toBe(true);
  await expect(page).not.toHaveTitle("taken over");
});

test("every answer says what the browser may do with it", async ({ request }) => {
  const policies: string[] = [];
  for (const address of ["/sign-in", "/sign-in", "/nothing/here", "/rules/log"]) {
    const headers = (await request.get(address)).headers();
    expect(headers["x-content-type-options"]).toBe("nosniff");
    expect(headers["referrer-policy"]).toBe("same-origin");
    expect(headers["permissions-policy"]).toContain("camera=(self)");
    expect(headers["strict-transport-security"]).toBeUndefined();
    const policy = headers["content-security-policy"] ?? "";
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).toContain("object-src 'none'");
    expect(policy).toMatch(/script-src 'self' 'nonce-[A-Za-z0-9+/]{22}==' 'strict-dynamic';/);
    policies.push(policy);
  }
  expect(new Set(policies).size).toBe(policies.length); // a nonce serves once
  const health = (await request.get("/api/health")).headers();
  expect(health["content-security-policy"]).toContain("default-src 'none'");
  expect(health["x-content-type-options"]).toBe("nosniff");
  expect(health["x-frame-options"]).toBe("DENY");
  // A script is no page: it is kept from pages of others and taken for nothing else.
  const page = await (await request.get("/sign-in")).text();
  const script = (await request.get(/\/_next\/static\/[^"]+\.js/.exec(page)![0])).headers();
  expect(script["content-type"]).toContain("javascript");
  expect(script["x-content-type-options"]).toBe("nosniff");
  expect(script["cross-origin-resource-policy"]).toBe("same-origin");
  expect(script["permissions-policy"]).toBeUndefined();
});

test("a browser that came by https is told to stay with it", async ({ request }) => {
  const answer = await request.get("/sign-in", { headers: { "x-forwarded-proto": "https" } });
  expect(answer.headers()["strict-transport-security"]).toMatch(/^max-age=\d{8}$/);
});

test("a page of another site changes nothing, and neither does too much at once", async ({
  page,
  server,
}) => {
  await signInByHand(page, EMAILS.manager);
  await page.waitForURL("**/programme");
  const post = (origin: string, data: string) =>
    page.request.post("/api/jobs/none/cancel", {
      headers: { origin, "content-type": "application/json" },
      data,
    });
  expect((await post("https://elsewhere.example", "{}")).status()).toBe(403);
  expect((await post(server.url, "{}")).status()).toBe(422); // let through, but there is no such job
  expect((await post(server.url, JSON.stringify({ note: "x".repeat(1_100_000) }))).status()).toBe(413);
});
