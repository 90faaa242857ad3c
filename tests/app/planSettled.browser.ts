/** Visits that no hand moves: why, where one tries; and what a dragged one looks like. */
import { expect, expectNoAxeViolations, test } from "./harness";

// A visit is reported done.
test.use({ purpose: "settled visits" });

const DONE = "It was reported done and stays where it was.";

test("a visit that is settled shows it before a drag and says why at the pointer; by keyboard too", async ({
  page,
  asManager,
}) => {
  test.slow();
  await page.setViewportSize({ width: 1440, height: 900 });
  await asManager(page);
  await page.goto("/plan?zoom=week");
  const toDo = page.getByRole("button", { name: /^Install VH.*; weather: / }).first();
  await toDo.click();
  await expect(page.getByText("On site with set-up, P80")).toBeVisible();
  await expect(page.getByText(DONE)).toHaveCount(0);
  const visitId = new URL(page.url()).searchParams.get("visit")!;
  const answer = await page.request.post("/api/reports", {
    headers: { "idempotency-key": "settled-1", origin: new URL(page.url()).origin },
    data: {
      visitId,
      outcome: "done",
      workedOn: "2026-03-16",
      workedMin: 240,
      // The clock stands before the shift.
      sureOf: ["workedMin"],
      holdReason: "",
      note: "",
      readings: [],
      parts: [],
      uses: [],
    },
  });
  expect(await answer.json()).toMatchObject({ ok: true });

  await page.goto(`/plan?zoom=week&visit=${encodeURIComponent(visitId)}`);
  const settled = page.locator(`[data-settled="${visitId}"]`);
  await settled.scrollIntoViewIfNeeded();
  await expect(settled).toHaveCSS("cursor", "not-allowed");
  // In the panel, and spoken with the visit that is selected.
  await expect(page.getByRole("complementary").getByText(DONE)).toBeVisible();
  await expect(
    page.getByRole("status").filter({ hasText: /^Selected: .*\. It was reported done/ }),
  ).toHaveCount(1);
  await expect(page.getByRole("button", { name: "Move …" })).toHaveCount(0);

  const box = (await settled.boundingBox())!;
  await page.mouse.move(box.x + 10, box.y + 10);
  await page.mouse.down();
  await page.mouse.move(box.x + 30, box.y + 14, { steps: 4 });
  const told = page.getByRole("status").locator(".ui-board-refusal");
  await expect(told).toHaveText(DONE);
  const at = (await told.boundingBox())!;
  expect(Math.abs(at.x - box.x - 30)).toBeLessThan(60);
  expect(Math.abs(at.y - box.y - 14)).toBeLessThan(60);
  await expectNoAxeViolations(page);
  await page.mouse.up();
  await page.keyboard.press("Shift");
  await expect(told).toHaveCount(0);
  await expect(page.getByRole("dialog")).toHaveCount(0);
});

test("a dragged visit is pictured with the signs that its row draws for it", async ({ page, asManager }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await asManager(page);
  await page.goto("/plan?zoom=week");
  await page.evaluate(() => {
    DataTransfer.prototype.setDragImage = (image: Element) => {
      document.body.dataset.picture = `${image.querySelector("path")?.getAttribute("d")?.length} ${image.textContent} ${image.clientWidth}`;
    };
  });
  const visit = page.getByRole("button", { name: /^Install VH.*; weather: / }).first();
  await visit.scrollIntoViewIfNeeded();
  const box = (await visit.boundingBox())!;
  const words = await visit.textContent();
  await page.mouse.move(box.x + 10, box.y + 10);
  await page.mouse.down();
  await page.mouse.move(box.x + 30, box.y + 14, { steps: 4 });
  const picture = await page.locator("body").getAttribute("data-picture");
  await page.mouse.up();
  const [signs, ...rest] = picture!.split(" ");
  expect(Number(signs)).toBeGreaterThan(100);
  expect(rest.join(" ")).toBe(`${words} ${Math.round(box.width)}`);
  // Nothing of it stays behind.
  await expect(page.locator(".ui-visit-picture")).toHaveCount(0);
});
