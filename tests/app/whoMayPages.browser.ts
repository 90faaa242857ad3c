/** Which role sees which page. A page that the table does not name fails the test. */
import { expect, type TestRole, test } from "./harness";
import { addressesOf, pagePatterns } from "./harness/pages";

const ALL: TestRole[] = ["administrator", "manager", "logistics", "crew lead"];
const OFFICE: TestRole[] = ["administrator", "manager", "logistics"];
const PLANNERS: TestRole[] = ["administrator", "manager"];

const MAY: Readonly<Record<string, readonly TestRole[] | "public">> = {
  "/": ALL,
  "/account": ALL,
  "/hops/[code]": ALL,
  "/import": OFFICE,
  "/import/[id]": OFFICE,
  "/jobs": ["administrator"],
  "/kits": ALL,
  "/kits/[...visitId]": ALL,
  "/plan": ALL,
  "/plan/compare": PLANNERS,
  "/plan/list": ALL,
  "/plan/solve": PLANNERS,
  "/programme": OFFICE,
  "/programme/finish": OFFICE,
  "/programme/hours": OFFICE,
  "/rules": ALL,
  "/invitation/[secret]": "public",
  "/setup": "public",
  "/sign-in": "public",
  "/sign-in/code": "public",
  "/sites": ALL,
  "/sites/[code]": ALL,
  "/stock": OFFICE,
  "/stock/items/[code]": OFFICE,
  "/stock/orders/[code]": OFFICE,
  "/stock/record": ["administrator", "logistics"],
  "/weather": ALL,
  "/week": ["administrator", "manager", "crew lead"],
  "/week/visit/[...visitId]": ["administrator", "manager", "crew lead"],
};

test("the table names every page", () => {
  expect(Object.keys(MAY).sort()).toEqual(pagePatterns());
});

test("each role sees its pages and no other, and nobody sees one without signing in", async ({
  browser,
  server,
  asAdministrator,
  asManager,
  asLogistics,
  asCrewLead,
}) => {
  test.setTimeout(240_000);
  const signIns = {
    administrator: asAdministrator,
    manager: asManager,
    logistics: asLogistics,
    "crew lead": asCrewLead,
  };
  const guarded = Object.entries(MAY).filter(([, roles]) => roles !== "public");
  const seen: Record<string, string[]> = {};
  let addresses = new Map<string, string | undefined>();
  for (const role of ALL) {
    const context = await browser.newContext({ baseURL: server.url });
    const page = await context.newPage();
    await signIns[role](page);
    if (role === "administrator") addresses = await addressesOf(page);
    for (const [pattern] of guarded) {
      // Without a link to one: roles come before the question whether there is such a thing.
      const address = addresses.get(pattern) ?? pattern.replace(/\[[^\]]+\]/, "NONE");
      const status = (await context.request.get(address)).status();
      if (status !== 403) seen[pattern] = [...(seen[pattern] ?? []), role];
    }
    await context.close();
  }
  expect(seen).toEqual(Object.fromEntries(guarded));

  const stranger = await browser.newContext({ baseURL: server.url });
  for (const [pattern] of guarded) {
    const address = addresses.get(pattern) ?? pattern.replace(/\[[^\]]+\]/, "NONE");
    const answer = await stranger.request.get(address);
    expect(new URL(answer.url()).pathname, address).toBe("/sign-in");
  }
  await stranger.close();
});

test("a crew lead opens the own crew's kits and visits, and those of no other crew", async ({
  browser,
  server,
  asAdministrator,
  asCrewLead,
}) => {
  const kitsOf = async (signIn: typeof asCrewLead) => {
    const context = await browser.newContext({ baseURL: server.url });
    await signIn(await context.newPage());
    const html = await (await context.request.get("/kits")).text();
    return {
      context,
      kits: [...new Set([...html.matchAll(/href="(\/kits\/[^"#?]+)/g)].map((m) => m[1] ?? ""))],
    };
  };
  const all = await kitsOf(asAdministrator);
  const own = await kitsOf(asCrewLead);
  const other = all.kits.find((kit) => !own.kits.includes(kit)) ?? "";
  expect(own.kits.length).toBeGreaterThan(0);
  expect(other).not.toBe("");
  const statusOf = async (address: string) => (await own.context.request.get(address)).status();
  expect(await statusOf(own.kits[0] ?? "")).toBe(200);
  expect(await statusOf(other)).toBe(403);
  expect(await statusOf(other.replace("/kits/", "/week/visit/"))).toBe(404);
  for (const { context } of [all, own]) await context.close();
});
