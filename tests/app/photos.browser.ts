/** Photos from the phone: taken without a signal, sent with the report, cut in mid-send, kept once. */
import type { Page } from "@playwright/test";
import { expect, expectNoAxeViolations, sendReport, test } from "./harness";

test.use({ viewport: { width: 390, height: 844 }, purpose: "photos" });
test.setTimeout(180_000);

/** A picture of noise as a camera would give it: larger than what is kept, several pieces when scaled. */
async function cameraPicture(page: Page): Promise<Buffer> {
  const address = await page.evaluate(() => {
    const canvas = document.createElement("canvas");
    canvas.width = 2400;
    canvas.height = 1800;
    const ctx = canvas.getContext("2d")!;
    const noise = ctx.createImageData(2400, 1800);
    let seed = 7;
    for (let i = 0; i < noise.data.length; i++) {
      seed = (seed * 1103515245 + 12345) & 0x7fffffff;
      noise.data[i] = i % 4 === 3 ? 255 : 96 + ((seed >> 16) & 63);
    }
    ctx.putImageData(noise, 0, 0);
    return canvas.toDataURL("image/jpeg", 0.9);
  });
  return Buffer.from(address.split(",")[1]!, "base64");
}

const open = async (page: Page, no: number): Promise<string> => {
  await page.goto("/week");
  const links = page.getByRole("article").locator('a[href^="/week/visit/"]');
  const address = await links.nth(no).getAttribute("href");
  await page.goto(address!);
  return address!;
};

async function take(page: Page, picture: Buffer, subject: string): Promise<void> {
  await page.getByLabel("What it shows").selectOption({ label: subject });
  await page
    .getByLabel("Camera")
    .setInputFiles({ name: "photo.jpg", mimeType: "image/jpeg", buffer: picture });
  await expect(page.getByRole("img", { name: subject, exact: true })).toBeVisible();
}

test("a photo taken without a signal goes out with the report, scaled down, and is shown where it belongs", async ({
  page,
  context,
  asCrewLead,
  asManager,
}) => {
  await asCrewLead(page);
  const visit = await open(page, 0);
  const picture = await cameraPicture(page);
  await context.setOffline(true);
  await take(page, picture, "Earthing");
  await take(page, picture, "Label");
  await expect(page.getByText("2 photos on this phone. They go out with the report.")).toBeVisible();
  await expect(page.getByText("Earthing: taken")).toBeVisible();
  await expectNoAxeViolations(page);
  await page.getByRole("button", { name: "Take away Label" }).click();
  await expect(page.getByText("1 photo on this phone. It goes out with the report.")).toBeVisible();
  await page.getByRole("spinbutton", { name: "Hours worked on site" }).fill("4");
  await sendReport(page);
  await expect(page.getByText(/1 photo on this phone. It goes out by itself/)).toBeVisible();

  await context.setOffline(false);
  await page.evaluate(() => window.dispatchEvent(new Event("online")));
  await expect(page.getByRole("heading", { name: "Photos: 1" })).toBeVisible({ timeout: 30_000 });
  await expect(page.getByText(/on this phone\. They/)).toHaveCount(0);
  const shown = page.getByRole("img", { name: /^Earthing, / });
  await expect.poll(() => shown.evaluate((img) => (img as HTMLImageElement).naturalWidth)).toBe(1600);
  await expect(page.getByRole("button", { name: /Delete photo/ })).toHaveCount(0);

  const address = (await shown.getAttribute("src"))!;
  const answer = await page.request.get(address);
  expect(answer.headers()["content-disposition"]).toMatch(/^attachment; filename="[\w.-]+\.jpg"$/);
  expect(answer.headers()["x-content-type-options"]).toBe("nosniff");
  expect(answer.headers()["content-security-policy"]).toContain("default-src 'none'");
  expect((await answer.body()).subarray(0, 2)).toEqual(Buffer.from([0xff, 0xd8]));

  // A manager sees it at the hop's acceptance and deletes it there.
  await page.context().clearCookies();
  expect((await page.request.get(address)).status()).toBe(401);
  await asManager(page);
  const hop = visit.split("/")[3];
  await page.goto(`/hops/${hop}?tab=acceptance`);
  await expect(page.getByRole("heading", { name: "Photos: 1" })).toBeVisible();
  await expectNoAxeViolations(page);
  await page.getByRole("button", { name: "Delete photo Earthing" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Delete photo" }).click();
  await expect(page.getByText("No photo has come from this hop yet.")).toBeVisible();
  expect((await page.request.get(address)).status()).toBe(404);
});

test("a photo that is cut in mid-send goes on where it stopped, and is kept once", async ({
  page,
  asCrewLead,
}) => {
  await asCrewLead(page);
  await open(page, 1);
  await take(page, await cameraPicture(page), "Other");
  const offsets: number[] = [];
  let isCut = false;
  await page.route("**/api/photos/*?*", async (route) => {
    if (isCut) return route.abort("internetdisconnected");
    const isPiece = (route.request().postDataBuffer()?.length ?? 0) > 0;
    if (isPiece) offsets.push(Number(new URL(route.request().url()).searchParams.get("offset")));
    if (offsets.length < 2) return route.continue();
    isCut = true;
    await route.fetch(); // the server has the second piece ...
    return route.abort("connectionreset"); // ... and the phone never hears of it
  });
  await page.getByRole("button", { name: "Send photos now" }).click();
  await expect.poll(() => isCut, { timeout: 30_000 }).toBe(true);
  await expect(page.getByText(/1 photo on this phone. It goes out by itself/)).toBeVisible();
  // The page is closed in between and opened again: the photo is still there, and goes on. The signal comes back only
  // then: a page that sends its last piece while it is left would leave nothing to go on with.
  const address = page.url();
  await page.goto("about:blank");
  await page.unroute("**/api/photos/*?*");
  page.on("request", (request) => {
    if (request.url().includes("/api/photos/") && (request.postDataBuffer()?.length ?? 0) > 0)
      offsets.push(Number(new URL(request.url()).searchParams.get("offset")));
  });
  await page.goto(address);
  await expect(page.getByRole("heading", { name: "Photos: 1" })).toBeVisible({ timeout: 30_000 });
  expect(offsets.filter((offset) => offset === 0)).toHaveLength(1);
  expect(new Set(offsets).size).toBe(offsets.length);
  expect(offsets.length).toBeGreaterThan(2);
});

test("what is no picture is said to be none, and nothing waits", async ({ page, asCrewLead }) => {
  await asCrewLead(page);
  await open(page, 1);
  await page
    .getByLabel("Photo files")
    .setInputFiles({ name: "notes.jpg", mimeType: "image/jpeg", buffer: Buffer.from("no picture") });
  await expect(page.getByText("notes.jpg is no picture that this browser can read.")).toBeVisible();
  await expect(page.getByText(/on this phone\. They/)).toHaveCount(0);
});
