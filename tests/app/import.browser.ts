import { MAX_FILE_BYTES } from "@/lib/exchange";
import { expect, expectNoAxeViolations, test } from "./harness";

const file = (name: string, ...lines: string[]) => ({
  name,
  mimeType: "text/csv",
  buffer: Buffer.from(`${lines.join("\n")}\n`),
});

const SITES = file(
  "new sites.csv",
  "Site;Name;Latitude;Longitude;Elevation (m);Time zone;Structure;Tower size;Terrain",
  "IMP-1;First;47,1;8,2;400;UTC;lattice;40;II",
  "IMP-2;Second;147,2;8,3;410;UTC;lattice;30;II",
);

test("a manager sees why a row is refused, corrects the matching and brings the rest in", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/import");
  await expectNoAxeViolations(page);
  await page.getByLabel("File chooser").setInputFiles(SITES);
  await page.waitForURL(/\/import\/./);
  await expect(page.getByText("Waits for an answer", { exact: true })).toBeVisible({ timeout: 30_000 });

  // The bad row is named with its column, value and remedy.
  const why = page.getByRole("region", { name: "Refused rows", exact: true });
  await expect(why).toContainText("new sites.csv");
  await expect(why.getByRole("row", { name: /3 Latitude 147,2/ })).toBeVisible();
  // The column that was not recognised keeps the good row out as well.
  await expect(why.getByRole("row", { name: /2 Structure height/ })).toBeVisible();
  await expect(page.getByRole("button", { name: /^Bring .* in$/ })).toHaveCount(0);

  await page.getByLabel("Field for Tower size").selectOption({ label: "Structure height (needed)" });
  await page.getByRole("button", { name: "Read again with these choices" }).click();
  await expect(page.getByRole("button", { name: "Bring 1 row in" })).toBeEnabled({ timeout: 30_000 });
  await expect(why.getByRole("row", { name: /2 Structure height/ })).toHaveCount(0);
  await expect(page.getByRole("grid", { name: "Rows of the preview" })).toBeVisible();
  await expectNoAxeViolations(page);

  const download = page.waitForEvent("download");
  await page.getByRole("link", { name: "Refused rows as CSV" }).click();
  const refused = await (await download).createReadStream();
  const text = (await refused.toArray()).join("");
  expect(text).toContain("Why refused");
  expect(text).toContain("IMP-2");
  expect(text).not.toContain("IMP-1");

  await page.getByRole("button", { name: "Bring 1 row in" }).click();
  await expect(page.getByText("Brought in: 1 site")).toBeVisible({ timeout: 30_000 });
  await page.goto("/import");
  await expect(page.getByRole("row", { name: /Brought in new sites.csv/ })).toBeVisible();
});

test("the rows are reached by keys: the file chooser, a row's detail, and away again", async ({
  page,
  asLogistics,
}) => {
  await asLogistics(page);
  await page.goto("/import");
  const chooser = page.waitForEvent("filechooser");
  await page.getByRole("button", { name: "Choose files" }).focus();
  await page.keyboard.press("Enter");
  await (await chooser).setFiles(
    file("places.csv", "Place,Name,Kind", "WH-KEY,Key store,warehouse", "WH-KEY2,Other store,warehouse"),
  );
  const grid = page.getByRole("grid", { name: "Rows of the preview" });
  await expect(grid).toBeVisible({ timeout: 30_000 });
  await grid.getByRole("row", { name: /WH-KEY2/ }).focus();
  await page.keyboard.press("Enter");
  await expect(page.getByRole("dialog")).toContainText("will be added");
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: "Discard" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Discard" }).click();
  await expect(page.getByText("This import was discarded")).toBeVisible();
});

test("a file that is too large is refused before it is sent, and again by the server", async ({
  page,
  asManager,
}) => {
  await asManager(page);
  await page.goto("/import");
  const opened = await page.request.post("/api/imports/none/files?name=big.csv", {
    data: Buffer.alloc(MAX_FILE_BYTES + 1, "a"),
    headers: { "content-type": "text/csv" },
  });
  expect(await opened.json()).toMatchObject({ ok: false, problems: [{ rule: "file-too-large" }] });
  const foreign = await page.request.post("/api/imports/none/files?name=a.csv", {
    data: "a",
    headers: { origin: "https://elsewhere.example" },
  });
  expect(foreign.status()).toBe(403);
  await page.getByLabel("File chooser").evaluate((input, bytes) => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([new Uint8Array(bytes)], "big.csv"));
    (input as HTMLInputElement).files = transfer.files;
    input.dispatchEvent(new Event("change", { bubbles: true }));
  }, MAX_FILE_BYTES + 1);
  await expect(page.getByText(/It was not sent/)).toBeVisible();
});

test("everything goes out, and only to those who plan", async ({ page, asManager, asCrewLead }) => {
  await asManager(page);
  for (const address of [
    "/export/sites?format=csv",
    "/export/crew-members?format=xlsx",
    "/export/programme.xlsx",
    "/export/template/stock?format=csv",
    "/export/template/programme.xlsx",
  ]) {
    const answer = await page.request.get(address);
    expect(answer.status(), address).toBe(200);
    expect(answer.headers()["content-disposition"], address).toContain("attachment");
  }
  expect((await page.request.get("/export/nothing")).status()).toBe(422);
  await page.context().clearCookies();
  expect((await page.request.get("/export/sites")).status()).toBe(401);
  await asCrewLead(page);
  expect((await page.request.get("/export/sites")).status()).toBe(403);
  expect((await page.request.post("/api/imports/none/files?name=a.csv", { data: "a" })).status()).toBe(403);
});
