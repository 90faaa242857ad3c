/** Stock and kits in German: every page on a phone, and a count that is begun, made and handed in. */
import { expect, test } from "./harness";
import { chooseGerman, expectGerman } from "./languageWalk";

test.use({ viewport: { width: 390, height: 844 }, purpose: "stock and kits in German" });
test.setTimeout(400_000);

/** Names of the demonstration: items, places, suppliers, what somebody wrote. */
const NAMES = [
  /\b(connector|gland|grip|hanger|kit) for \d/,
  /cap for hoisting|antenna from \d|mount, \d+ to \d+ mm/,
  /Vehicle of crew|Hold at /,
  /^Verschrottet: /,
  /Marrow and Pike|moved it by five weeks|does not answer on/,
];

const PAGES: readonly [path: string, heading: string][] = [
  ["/kits", "Material"],
  ["/kits?show=issued", "Material"],
  ["/stock", "Lager"],
  ["/stock?tab=transfers", "Lager"],
  ["/stock?tab=order", "Lager"],
  ["/stock?tab=on-hand", "Lager"],
  ["/stock?tab=orders", "Lager"],
  ["/stock?tab=drums", "Lager"],
  ["/stock?tab=ledger", "Lager"],
  ["/stock/scan", "Scannen"],
  ["/stock/labels", "Etiketten"],
  ["/stock/close-out", "Abschluss"],
  ["/stock/offcuts", "Kabelreste"],
  ["/stock/counts", "Zählungen"],
  ["/stock/spares", "Ersatzgeräte"],
  ["/stock/faults", "Fehlerhafte Teile"],
  ["/stock/record", "Bewegung buchen"],
];

test("pages of stock and kits are German on a phone", async ({ page, asAdministrator, server }) => {
  await asAdministrator(page);
  await chooseGerman(page, server.url);
  for (const [path, heading] of PAGES) await expectGerman(page, { path, heading, data: NAMES });
});

/** The first page of a list that a link on `from` leads to. */
const FIRSTS: readonly [from: string, link: string, heading: RegExp][] = [
  ["/kits", "/kits/", /^Material .+ (nahe|ferne) Seite$/],
  ["/stock", "/stock/items/", /^[A-Z0-9-]+$/],
  ["/stock?tab=orders", "/stock/orders/", /^PO-/],
  ["/stock/faults", "/stock/faults/", /^Fehler \d+: /],
];

test("a kit, an item, an order and a faulty piece are German", async ({ page, asAdministrator, server }) => {
  await asAdministrator(page);
  await chooseGerman(page, server.url);
  for (const [from, link, heading] of FIRSTS) {
    await page.goto(from);
    const path = await page.locator(`main a[href^="${link}"]`).first().getAttribute("href");
    await expectGerman(page, { path: path!, heading, data: NAMES });
    if (link === "/kits/") {
      await expectGerman(page, { path: `${path}?view=sheet`, heading, data: NAMES });
      await expect(page.getByRole("heading", { name: /^Pickliste / })).toBeVisible();
      // Amounts take the language's word and decimal comma.
      await expect(page.getByText(/^\d+(,\d+)?\s(Stück|Rollen?)$/).first()).toBeVisible();
    }
  }
});

test("a count is begun and cancelled in German, and what is refused says what to do", async ({
  page,
  asLogistics,
  server,
}) => {
  await asLogistics(page);
  await chooseGerman(page, server.url);
  await page.goto("/stock/counts");
  await page.getByRole("button", { name: "Zählung beginnen" }).click();
  await expect(page.getByRole("heading", { level: 1, name: /^Zählung \d+ von / })).toBeVisible();
  await expectGerman(page, {
    path: new URL(page.url()).pathname,
    heading: /^Zählung \d+ von /,
    data: NAMES,
  });
  await page.getByRole("button", { name: "Abgeben" }).click();
  await expect(page.getByText(/^(1 Zeile ist|\d+ Zeilen sind) noch nicht gezählt\.$/)).toBeVisible();
  await expect(page.getByText(/Eintragen, was dort liegt, oder 0 für das, was fehlt\./)).toBeVisible();
  await page.getByRole("button", { name: "Zählung absagen" }).click();
  const dialog = page.getByRole("dialog", { name: /^Zählung \d+ absagen\?$/ });
  await dialog.getByRole("textbox", { name: "Warum" }).fill("falscher Ort");
  await dialog.getByRole("button", { name: "Zählung absagen" }).click();
  await expect(page.getByText(/^Zählung \d+ abgesagt/)).toBeVisible();
});
