/** Which role sees which page. A page that the table does not name fails the test. */
import path from "node:path";
import { hashPassword } from "better-auth/crypto";
import { openDatabase } from "@/db/open";
import { createAccount } from "@/db/queries/accounts";
import { siteRegions, within } from "@/db/queries/regions";
import type { InstantMillis } from "@/lib/time";
import { expect, expectNoAxeViolations, signInByHand, type TestRole, test } from "./harness";
import { addressesOf, pagePatterns } from "./harness/pages";

const ALL: TestRole[] = ["administrator", "manager", "logistics", "crew lead"];
const OFFICE: TestRole[] = ["administrator", "manager", "logistics"];
const PLANNERS: TestRole[] = ["administrator", "manager"];

const MAY: Readonly<Record<string, readonly TestRole[] | "public">> = {
  "/": ALL,
  "/account": ALL,
  "/add/hop": OFFICE,
  "/add/site": OFFICE,
  "/hops/[code]": ALL,
  "/hops/[code]/change": OFFICE,
  "/import": OFFICE,
  "/import/[id]": OFFICE,
  "/jobs": ["administrator"],
  "/kits": ALL,
  "/kits/[...visitId]": ALL,
  "/map": ALL,
  "/map/ground": ["administrator"],
  "/plan": ALL,
  "/plan/compare": PLANNERS,
  "/plan/list": ALL,
  "/plan/solve": PLANNERS,
  "/programme": OFFICE,
  "/programme/finish": OFFICE,
  "/programme/hours": OFFICE,
  "/programme/use": OFFICE,
  "/rules": ALL,
  "/invitation/[secret]": "public",
  "/setup": "public",
  "/sign-in": "public",
  "/sign-in/code": "public",
  "/sites": ALL,
  "/sites/[code]": ALL,
  "/sites/[code]/change": OFFICE,
  "/stock": OFFICE,
  "/stock/close-out": OFFICE,
  "/stock/counts": OFFICE,
  "/stock/counts/[id]": OFFICE,
  "/stock/faults": OFFICE,
  "/stock/faults/[id]": OFFICE,
  "/stock/items/[code]": OFFICE,
  "/stock/labels": OFFICE,
  "/stock/offcuts": OFFICE,
  "/stock/orders/[code]": OFFICE,
  "/stock/orders/[code]/other": ["administrator", "logistics"],
  "/stock/spares": OFFICE,
  "/stock/record": ["administrator", "logistics"],
  "/stock/scan": OFFICE,
  "/weather": ALL,
  "/week": ["administrator", "manager", "crew lead"],
  "/week/sheet": ["administrator", "manager", "crew lead"],
  "/week/visit/[...visitId]": ["administrator", "manager", "crew lead"],
};

/** A crew lead opens those of the own crew only: a test of its own, below. */
const OF_A_CREW = ["/kits/[...visitId]", "/week/visit/[...visitId]"];

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
      if (role === "crew lead" && OF_A_CREW.includes(pattern)) continue;
      // Without a link to one: roles come before the question whether there is such a thing.
      const address = addresses.get(pattern) ?? pattern.replace(/\[[^\]]+\]/, "NONE");
      const status = (await context.request.get(address)).status();
      if (status !== 403) seen[pattern] = [...(seen[pattern] ?? []), role];
    }
    await context.close();
  }
  const expected = guarded.map(([pattern, roles]): [string, TestRole[]] => [
    pattern,
    ALL.filter((r) => roles.includes(r) && !(r === "crew lead" && OF_A_CREW.includes(pattern))),
  ]);
  expect(seen).toEqual(Object.fromEntries(expected));

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

/** Pages that an account limited to regions sees, with what lies in them; the others show the whole programme. */
const IN_REGIONS: readonly string[] = [
  "/",
  "/account",
  "/hops/[code]",
  "/kits",
  "/kits/[...visitId]",
  "/map",
  "/plan",
  "/plan/list",
  "/rules",
  "/sites",
  "/sites/[code]",
  "/stock",
  "/stock/counts",
  "/stock/counts/[id]",
  "/stock/faults",
  "/stock/faults/[id]",
  "/stock/items/[code]",
  "/stock/labels",
  "/stock/orders/[code]",
  "/stock/orders/[code]/other",
  "/stock/record",
  "/stock/scan",
  "/weather",
  "/week/visit/[...visitId]",
];

test("a manager who is limited to a region sees it and nothing of another", async ({
  browser,
  server,
  asAdministrator,
}) => {
  test.setTimeout(240_000);
  const db = openDatabase(path.join(server.dataFolder, "bothends.sqlite"));
  const [region = "", other = ""] = siteRegions(db);
  const inside = within(db, [region]);
  const hops = db.$client.prepare("SELECT code FROM hop ORDER BY code").pluck().all() as string[];
  const sites = db.$client.prepare("SELECT code, region FROM site ORDER BY code").all() as {
    code: string;
    region: string;
  }[];
  const password = "a-password-for-one-region";
  const made = createAccount(db, {
    name: "Rana Holt",
    email: "rana@masts.example",
    passwordHash: await hashPassword(password),
    role: "manager",
    regions: [region],
    now: 1 as InstantMillis,
  });
  expect(made.ok).toBe(true);
  db.$client.close();
  const ownHop = hops.find((code) => inside.hops.has(code)) ?? "";
  const otherHop = hops.find((code) => !inside.hops.has(code)) ?? "";
  const ownSite = sites.find((site) => site.region === region)?.code ?? "";
  const otherSite = sites.find((site) => site.region === other)?.code ?? "";
  for (const found of [ownHop, otherHop, ownSite, otherSite]) expect(found).not.toBe("");

  const context = await browser.newContext({ baseURL: server.url });
  const page = await context.newPage();
  await signInByHand(page, "rana@masts.example", password);
  await page.waitForURL("**/sites");
  const { request } = context;
  const statusOf = async (address: string) => (await request.get(address)).status();

  for (const [pattern, roles] of Object.entries(MAY)) {
    if (roles === "public" || !roles.includes("manager") || pattern.includes("[")) continue;
    expect(await statusOf(pattern), pattern).toBe(IN_REGIONS.includes(pattern) ? 200 : 403);
  }
  expect(await statusOf(`/sites/${ownSite}`)).toBe(200);
  expect(await statusOf(`/sites/${otherSite}`)).toBe(403);
  expect(await statusOf(`/hops/${ownHop}`)).toBe(200);
  expect(await statusOf(`/hops/${otherHop}`)).toBe(403);
  for (const list of ["/sites", "/map", "/plan", "/plan/list", "/kits", "/weather?show=all"]) {
    const html = await (await request.get(list)).text();
    const named = hops.filter((code) => html.includes(code));
    expect(
      named.filter((code) => !inside.hops.has(code)),
      list,
    ).toEqual([]);
    expect(
      sites.filter((site) => html.includes(`/sites/${site.code}"`) && site.region !== region),
      list,
    ).toEqual([]);
  }

  const csv = await (await request.get("/plan/export")).text();
  const exported = hops.filter((code) => csv.includes(`${code}/`));
  expect(exported.length).toBeGreaterThan(0);
  expect(exported.filter((code) => !inside.hops.has(code))).toEqual([]);

  await page.goto(`/sites/${otherSite}`);
  await expect(page.getByRole("heading", { name: "This is outside your regions" })).toBeVisible();
  await expect(
    page.getByRole("navigation", { name: "Main" }).getByRole("link", { name: "Programme" }),
  ).toHaveCount(0);
  await expectNoAxeViolations(page);
  await page.goto("/plan");
  await expect(page.getByRole("link", { name: "Solve anew" })).toHaveCount(0);
  await expectNoAxeViolations(page);
  await context.close();

  const office = await browser.newContext({ baseURL: server.url });
  const desk = await office.newPage();
  await asAdministrator(desk);
  await desk.goto("/rules?tab=accounts");
  await desk.getByRole("button", { name: /Role.*Rana Holt/ }).click();
  const dialog = desk.getByRole("dialog");
  await expect(dialog.getByLabel(region)).toBeChecked();
  await expectNoAxeViolations(desk, { within: "dialog" });
  await dialog.getByLabel(region).uncheck();
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog.getByText("No region is chosen.")).toBeVisible();
  await dialog.getByLabel(other).check();
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(desk.getByRole("row", { name: new RegExp(`Rana Holt.*${other}`) })).toBeVisible();
  await office.close();
});
