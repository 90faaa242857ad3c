import { getDocumentProxy } from "unpdf";
import { expect, test } from "vitest";
import { tableDocument } from "@/app/_server/tableDocument";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import type { Language } from "@/app/_ui/language/languages";
import { makeWords } from "@/app/_ui/language/words";
import { orderDocument } from "@/app/(work)/stock/orders/[code]/orderDocument";
import type { OrderLineView, OrderView } from "@/db/queries/orderViews";
import type { Buyer } from "@/db/queries/settings";
import type { CalendarDate } from "@/lib/time";

const LONG =
  "Potentialausgleichsklemme für Erdungsleiter, öl- und seewasserbeständig, Größe 16 mm² bis 95 mm², " +
  "mit Schutzkappe, zwei Schrauben M8 und Sicherungsscheiben aus Edelstahl";

const lineOf = (lineNo: number, part: Partial<OrderLineView> = {}): OrderLineView => ({
  lineNo,
  itemCode: `ITEM-${String(lineNo).padStart(3, "0")}`,
  name: `Schelle Größe ${lineNo}`,
  unit: "piece",
  isCable: false,
  expires: false,
  takesSerials: false,
  multiple: 1,
  quantityC: lineNo * 100,
  receivedC: 0,
  dueOn: "2026-03-30" as CalendarDate,
  promisedOn: null,
  priceMinor: 125,
  currency: "EUR",
  isPriceAgreed: true,
  ...part,
});

/** 70 lines: 1 to 70 pieces at 1.25, but line 2 in metres at a price of thousands and line 3 with a long name. */
const ORDER: OrderView = {
  code: "PO-77",
  kind: "purchase",
  supplier: "Müßig & Söhne, Łódź",
  state: "approved",
  placeCode: "WH-WEST",
  placeName: "Lager West",
  createdAt: Date.UTC(2026, 2, 16, 8, 30),
  createdBy: "Jana Weiß",
  sentOn: null,
  note: "",
  lines: Array.from({ length: 70 }, (_, i) =>
    lineOf(
      i + 1,
      i === 1
        ? { unit: "m", quantityC: 123_450, priceMinor: 199, isPriceAgreed: false }
        : i === 2
          ? { name: LONG }
          : {},
    ),
  ),
};

/** The lines of each page as another reader of such files finds them, blanks made plain. */
async function pagesOf(order: OrderView, language: Language, buyer?: Buyer): Promise<string[][]> {
  const words = makeWords(language, wholeCatalogueOf(language));
  const bytes = await tableDocument(orderDocument(order, words, "UTC", Date.UTC(2026, 2, 16, 9), buyer));
  const file = await getDocumentProxy(new Uint8Array(bytes));
  const pages: string[][] = [];
  for (let no = 1; no <= file.numPages; no++) {
    const { items } = await (await file.getPage(no)).getTextContent();
    const byHeight = new Map<number, { x: number; text: string }[]>();
    for (const item of items) {
      if (!("str" in item) || item.str.trim() === "") continue;
      const [, , , , x, y] = item.transform as number[];
      const height = Math.round(y!);
      byHeight.set(height, [...(byHeight.get(height) ?? []), { x: x!, text: item.str }]);
    }
    pages.push(
      [...byHeight]
        .sort(([a], [b]) => b - a)
        .map(([, parts]) =>
          parts
            .sort((a, b) => a.x - b.x)
            .map((p) => p.text)
            .join(" ")
            .replace(/\s+/g, " ")
            .trim(),
        ),
    );
  }
  return pages;
}

const two = (minor: number): string => (minor / 100).toFixed(2);

test("an order over several pages holds every line with quantity, day, price and cost, and the total", async () => {
  const pages = await pagesOf(ORDER, "en");
  expect(pages.length).toBeGreaterThanOrEqual(2);
  const all = pages.flat();
  expect(all).toContain("1 ITEM-001 1 piece Mon 30 Mar 2026 €1.25 €1.25");
  expect(all).toContain("2 ITEM-002 1,234.5 m Mon 30 Mar 2026 €1.99 * €2,456.66");
  for (let no = 3; no <= 70; no++) {
    expect(all).toContain(
      `${no} ITEM-${String(no).padStart(3, "0")} ${no} pieces Mon 30 Mar 2026 €1.25 €${two(no * 125)}`,
    );
    if (no !== 3) expect(all).toContain(`Schelle Größe ${no}`);
  }
  // 1 and 3 to 70 make 2,483 pieces at 1.25, and the metres.
  expect(all).toContain("In all €5,560.41");
  expect(all).toContain("* catalogue price: none is agreed");
  expect(all).toContain("Not sent: this is a draft and orders nothing.");
});

test("every page has the order's number, the table's head and its own number", async () => {
  const pages = await pagesOf(ORDER, "en");
  for (const [i, page] of pages.entries()) {
    expect(page[0]).toBe("Purchase order PO-77");
    expect(page).toContain("Line Item Ordered Due Price Cost");
    expect(page.at(-1)).toBe(`PO-77, Mon 16 Mar 2026, 09:00 UTC Page ${i + 1} of ${pages.length}`);
  }
});

test("in German numbers, money, days and words are the language's, umlauts and the euro sign among them", async () => {
  const pages = await pagesOf(ORDER, "de");
  const all = pages.flat();
  expect(pages[0]![0]).toBe("Bestellung PO-77");
  expect(all).toContain("Lieferant Müßig & Söhne, Łódź");
  expect(all).toContain("2 ITEM-002 1.234,5 m Mo 30. März 2026 1,99 € * 2.456,66 €");
  expect(all).toContain("70 ITEM-070 70 Stück Mo 30. März 2026 1,25 € 87,50 €");
  expect(all).toContain("Insgesamt 5.560,41 €");
  expect(all.at(-1)).toContain(`Seite ${pages.length} von ${pages.length}`);
});

test("a long item name wraps inside its column and is whole", async () => {
  const all = (await pagesOf(ORDER, "de")).flat();
  const from = all.findIndex((l) => l.startsWith("3 ITEM-003"));
  const to = all.findIndex((l) => l.startsWith("4 ITEM-004"));
  expect(to - from).toBeGreaterThan(3);
  expect(all.slice(from + 1, to).join(" ")).toBe(LONG);
});

test("a call-off says no price: the material is the customer's", async () => {
  const all = (
    await pagesOf(
      { ...ORDER, code: "CO-5", kind: "call-off", state: "sent", sentOn: "2026-03-16" as CalendarDate },
      "en",
    )
  ).flat();
  expect(all[0]).toBe("Call-off CO-5");
  expect(all).toContain("70 ITEM-070 70 pieces Mon 30 Mar 2026");
  expect(all).toContain("Sent on Mon 16 Mar 2026");
  expect(all.join(" ")).not.toMatch(/€|In all|draft/);
});

interface Heard {
  role: string;
  children?: Heard[];
  type?: string;
  id?: string;
}

/** Parts in the order in which they are heard, with the texts of each. */
async function heardOf(
  order: OrderView,
): Promise<{ parts: { role: string; text: string }[]; loose: string[] }> {
  const words = makeWords("en", wholeCatalogueOf("en"));
  const bytes = await tableDocument(orderDocument(order, words, "UTC", Date.UTC(2026, 2, 16, 9)));
  const file = await getDocumentProxy(new Uint8Array(bytes));
  expect((await file.getMarkInfo())?.Marked).toBe(true);
  const parts: { role: string; text: string }[] = [];
  const loose: string[] = [];
  for (let no = 1; no <= file.numPages; no++) {
    const page = await file.getPage(no);
    const texts = new Map<string, string>();
    const open: (string | undefined)[] = [];
    const { items } = await page.getTextContent({ includeMarkedContent: true });
    for (const item of items) {
      if ("str" in item) {
        const at = open.at(-1);
        if (at === undefined && item.str.trim() !== "") loose.push(item.str);
        else if (at) texts.set(at, `${texts.get(at) ?? ""}${item.str}${item.hasEOL ? " " : ""}`);
      } else if (item.type === "endMarkedContent") open.pop();
      // "" = drawn for the eye only.
      else open.push(item.id ?? ("tag" in item && item.tag === "Artifact" ? "" : undefined));
    }
    const walk = (part: Heard): string => {
      if (part.type === "content") return (texts.get(part.id ?? "") ?? "").replace(/\s+/g, " ").trim();
      const at = parts.push({ role: part.role, text: "" }) - 1;
      const text = (part.children ?? []).map(walk).join("|");
      parts[at] = { role: part.role, text };
      return text;
    };
    walk((await page.getStructTree()) as Heard);
  }
  // The tree of a page names parts of other pages too, empty.
  return { parts: parts.filter((p) => /[^|]/.test(p.text)), loose };
}

test("a reader that speaks hears the heading, the facts as a list and the table once, with its heads", async () => {
  const { parts, loose } = await heardOf(ORDER);
  expect(loose).toEqual([]);
  const of = (role: string) => parts.filter((p) => p.role === role).map((p) => p.text);
  expect(of("H1")).toEqual(["Purchase order PO-77"]);
  expect(of("LI")).toContain("Supplier|Müßig & Söhne, Łódź");
  expect(of("TH")).toEqual(["Line", "Item", "Ordered", "Due", "Price", "Cost"]);
  // The head, and a row for each line, though the table goes over pages.
  expect(of("TR")).toHaveLength(71);
  expect(of("TR")[2]).toBe("2|ITEM-002 Schelle Größe 2|1,234.5 m|Mon 30 Mar 2026|€1.99 *|€2,456.66");
  expect(of("P")).toContain("In all €5,560.41");
  // Page numbers and heads on further pages are for the eye.
  expect(parts.some((p) => p.text.includes("Page 1"))).toBe(false);
});

test("an order says who orders and whom to ask, once somebody has written it", async () => {
  const buyer = { name: "Skerrow Link Works", address: "Quay Yard 4\n Aldermouth", contact: "stores desk" };
  const [first = []] = await pagesOf(ORDER, "en", buyer);
  const text = first.join(" ");
  expect(text).toContain("Ordered by Skerrow Link Works, Quay Yard 4, Aldermouth");
  expect(text).toContain("Contact stores desk");
  const [without = []] = await pagesOf(ORDER, "en");
  expect(without.join(" ")).not.toContain("Ordered by");
});
