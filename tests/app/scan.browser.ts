/** Labels are printed, scanned by a scanner that types and by the camera, and guard a cut and a pick. */
import { writeFileSync } from "node:fs";
import path from "node:path";
import type { Locator, Page } from "@playwright/test";
import { getDocumentProxy } from "unpdf";
import { qrCode } from "@/app/_server/qrCode";
import playwrightConfig from "../../playwright.config";
import { expect, expectNoAxeViolations, temporaryFolder, test } from "./harness";

/** What the camera of the test browser sees: a label of a warehouse, as a short film without compression. */
function film(text: string): string {
  const [width, height, scale] = [640, 480, 8];
  const { side, path: modules } = qrCode(text);
  const light = Buffer.alloc(width * height, 235);
  const [left, top] = [(width - side * scale) / 2, (height - side * scale) / 2].map(Math.round) as [
    number,
    number,
  ];
  for (const [, column, row] of modules.matchAll(/M(\d+) (\d+)h1v1h-1z/g))
    for (let y = 0; y < scale; y++)
      light.fill(
        16,
        (top + Number(row) * scale + y) * width + left + Number(column) * scale,
        (top + Number(row) * scale + y) * width + left + (Number(column) + 1) * scale,
      );
  const frame = Buffer.concat([Buffer.from("FRAME\n"), light, Buffer.alloc((width * height) / 2, 128)]);
  const file = path.join(temporaryFolder(), "label.y4m");
  writeFileSync(
    file,
    Buffer.concat([
      Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`),
      frame,
      frame,
      frame,
    ]),
  );
  return file;
}

const launch = playwrightConfig.use?.launchOptions;
test.use({
  purpose: "scan",
  launchOptions: {
    ...launch,
    args: [
      ...(launch?.args ?? []),
      "--use-fake-ui-for-media-stream",
      "--use-fake-device-for-media-stream",
      `--use-file-for-fake-video-capture=${film("BTH:PLACE:WH-EAST")}`,
    ],
  },
});

const WIDTHS = [1440, 390];

/** As a scanner does: every sign within milliseconds, then Enter. */
async function wedge(field: Locator, text: string): Promise<void> {
  await field.focus();
  await field.pressSequentially(text, { delay: 2 });
  await field.press("Enter");
}

async function fitsWidth(page: Page): Promise<void> {
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
  ).toBeLessThanOrEqual(0);
}

test("labels of every kind lie on their sheets and print without the page around them", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  for (const kind of ["drum", "place", "kit", "item"])
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: 900 });
      await page.goto(`/stock/labels?kind=${kind}&size=24`);
      await expect(page.getByRole("img", { name: /^Code of/ }).first()).toBeVisible();
      await expectNoAxeViolations(page);
      await fitsWidth(page);
    }
  await page.goto("/stock/labels?kind=place&size=14&used=3");
  const label = page
    .getByRole("listitem")
    .filter({ has: page.getByRole("img", { name: "Code of WH-EAST", exact: true }) });
  const sheet = page.getByRole("list", { name: "Sheet 1" });
  await page.setViewportSize({ width: 1440, height: 900 });
  const [at, around] = [await label.boundingBox(), await sheet.boundingBox()];
  const pxPerMm = around!.width / 210;
  expect(at!.width / pxPerMm).toBeCloseTo(99.1, 0);
  expect(at!.height / pxPerMm).toBeCloseTo(38.1, 0);
  await page.emulateMedia({ media: "print" });
  await expect(page.getByRole("button", { name: "Print" })).toBeHidden();
  await expect(label).toBeVisible();
  for (const query of ["kind=place&size=14&used=3", "kind=drum&size=14", "kind=kit&size=4"]) {
    await page.goto(`/stock/labels?${query}`);
    const sheets = await page.getByRole("list", { name: /^Sheet \d+$/ }).count();
    const paper = await getDocumentProxy(new Uint8Array(await page.pdf({ preferCSSPageSize: true })));
    expect(paper.numPages, "label paper is taken for labels only").toBe(sheets);
  }
});

test("a scanner's text opens what it names, a wrong one says so", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock/labels?kind=drum");
  const serial = (await page
    .getByRole("img", { name: /^Code of/ })
    .first()
    .getAttribute("aria-label"))!.slice(8);
  await page.goto("/stock/scan");
  const field = page.getByLabel("Label or barcode");
  await expect(field).toBeFocused();
  await wedge(field, `BTH:DRUM:${serial}`);
  await expect(page.getByRole("heading", { name: `Drum ${serial}` })).toBeVisible();
  for (const width of WIDTHS) {
    await page.setViewportSize({ width, height: 900 });
    await expectNoAxeViolations(page);
    await fitsWidth(page);
  }
  await wedge(field, "wh-east");
  await expect(page.getByRole("heading", { name: /^WH-EAST/ })).toBeVisible();
  await expectNoAxeViolations(page);
  await wedge(field, "BTH:DRUM:NO-SUCH-DRUM");
  await expect(page.getByText('Nothing here is called "NO-SUCH-DRUM"')).toBeVisible();
  await page.goto("/stock/labels?kind=kit");
  const visitId = (await page
    .getByRole("img", { name: /^Code of/ })
    .first()
    .getAttribute("aria-label"))!.slice(8);
  await page.goto("/stock/scan");
  await wedge(page.getByLabel("Label or barcode"), `BTH:KIT:${visitId}`);
  await page.waitForURL(`**/kits/${visitId}`);
});

test("the camera reads a label and opens its place", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto("/stock/scan");
  await page.getByRole("button", { name: "Use the camera" }).click();
  await expect(page.getByRole("heading", { name: /^WH-EAST/ })).toBeVisible({ timeout: 30_000 });
  await expect(page.getByRole("dialog")).toBeHidden();
});

test("a cut is not booked from a wrong drum, and is from the right one", async ({ page, asLogistics }) => {
  await asLogistics(page);
  await page.goto("/stock?tab=drums");
  const open = page.getByRole("button", { name: /^Confirm cut/ }).first();
  await open.click();
  const dialog = page.getByRole("dialog");
  const serial = (await dialog.getByRole("heading").first().textContent())!.split(" from ")[1]!;
  const field = dialog.getByLabel("Scan the drum");
  await wedge(field, "BTH:DRUM:OTHER-1");
  await expect(dialog.getByText(/^This is OTHER-1\./)).toBeVisible();
  await expect(dialog.getByRole("button", { name: "Post the cut" })).toBeDisabled();
  await expectNoAxeViolations(page, { within: "dialog" });
  await wedge(field, serial.toLowerCase());
  await expect(dialog.getByText(`Drum ${serial}: the right one for this run`)).toBeVisible();
  await dialog.getByRole("button", { name: "Post the cut" }).click();
  await expect(page.getByText(/ cut; .* left on /)).toBeVisible();
  await expect(dialog).toBeHidden();
});

test("what goes into the box is ticked by its scan, what does not belong is named", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/stock/labels?kind=kit");
  const kits = await page.getByRole("img", { name: /^Code of/ }).all();
  const visitId = (await kits.at(-1)!.getAttribute("aria-label"))!.slice(8);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.goto(`/kits/${visitId}`);
  const pick = page.getByRole("button", { name: /^Pick / }).first();
  const code = (await pick.textContent())!.trim().split(/\s+/)[1]!;
  const field = page.getByLabel("Scan what you put into the box");
  await wedge(field, "BTH:ITEM:NOT-OF-THIS-KIT");
  await expect(
    page.getByText("NOT-OF-THIS-KIT is not wanted by this kit; nothing was ticked."),
  ).toBeVisible();
  await expectNoAxeViolations(page);
  await wedge(field, `BTH:ITEM:${code}`);
  await expect(page.getByRole("button", { name: new RegExp(`^Picked ${code}`) }).first()).toBeVisible();
  await fitsWidth(page);
});
