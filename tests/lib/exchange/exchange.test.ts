import { describe, expect, it } from "vitest";
import { headerOf } from "@/lib/exchange/columns";
import { previewFiles } from "@/lib/exchange/exchange";
import { guessKind, kindNamed } from "@/lib/exchange/guess";
import { KIND_NAMES, kindOf } from "@/lib/exchange/kinds";
import { templateWorkbook } from "@/lib/exchange/template";
import { writeWorkbook } from "@/lib/exchange/write";
import { bytesOf, lines, workbook } from "./files";

const SITES = lines(
  "Site,Name,Elevation (m),Time zone,Structure,Structure height (m)",
  "KAR-1,Ridge,612,UTC,lattice,54",
  "KAR-2,Field,430,UTC,roof,18",
);
const HOPS = lines("Hop,Protection scheme,Band (GHz),Near site,Far site", "MW-1,1+0,18,KAR-1,KAR-2");

describe("guessKind", () => {
  it.each(KIND_NAMES)("knows %s by the name of a sheet or file", (kind) => {
    expect(kindNamed(kindOf(kind).title)).toBe(kind);
    expect(kindNamed(`2027-03 ${kind}.csv`)).toBe(kind);
  });

  it.each(KIND_NAMES)("knows %s by the header of its template", (kind) => {
    expect(guessKind({ fileName: "export.csv", header: kindOf(kind).columns.map(headerOf) })).toBe(kind);
  });

  it("believes the header when the name says something else", () => {
    const header = kindOf("antennas").columns.map(headerOf);
    expect(guessKind({ fileName: "antenna sites.csv", header })).toBe("antennas");
    expect(guessKind({ fileName: "hops.csv", header: ["Hop", "Weight"] })).toBe("hops");
  });

  it("asks when a header says too little", () => {
    expect(guessKind({ fileName: "list.csv", header: ["Name", "Value"] })).toBeUndefined();
  });
});

describe("previewFiles", () => {
  it("takes files from bytes to one preview, whatever their order", async () => {
    const result = await previewFiles(
      [
        { fileName: "hops.csv", source: HOPS },
        { fileName: "sites.csv", source: SITES },
      ],
      {},
    );
    expect(result.bundle.problems).toEqual([]);
    expect(result.bundle.totals.new).toBe(3);
    expect(result.matchings.map((m) => m.matching.kind)).toEqual(["hops", "sites"]);
  });

  it("takes a whole programme from one workbook and skips sheets of notes", async () => {
    const bytes = await workbook((wb) => {
      wb.addWorksheet("Read me").addRows([
        ["Made for", "somebody", "somebody"],
        ["on", "a day"],
      ]);
      wb.addWorksheet("Hops").addRows([
        ["Hop", "Protection scheme", "Band (GHz)", "Near site", "Far site"],
        ["MW-1", "1+0", 18, "KAR-1", "KAR-2"],
      ]);
      wb.addWorksheet("Sites").addRows([
        ["Site", "Name", "Elevation (m)", "Time zone", "Structure", "Structure height (m)"],
        ["KAR-1", "Ridge", 612, "UTC", "lattice", 54],
        ["KAR-2", "Field", 430, "UTC", "roof", 18],
      ]);
      wb.addWorksheet("Gates").addRow(["Hop", "Gate", "State"]);
    });
    const result = await previewFiles([{ fileName: "programme.xlsx", source: bytes }], {});
    expect(result.bundle.problems).toEqual([]);
    expect(result.bundle.files.map((f) => [f.sheet, f.totals.new])).toEqual([
      ["Hops", 1],
      ["Sites", 2],
    ]);
    expect(result.skippedSheets).toEqual([{ fileName: "programme.xlsx", sheet: "Read me" }]);
  });

  it("reads back what writeWorkbook wrote, sheet by sheet", async () => {
    const first = await previewFiles(
      [
        { fileName: "s.csv", kind: "sites", source: SITES },
        { fileName: "h.csv", kind: "hops", source: HOPS },
      ],
      {},
    );
    const rows = (i: number) => first.bundle.files[i]!.rows.map((r) => r.value!);
    const bytes = await writeWorkbook([
      { kind: "hops", rows: rows(1) },
      { kind: "sites", rows: rows(0) },
    ]);
    const existing = {
      sites: new Map(first.bundle.files[0]!.rows.map((r) => [r.key!, r.value!])),
      hops: new Map(first.bundle.files[1]!.rows.map((r) => [r.key!, r.value!])),
    } as never;
    const again = await previewFiles([{ fileName: "programme.xlsx", source: bytes }], existing);
    expect(again.bundle.totals).toEqual({ new: 0, changed: 0, same: 3, refused: 0, notInFile: 0 });
  });

  it("finds nothing to import in an unfilled template, and says so", async () => {
    const result = await previewFiles(
      [{ fileName: "template.xlsx", source: await templateWorkbook(["sites", "hops"]) }],
      {},
    );
    expect(result.bundle.totals).toEqual({ new: 0, changed: 0, same: 0, refused: 0, notInFile: 0 });
    expect(result.bundle.files.flatMap((f) => f.notices)).toEqual([
      "1 example row of the template left out.",
      "1 example row of the template left out.",
    ]);
    expect(result.skippedSheets).toEqual([{ fileName: "template.xlsx", sheet: "Columns" }]);
  });

  it("lets a file that cannot be read stop no other", async () => {
    const result = await previewFiles(
      [
        { fileName: "empty.csv", source: new Uint8Array() },
        {
          fileName: "big.csv",
          source: { size: 100 * 1024 * 1024, arrayBuffer: async () => new ArrayBuffer(0) },
        },
        { fileName: "list.csv", source: lines("Name,Value", "a,b") },
        { fileName: "sites.csv", source: SITES },
        { fileName: "gates.csv", source: lines("Gate,State", "survey,met") },
      ],
      {},
    );
    expect(result.bundle.problems.map((p) => [p.fileName, p.rule])).toEqual([
      ["empty.csv", "file-empty"],
      ["big.csv", "file-too-large"],
      ["list.csv", "kind-unknown"],
      ["gates.csv", "key-column-missing"],
    ]);
    expect(result.bundle.totals.new).toBe(2);
    // What the table comes nearest to, so that a person need not guess.
    const [unclear] = (await previewFiles([{ fileName: "list.csv", source: lines("Hop,Value", "a,b") }], {}))
      .bundle.problems;
    expect(unclear!.message).toMatch(/comes nearest to .+, and lacks .+\./);
  });

  it("follows a person's choice of kind, columns, constants and answers", async () => {
    const result = await previewFiles(
      [
        {
          fileName: "liste.csv",
          source: bytesOf("Verbindung;Gewicht\nMW-1;1.500\n"),
          kind: "hops",
          choices: [
            { index: 0, key: "code" },
            { index: 1, key: "weight" },
          ],
          constants: { scheme: "1+0", bandGhz: "18" },
          options: { decimalMark: "point" },
        },
      ],
      {},
    );
    expect(result.bundle.files[0]!.rows[0]!.value).toEqual({
      code: "MW-1",
      scheme: "1+0",
      bandGhz: 18,
      weight: 1.5,
      alignment: "both ends at once",
      acceptance: "with the alignment",
    });
  });

  it("chooses the sheet of the kind that was named, else the first", async () => {
    const bytes = await workbook((wb) => {
      wb.addWorksheet("Anything").addRows([
        ["Hop", "Weight"],
        ["first", 1],
      ]);
      wb.addWorksheet("Hops").addRows([
        ["Hop", "Weight"],
        ["titled", 1],
      ]);
    });
    const keyOfFirst = async (options: object) =>
      (await previewFiles([{ fileName: "t.xlsx", source: bytes, ...options }], {})).bundle.files[0]!.rows[0]!
        .key;
    expect(await keyOfFirst({ kind: "hops" })).toBe("titled");
    expect(await keyOfFirst({ kind: "hops", sheet: "Anything" })).toBe("first");
    expect(await keyOfFirst({ kind: "sites", choices: [{ index: 0, key: "code" }] })).toBe("first");
  });

  it("reads weather beside the rest and drops hours of places that nobody knows", async () => {
    const result = await previewFiles(
      [
        {
          fileName: "weather.csv",
          source: lines(
            "Weather place,Hour starts (UTC),Wind (m/s)",
            "WX-1,2026-01-01T00:00Z,5",
            "WX-9,2026-01-01T00:00Z,5",
          ),
        },
        {
          fileName: "weather places.csv",
          source: lines("Weather place,Name,Latitude,Longitude,Elevation (m)", "WX-1,Ridge,47.1,8.2,500"),
        },
      ],
      {},
    );
    expect(result.weather.map((w) => w.blocks.map((b) => b.placeCode))).toEqual([["WX-1"]]);
    expect(result.bundle.problems).toMatchObject([
      {
        rule: "reference-unknown",
        value: "WX-9",
        remedy: 'Did you mean "WX-1"? Otherwise import the weather places first, or in the same import.',
      },
    ]);
  });
});
