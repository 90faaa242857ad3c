import { writeFileSync } from "node:fs";
import path from "node:path";
import type { Page } from "@playwright/test";
import { expect, expectNoAxeViolations, temporaryFolder, test } from "./harness";

// Outlines and a tile address are the whole installation's.
test.use({ purpose: "map" });

const stage = (page: Page) => page.getByRole("application", { name: /^Map of/ });

/** What the map shows of the ground: the drawing as text, to tell whether it moved. */
const drawn = (page: Page) =>
  page.locator("canvas").evaluate((canvas) => (canvas as HTMLCanvasElement).toDataURL());
/** Let the frame that was asked for be drawn. */
const settled = (page: Page) =>
  page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));

test("the map draws sites and hops, follows keys, and its address opens the same view", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/map");
  await expect(stage(page)).toHaveAccessibleName(/Map of 59 sites and \d+ hops/);
  await expect(page.getByText("Outlines: Vellmark, made up for the demonstration")).toBeVisible();
  await expect(page.getByRole("heading", { name: "Without a coordinate: 1" })).toBeVisible();
  await expectNoAxeViolations(page);

  await stage(page).focus();
  await settled(page);
  const before = await drawn(page);
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("+");
  await settled(page);
  expect(await drawn(page)).not.toBe(before);
  await expect(page).toHaveURL(/at=46\.\d+%2C-27\.\d+%2C\d/);
  const address = page.url();
  // Opened anew the map stands there, not where all is in view, and one step back is where it was before.
  await page.goto("/sites");
  await page.goto(address);
  await expect(page.getByText("Outlines: Vellmark")).toBeVisible();
  await stage(page).focus();
  await page.keyboard.press("-");
  await page.keyboard.press("ArrowLeft");
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("+");
  const placeOf = (url: string) => new URL(url).searchParams.get("at")?.split(",").map(Number) ?? [];
  // The address follows when the keys rest.
  const there = placeOf(address);
  const farthest = () => Math.max(...there.map((x, i) => Math.abs((placeOf(page.url())[i] ?? 99) - x)));
  await expect.poll(farthest).toBeLessThan(0.011);
  await page.keyboard.press("0");
  await expect.poll(() => Math.abs(placeOf(page.url())[2]! - there[2]!)).toBeGreaterThan(0.5);
});

test("what is chosen in the list is chosen on the map, and the other way round", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/map");
  const list = page.getByRole("list", { name: "Hops on the map" });
  const first = list.getByRole("button").first();
  const code = (await first.locator("span").first().textContent()) ?? "";
  await first.focus();
  await page.keyboard.press("Enter");
  await expect(first).toHaveAttribute("aria-pressed", "true");
  await expect(page).toHaveURL(new RegExp(`hop=${code}`));
  await expect(page.getByRole("heading", { name: code, exact: true })).toBeVisible();
  await expect(page.getByRole("link", { name: `All about hop ${code}` })).toBeVisible();

  // The chosen hop lies in the middle of the map: a press there hits it, or the site beside it.
  await page.getByRole("button", { name: "Choose nothing" }).click();
  await expect(page).not.toHaveURL(/hop=/);
  await stage(page).click();
  await expect(page).toHaveURL(/(hop|site)=V[HEM]\d+/);
  await expect(page.locator('.ui-atlas-list [aria-pressed="true"]')).toHaveCount(1);
});

test("filters narrow map and list alike and stand in the address", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await page.goto("/map?state=held&region=Salt+Coast");
  await expect(page.getByLabel("State")).toHaveValue("held");
  const held = page.getByRole("list", { name: "Hops on the map" }).getByRole("button");
  const count = await held.count();
  for (const row of await held.all()) await expect(row).toContainText("Held");
  await expect(stage(page)).toHaveAccessibleName(new RegExp(`and ${count} hops?\\.`));
  await page.getByLabel("Code or name").fill("no such code");
  await expect(page.getByText("Nothing passes the filters")).toBeVisible();
  await expect(page).toHaveURL(/q=no\+such\+code/);
});

test("a crew's day is drawn and told in the order of its visits", async ({ page, asManager }) => {
  await asManager(page);
  await page.goto("/map?crew=C1&day=2026-03-17");
  const panel = page.getByRole("region", { name: /the day's way/ });
  await expect(panel.getByRole("listitem").first()).toContainText(/From the depot|From a night away/);
  const day = panel.getByLabel("Day", { exact: true });
  await expect(day).toHaveValue("2026-03-17");
  // Some day of the plan has a visit; each is numbered.
  for (let i = 0; i < 14 && (await panel.getByText("No visit on").isVisible()); i++)
    await panel.getByRole("button", { name: "The day after" }).click();
  await expect(panel.getByRole("listitem").nth(1)).toContainText(/^1VM\d+/);
  await expect(panel.getByText("km in straight lines")).toBeVisible();
  await expectNoAxeViolations(page);
  await page.getByLabel("Crew").selectOption("");
  await expect(panel).toHaveCount(0);
  await expect(page).not.toHaveURL(/day=/);
});

test("the map works on a phone and in the dark", async ({ page, asCrewLead }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await page.emulateMedia({ colorScheme: "dark" });
  await asCrewLead(page);
  await page.goto("/map");
  await expect(stage(page)).toBeVisible();
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  const ground = () =>
    page.locator("canvas").evaluate((canvas) => {
      const sheet = canvas as HTMLCanvasElement;
      return [...sheet.getContext("2d")!.getImageData(4, 4, 1, 1).data.slice(0, 3)];
    });
  await expect.poll(async () => Math.max(...(await ground()))).toBeLessThan(100);
  await page.emulateMedia({ colorScheme: "light" });
  await expect.poll(async () => Math.min(...(await ground()))).toBeGreaterThan(150);
  await expectNoAxeViolations(page);
});

test("an administrator brings in outlines, and a file that is none is refused by place and reason", async ({
  page,
  asAdministrator,
}) => {
  await asAdministrator(page);
  await page.goto("/map/ground");
  await expectNoAxeViolations(page);
  const folder = temporaryFolder();
  const file = (name: string, content: unknown) => {
    const at = path.join(folder, name);
    writeFileSync(at, JSON.stringify(content));
    return at;
  };
  const land = (ring: number[][]) => ({
    type: "FeatureCollection",
    features: [{ type: "Feature", properties: {}, geometry: { type: "Polygon", coordinates: [ring] } }],
  });
  await page.getByLabel("GeoJSON file").setInputFiles(
    file(
      "open.geojson",
      land([
        [-28, 46],
        [-27, 46],
        [-27, 47],
        [-28, 47],
      ]),
    ),
  );
  await page.getByLabel("Source").fill("Survey of the coast");
  await page.getByRole("button", { name: "Bring in outlines" }).click();
  await expect(page.getByText("The area's ring does not end where it began.")).toBeVisible();

  await page.getByLabel("GeoJSON file").setInputFiles(
    file(
      "good.geojson",
      land([
        [-28, 46],
        [-27, 46],
        [-27, 47],
        [-28, 46],
      ]),
    ),
  );
  await page.getByRole("button", { name: "Bring in outlines" }).click();
  await expect(page.getByText("In use: Survey of the coast, 1 outline.")).toBeVisible();
  await page.goto("/map");
  await expect(page.getByText("Outlines: Survey of the coast")).toBeVisible();

  await page.goto("/map/ground");
  await page.getByRole("button", { name: "Remove outlines" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Remove" }).click();
  await expect(page.getByText("None: the map is a plain sheet.")).toBeVisible();
});

test("pages ask a tile server only after an administrator named it, and then that host alone", async ({
  page,
  asAdministrator,
}) => {
  await asAdministrator(page);
  const asked: string[] = [];
  const picture = Buffer.from(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8z8BQDwAEhQGAhKmMIQAAAABJRU5ErkJggg==",
    "base64",
  );
  await page.route("https://tiles.example/**", (route) => {
    asked.push(route.request().url());
    return route.fulfill({ body: picture, contentType: "image/png" });
  });
  const policy = async () => (await page.goto("/map"))?.headers()["content-security-policy"] ?? "";
  expect(await policy()).toMatch(/img-src 'self' data: blob:;/);
  await settled(page);
  expect(asked).toEqual([]);

  await page.goto("/map/ground");
  await page.getByLabel("Tile address").fill("http://tiles.example/{z}/{x}/{y}.png");
  await page.getByLabel("Attribution").fill("Pictures by nobody");
  await page.getByRole("button", { name: "Keep the address" }).click();
  await expect(page.getByText(/browsers do not load pictures from there/)).toBeVisible();
  await page.getByLabel("Tile address").fill("https://tiles.example/{z}/{x}/{y}.png");
  await page.getByRole("button", { name: "Keep the address" }).click();
  await expect(page.getByText(/Browsers ask https:\/\/tiles.example for them/)).toBeVisible();

  const set = await policy();
  expect(set).toMatch(/img-src 'self' data: blob: https:\/\/tiles\.example;/);
  expect(set).toMatch(/connect-src 'self';/);
  await expect(page.getByText("Pictures by nobody")).toBeVisible();
  await expect.poll(() => asked.length).toBeGreaterThan(3);
  expect(asked[0]).toMatch(/^https:\/\/tiles\.example\/\d+\/\d+\/\d+\.png$/);

  await page.goto("/map/ground");
  await page.getByRole("button", { name: "Turn pictures off" }).click();
  await expect(page.getByText("Off: no browser asks any other server for anything.")).toBeVisible();
  expect(await policy()).toMatch(/img-src 'self' data: blob:;/);
});
