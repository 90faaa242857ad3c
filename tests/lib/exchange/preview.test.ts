import { describe, expect, it } from "vitest";
import { previewImport } from "@/lib/exchange/preview";
import type { GateRow, HopRow, SiteRow, StockRow } from "@/lib/exchange/rows";
import type { ExistingRows } from "@/lib/exchange/types";
import { USUAL_PROCEDURES } from "../../helpers/hop";
import { lines, parsedOf } from "./files";

const hop = (code: string, rest: Partial<HopRow> = {}): HopRow => ({
  code,
  scheme: "1+0",
  bandGhz: 18,
  nearSiteCode: "KAR-014",
  farSiteCode: "KAR-022",
  weight: 1,
  ...USUAL_PROCEDURES,
  ...rest,
});
const known = (...codes: string[]) => new Map(codes.map((c) => [c, { code: c } as SiteRow]));
const sites: ExistingRows = { sites: known("KAR-014", "KAR-022", "KAR-030") };
const standing = (...rows: HopRow[]) => new Map(rows.map((r) => [r.code, r]));
const HEADER = "Hop,Protection scheme,Band (GHz),Near site,Far site,Promise date,Weight";

async function preview(existing: Map<string, HopRow>, ...rows: string[]) {
  return previewImport(await parsedOf("hops", lines(HEADER, ...rows)), existing, sites);
}

describe("previewImport", () => {
  it("says for each row whether it is new, changed, the same or refused", async () => {
    const p = await preview(
      standing(hop("MW-1"), hop("MW-2", { promisedOn: "2027-01-31" as never }), hop("MW-9")),
      "MW-1,1+0,18,KAR-014,KAR-022,,1",
      "MW-2,1+1,18,KAR-014,KAR-022,2027-02-28,1",
      "MW-3,1+0,23,KAR-014,KAR-030,,",
      "MW-4,1+0,wide,KAR-014,KAR-030,,",
    );
    expect(p.rows.map((r) => [r.rowNumber, r.key, r.fate])).toEqual([
      [2, "MW-1", "same"],
      [3, "MW-2", "changed"],
      [4, "MW-3", "new"],
      [5, "MW-4", "refused"],
    ]);
    expect(p.rows[1]!.changes).toEqual([
      { key: "scheme", label: "Protection scheme", from: "1+0", to: "1+1 hot standby" },
      { key: "promisedOn", label: "Promise date", from: "2027-01-31", to: "2027-02-28" },
    ]);
    expect(p.rows[2]!.value).toEqual(hop("MW-3", { bandGhz: 23, farSiteCode: "KAR-030" }));
    expect(p.totals).toEqual({ new: 1, changed: 1, same: 1, refused: 1, notInFile: 1 });
  });

  it("keeps what the file has no column for, and clears what it has a blank cell for", async () => {
    const existing = standing(hop("MW-1", { promisedOn: "2027-01-31" as never, weight: 3 }));
    const partial = await previewImport(
      await parsedOf("hops", lines("Hop,Weight", "MW-1,4")),
      existing,
      sites,
    );
    expect(partial.rows[0]).toMatchObject({
      fate: "changed",
      value: { promisedOn: "2027-01-31", weight: 4, scheme: "1+0" },
    });
    const blank = await previewImport(
      await parsedOf("hops", lines("Hop,Promise date,Weight", "MW-1,,")),
      existing,
      sites,
    );
    expect(blank.rows[0]!.changes).toEqual([
      { key: "promisedOn", label: "Promise date", from: "2027-01-31", to: "" },
      { key: "weight", label: "Weight", from: "3", to: "1" },
    ]);
    expect(blank.rows[0]!.value).not.toHaveProperty("promisedOn");
  });

  it("refuses a new row that lacks needed columns, each by name", async () => {
    const p = await previewImport(await parsedOf("hops", lines("Hop,Weight", "MW-1,4")), new Map(), sites);
    expect(p.rows[0]!.problems.map((x) => [x.rule, x.column])).toEqual([
      ["required", "Protection scheme"],
      ["required", "Band"],
    ]);
  });

  it("names an unknown reference and the code it may have meant", async () => {
    const p = await preview(new Map(), "MW-1,1+0,18,KAR-41,KAR-O22,,", "MW-2,1+0,18,kar 014,NOWHERE,,");
    expect(p.rows.map((r) => r.problems.map((x) => [x.rule, x.value, x.remedy]))).toEqual([
      [
        [
          "reference-unknown",
          "KAR-41",
          'Did you mean "KAR-014"? Otherwise import it first, or in the same import.',
        ],
        [
          "reference-unknown",
          "KAR-O22",
          'Did you mean "KAR-022"? Otherwise import it first, or in the same import.',
        ],
      ],
      [
        [
          "reference-unknown",
          "kar 014",
          'Did you mean "KAR-014"? Otherwise import it first, or in the same import.',
        ],
        [
          "reference-unknown",
          "NOWHERE",
          "Correct the code, or import the sites first or together with this file.",
        ],
      ],
    ]);
  });

  it("allows a site that is not known yet to stay blank", async () => {
    const p = await preview(new Map(), "MW-1,1+0,18,KAR-014,,,");
    expect(p.rows[0]).toMatchObject({ fate: "new" });
    expect(p.rows[0]!.value).not.toHaveProperty("farSiteCode");
  });

  it("refuses to clear a site that ends hang on", async () => {
    const p = await preview(standing(hop("MW-1")), "MW-1,1+0,18,KAR-014,,,");
    expect(p.rows[0]!.problems.map((x) => [x.rule, x.column])).toEqual([["cannot-be-cleared", "Far site"]]);
  });

  it("refuses a new code that differs from a standing one only in case, and two such in one file", async () => {
    const p = await preview(
      standing(hop("MW-1")),
      "mw-1,1+0,18,KAR-014,KAR-022,,",
      "New,1+0,18,,,,",
      "NEW,1+0,18,,,,",
    );
    expect(p.rows.map((r) => r.problems.map((x) => x.rule))).toEqual([
      ["key-differs-in-case"],
      ["duplicate-key"],
      ["duplicate-key"],
    ]);
  });

  it("applies rules over a whole row", async () => {
    const p = await preview(new Map(), "MW-1,1+0,18,KAR-014,KAR-014,,");
    expect(p.rows[0]!.problems[0]).toMatchObject({ rule: "hop-to-itself", column: "Far site" });
    const gates = await previewImport(
      await parsedOf(
        "gates",
        lines("Hop,Gate,State,Due on", "MW-1,survey,dated,", "MW-1,supply,dated,2027-01-05"),
      ),
      new Map<string, GateRow>(),
      { hops: standing(hop("MW-1")) },
    );
    expect(gates.rows.map((r) => r.problems.map((x) => x.rule))).toEqual([["dated-gate-without-date"], []]);
  });

  it("lets a standing row that breaks a newer rule pass as long as nothing of it changes", async () => {
    const old = hop("MW-1", { farSiteCode: "KAR-014" });
    const same = await preview(standing(old), "MW-1,1+0,18,KAR-014,KAR-014,,1");
    expect(same.rows[0]!.fate).toBe("same");
    const touched = await preview(standing(old), "MW-1,1+0,18,KAR-014,KAR-014,,2");
    expect(touched.rows[0]).toMatchObject({ fate: "refused", problems: [{ rule: "hop-to-itself" }] });
  });

  it("reports progress over the rows", async () => {
    const parsed = await parsedOf(
      "hops",
      lines(HEADER, ...Array.from({ length: 1200 }, (_, i) => `MW-${i},1+0,18,KAR-014,KAR-022,,`)),
    );
    const seen: number[] = [];
    await previewImport(parsed, new Map(), sites, { onProgress: ({ done }) => void seen.push(done) });
    expect(seen).toEqual([500, 1000, 1200]);
  });
});

describe("stock previews", () => {
  const references: ExistingRows = {
    items: new Map([
      ["CX", {}],
      ["TAPE", {}],
      ["LUG", {}],
    ]) as never,
    places: new Map([["WH", {}]]) as never,
    sites: known("KAR-014"),
  };
  const header = "Item,Place,Owner,Lot,Expires on,Drum,Drum received (m),Drum remaining (m),Quantity";
  const stock = async (existing: StockRow[], ...rows: string[]) => {
    const { keyOf } = await import("@/lib/exchange/keys");
    const map = new Map(existing.map((r) => [keyOf("stock", r), r]));
    const p = await previewImport(await parsedOf("stock", lines(header, ...rows)), map, references);
    return p.rows.map((r) => (r.fate === "refused" ? r.problems.map((x) => x.rule) : r.fate));
  };

  it("take the remaining metres of a drum for its quantity", async () => {
    const p = await previewImport(
      await parsedOf("stock", lines(header, "CX,WH,,,,D-1,500,312.5,")),
      new Map(),
      references,
    );
    expect(p.rows[0]!.value).toEqual({
      itemCode: "CX",
      placeCode: "WH",
      owner: "contractor",
      drumSerial: "D-1",
      receivedM: 500,
      remainingM: 312.5,
      quantity: 312.5,
    });
  });

  it("refuse drums that do not add up and quantities finer than hundredths", async () => {
    expect(
      await stock(
        [],
        "CX,WH,,,,D-1,500,,7",
        "CX,WH,,,,,500,300,",
        "CX,WH,,,,D-3,500,300,200",
        "CX,WH,,,,D-4,500,501,",
        "LUG,WH,,,,,,,0.125",
        "LUG,KAR-014,,,,,,,5",
      ),
    ).toEqual([
      ["drum-without-remaining"],
      ["drum-without-serial"],
      ["drum-quantity-differs"],
      ["drum-longer-than-received"],
      ["finer-than-hundredths"],
      "new",
    ]);
  });

  it("name an unknown code beside a cell that cannot be read, so that one correction is enough", async () => {
    expect(
      await stock([], "NOPE,WH,,,30.02.2026,,,,5", "LUG,NOWHERE,,,,,,,five", "LUG,WH,,,,,,,five"),
    ).toEqual([
      [expect.any(String), "reference-unknown"],
      ["not-a-number", "reference-unknown"],
      ["not-a-number"],
    ]);
  });

  it("refuse a drum in two places, in the file or against what stands", async () => {
    expect(await stock([], "CX,WH,,,,D-1,,300,", "CX,KAR-014,,,,D-1,,300,")).toEqual([
      ["not-unique"],
      ["not-unique"],
    ]);
    const stands: StockRow = {
      itemCode: "CX",
      placeCode: "WH",
      owner: "contractor",
      drumSerial: "D-1",
      remainingM: 300,
      quantity: 300,
    };
    expect(await stock([stands], "CX,KAR-014,,,,D-1,,300,")).toEqual([["not-unique"]]);
    expect(await stock([stands], "CX,WH,,,,D-1,,250,")).toEqual(["changed"]);
  });

  it("refuse one lot with two expiry dates, and let it change in all its rows at once", async () => {
    const lot = (placeCode: string): StockRow => ({
      itemCode: "TAPE",
      placeCode,
      owner: "contractor",
      lotCode: "L1",
      expiresOn: "2027-06-30" as never,
      quantity: 4,
    });
    const stands = [lot("WH"), lot("KAR-014")];
    expect(await stock(stands, "TAPE,WH,,L1,2027-09-30,,,,4")).toEqual([["disagrees"]]);
    expect(await stock(stands, "TAPE,WH,,L1,2027-09-30,,,,4", "TAPE,KAR-014,,L1,2027-09-30,,,,4")).toEqual([
      "changed",
      "changed",
    ]);
    expect(await stock([], "TAPE,WH,,L2,2027-09-30,,,,4", "TAPE,KAR-014,,L2,,,,,4")).toEqual([
      ["disagrees"],
      ["disagrees"],
    ]);
  });
});

describe("ends and antennas", () => {
  const hops = standing(hop("MW-1"), hop("MW-2", { farSiteCode: undefined }));

  it("are refused on a site that is not the hop's, and at an end without a site", async () => {
    const file = lines("Hop,End,Site", "MW-1,near,KAR-014", "MW-1,far,KAR-014", "MW-2,near,", "MW-2,far,");
    const p = await previewImport(await parsedOf("ends", file), new Map(), { hops });
    expect(p.rows.map((r) => (r.fate === "refused" ? r.problems.map((x) => x.rule) : r.fate))).toEqual([
      "new",
      ["site-differs-from-hop"],
      "new",
      ["end-without-site"],
    ]);
    expect(p.rows[1]!.problems[0]!.message).toBe(
      'The far end of hop "MW-1" is on site "KAR-022", not "KAR-014".',
    );
  });

  it("never call the site a change: it is the hop's", async () => {
    const stands = {
      hopCode: "MW-1",
      side: "near" as const,
      siteCode: "OLD",
      worstSupplyV: 40.5,
      includesIduPower: false,
    };
    const p = await previewImport(
      await parsedOf("ends", lines("Hop,End,Site,Worst supply (V)", "MW-1,near,KAR-014,40.5")),
      new Map([["MW-1/near", stands]]),
      { hops },
    );
    expect(p.rows[0]).toMatchObject({ fate: "same", changes: [] });
  });
});
