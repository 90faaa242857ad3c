import { describe, expect, it } from "vitest";
import { fileSizeProblem, MAX_FILE_BYTES } from "@/lib/exchange/problems";
import { readTable, readTables } from "@/lib/exchange/readTable";
import { bytesOf, lines, refusalOf, tableOf, workbook, zip } from "./files";

const utf16le = (text: string, hasMark: boolean) =>
  new Uint8Array(Buffer.from(`${hasMark ? "\uFEFF" : ""}${text}`, "utf16le"));

describe("text files", () => {
  const text = "Site;Höhe\r\nZÜ-1;54,5\r\nZÜ-2;30\r\n";
  const expected = [
    { rowNumber: 2, cells: ["ZÜ-1", "54,5"] },
    { rowNumber: 3, cells: ["ZÜ-2", "30"] },
  ];

  it.each([
    ["UTF-8 without a mark", bytesOf(text), "utf-8"],
    ["UTF-8 with a mark", bytesOf(`\uFEFF${text}`), "utf-8"],
    ["UTF-16 with a mark", utf16le(text, true), "utf-16le"],
    ["UTF-16 without a mark", utf16le(text, false), "utf-16le"],
    ["UTF-16 big endian", new Uint8Array(Buffer.from(`\uFEFF${text}`, "utf16le").swap16()), "utf-16be"],
    ["Windows-1252", new Uint8Array(Buffer.from(text, "latin1")), "windows-1252"],
  ])("in %s give the same table", async (_, bytes, encoding) => {
    const table = await tableOf(bytes);
    expect(table).toMatchObject({
      source: "csv",
      encoding,
      separator: ";",
      headerRow: 1,
      header: ["Site", "Höhe"],
    });
    expect(table.rows).toEqual(expected);
  });

  it("say that Windows-1252 was assumed", async () => {
    const table = await tableOf(new Uint8Array(Buffer.from(text, "latin1")));
    expect(table.notices.join()).toMatch(/Windows-1252/);
    expect((await tableOf(bytesOf(text))).notices).toEqual([]);
  });

  it("keep row numbers over blank rows and quoted line breaks, as a spreadsheet counts them", async () => {
    const table = await tableOf(lines("Site,Name", "", 'A,"two', 'lines"', ",", "B,b"));
    expect(table.rows.map((r) => r.rowNumber)).toEqual([3, 5]);
  });

  it("may have a header further down", async () => {
    const result = await readTable("t.csv", lines("# station 7", "Site,Name", "A,a"), { headerRow: 2 });
    expect(result).toMatchObject({ ok: true, value: { headerRow: 2, header: ["Site", "Name"] } });
    const blank = await readTable("t.csv", lines("Site", "A"), { headerRow: 9 });
    expect(blank).toMatchObject({ ok: false, problems: [{ rule: "header-row-blank" }] });
  });

  it("may state their separator", async () => {
    expect((await tableOf(lines("sep=;", "Site;Name", "A;a"))).rows).toEqual([
      { rowNumber: 3, cells: ["A", "a"] },
    ]);
  });
});

describe("files that are refused", () => {
  it.each([
    ["nothing at all", new Uint8Array(), "file-empty"],
    ["a mark only", bytesOf("\uFEFF"), "file-empty"],
    ["blank lines only", bytesOf("\r\n \r\n,,\r\n"), "file-empty"],
    ["a header only", lines("Site,Name"), "file-header-only"],
    ["a header and blank rows", lines("Site,Name", ",", ""), "file-header-only"],
    ["two columns of one name", lines("Site,Name,site", "A,a,b"), "header-duplicate"],
    ["a quote that is never closed", lines("Site,Name", 'A,"a'), "quote-not-closed"],
    ["a document", bytesOf("%PDF-1.7 ..."), "file-not-a-table"],
    [
      "an old workbook",
      new Uint8Array([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]),
      "file-old-workbook",
    ],
    ["a broken workbook", new Uint8Array([0x50, 0x4b, 3, 4, 1, 2, 3]), "workbook-damaged"],
    ["binary data", new Uint8Array(Array.from({ length: 300 }, (_, i) => (i * 7) % 256)), "file-not-a-table"],
    ["25 MB of separators", new Uint8Array(25 * 1024 * 1024).fill(0x2c), "too-many-columns"],
    ["25 MB of line breaks", new Uint8Array(25 * 1024 * 1024).fill(0x0a), "too-many-rows"],
    ["301 columns", lines(Array.from({ length: 301 }, (_, i) => `c${i}`).join(","), "a"), "too-many-columns"],
  ])("%s", async (_, bytes, rule) => {
    expect(await refusalOf(bytes)).toEqual([rule]);
  });

  it("name both columns of a doubled header, the row of a broken quote, and a remedy", async () => {
    const doubled = await readTable("sites.csv", lines("Site,Name,site", "A,a,b"));
    if (doubled.ok) throw new Error("expected a refusal");
    expect(doubled.problems[0]).toMatchObject({ fileName: "sites.csv", row: 1, column: "site" });
    expect(doubled.problems[0]!.message).toBe('Columns 1 and 3 are both named "site".');
    const broken = await readTable("sites.csv", lines("Site,Name", "A,a", 'B,"b'));
    if (broken.ok) throw new Error("expected a refusal");
    expect(broken.problems[0]!.path).toBe("sites.csv, row 3");
    for (const p of [...doubled.problems, ...broken.problems]) expect(p.remedy.length).toBeGreaterThan(10);
  });

  it("100 MB, before a byte is read, with size, limit and remedy", async () => {
    let wasRead = false;
    const file = {
      size: 100 * 1024 * 1024,
      async arrayBuffer(): Promise<ArrayBuffer> {
        wasRead = true;
        return new ArrayBuffer(0);
      },
    };
    const result = await readTable("big.csv", file);
    expect(wasRead).toBe(false);
    if (result.ok) throw new Error("expected a refusal");
    expect(result.problems).toHaveLength(1);
    expect(result.problems[0]).toMatchObject({
      rule: "file-too-large",
      value: 104_857_600,
      fileName: "big.csv",
    });
    expect(result.problems[0]!.message).toBe("The file has 100.0 MB; at most 25.0 MB can be read.");
    expect(result.problems[0]!.remedy).toMatch(/Split it/);
    expect(fileSizeProblem("big.csv", file.size)).toEqual(result.problems[0]);
    expect(fileSizeProblem("ok.csv", MAX_FILE_BYTES)).toBeUndefined();
  });

  it("100 MB of bytes in hand, and a file that is larger than it says", async () => {
    expect(await refusalOf(new Uint8Array(100 * 1024 * 1024))).toEqual(["file-too-large"]);
    const liar = { size: 10, arrayBuffer: async () => new ArrayBuffer(MAX_FILE_BYTES + 1) };
    expect(await readTable("liar.csv", liar)).toMatchObject({
      ok: false,
      problems: [{ rule: "file-too-large" }],
    });
  });
});

describe("workbooks", () => {
  it("give numbers, booleans, dates, formula results and rich text as plain cells", async () => {
    const bytes = await workbook((wb) => {
      const ws = wb.addWorksheet("Sites");
      ws.addRow(["Site", "Height", "Bar", "Date", "Sum", "Rich", "Error", "Open", "Link"]);
      ws.addRow(["A", 54.5, true, new Date(Date.UTC(2027, 2, 1))]);
      ws.getCell("E2").value = { formula: "1+1", result: 2 };
      ws.getCell("F2").value = { richText: [{ text: "two " }, { text: "parts" }] };
      ws.getCell("G2").value = { error: "#N/A" };
      ws.getCell("H2").value = { formula: "1+1" } as never;
      ws.getCell("I2").value = { text: "shown", hyperlink: "https://example.org" };
      ws.getCell("A5").value = "B";
    });
    const table = await tableOf(bytes, "t.xlsx");
    expect(table).toMatchObject({ source: "xlsx", sheet: "Sites" });
    expect(table.rows.map((r) => r.rowNumber)).toEqual([2, 5]);
    const [first] = table.rows;
    expect(first!.cells.slice(0, 6)).toEqual([
      "A",
      54.5,
      true,
      new Date(Date.UTC(2027, 2, 1)),
      2,
      "two parts",
    ]);
    expect(first!.cells[6]).toMatchObject({ fault: "the cell shows #N/A" });
    expect(first!.cells[7]).toMatchObject({ fault: "the cell holds a formula without a stored result" });
    expect(first!.cells[8]).toBe("shown");
  });

  it("are known by their bytes, whatever the file is called", async () => {
    const bytes = await workbook((wb) => void wb.addWorksheet("x").addRows([["Site"], ["A"]]));
    expect((await tableOf(bytes, "export.csv")).source).toBe("xlsx");
  });

  it("are read from the first sheet or a named one; an unknown name lists those there are", async () => {
    const bytes = await workbook((wb) => {
      wb.addWorksheet("Notes").addRows([["Read me"], ["first"]]);
      wb.addWorksheet("Hops").addRows([["Hop"], ["MW-1"]]);
    });
    expect((await tableOf(bytes, "t.xlsx")).header).toEqual(["Read me"]);
    expect((await tableOf(bytes, "t.xlsx", "hops")).header).toEqual(["Hop"]);
    const unknown = await readTable("t.xlsx", bytes, { sheet: "Sites" });
    if (unknown.ok) throw new Error("expected a refusal");
    expect(unknown.problems[0]!.remedy).toBe("Choose one of: Notes, Hops.");
    const all = await readTables("t.xlsx", bytes);
    expect(all.ok && all.value.map((s) => s.sheet)).toEqual(["Notes", "Hops"]);
  });

  it("without rows are empty", async () => {
    expect(await refusalOf(await workbook((wb) => void wb.addWorksheet("x")), "t.xlsx")).toEqual([
      "file-empty",
    ]);
  });

  it("of other programs are read with text inside the cells; a namespace prefix is refused with a remedy", async () => {
    expect((await tableOf(plainWorkbook(""), "t.xlsx")).rows).toEqual([
      { rowNumber: 2, cells: ["MW-1", 2.5] },
    ]);
    const prefixed = await readTable("t.xlsx", plainWorkbook("x:"));
    expect(prefixed).toMatchObject({ ok: false, problems: [{ rule: "workbook-damaged" }] });
  });

  it("count days from 1904 when they say so", async () => {
    const bytes = await workbook((wb) => {
      wb.properties.date1904 = true;
      wb.addWorksheet("Hops").addRows([["Date"], [new Date(Date.UTC(2027, 2, 1))]]);
    });
    expect((await tableOf(bytes, "t.xlsx")).rows[0]!.cells).toEqual([new Date(Date.UTC(2027, 2, 1))]);
  });

  it("with drop-downs and merges over whole columns are read without unrolling them", async () => {
    const bytes = await workbook((wb) => {
      const ws = wb.addWorksheet("Sites");
      ws.addRows([
        ["Site", "Structure"],
        ["A", "roof"],
      ]);
      (ws as unknown as { dataValidations: { add(range: string, rule: object): void } }).dataValidations.add(
        "B2:B1048576",
        { type: "list", allowBlank: true, formulae: ['"roof,mast"'] },
      );
    });
    expect((await tableOf(bytes, "t.xlsx")).rows).toEqual([{ rowNumber: 2, cells: ["A", "roof"] }]);
  });

  it("that grow without end when unpacked are refused, though their directory says they are small", async () => {
    const huge = new Uint8Array(260 * 1024 * 1024);
    const bytes = zip([
      { name: "xl/workbook.xml", content: bytesOf("<workbook/>") },
      { name: "xl/worksheets/sheet1.xml", content: huge },
    ]);
    expect(bytes.length).toBeLessThan(1024 * 1024);
    expect(await refusalOf(bytes, "t.xlsx")).toEqual(["workbook-too-large"]);
  });

  it("with more than half a million cells are refused before they are built", async () => {
    const cells = bytesOf(`<sheetData><row>${'<c r="A1"/>'.repeat(500_001)}</row></sheetData>`);
    const bytes = zip([
      { name: "xl/workbook.xml", content: bytesOf("<workbook/>") },
      { name: "xl/worksheets/sheet1.xml", content: cells },
    ]);
    expect(await refusalOf(bytes, "t.xlsx")).toEqual(["workbook-too-many-cells"]);
  });

  it("with a password, and zip archives of other things, are refused", async () => {
    const part = { name: "xl/workbook.xml", content: bytesOf("<workbook/>") };
    expect(await refusalOf(zip([{ ...part, flags: 1 }]), "t.xlsx")).toEqual(["workbook-protected"]);
    expect(await refusalOf(zip([{ name: "photo.txt", content: bytesOf("x") }]), "t.xlsx")).toEqual([
      "workbook-damaged",
    ]);
    expect(await refusalOf(zip([{ ...part, content: bytesOf("<workbook") }]), "t.xlsx")).toEqual([
      "workbook-damaged",
    ]);
  });
});

/** The least that makes a workbook, as a program would write it without a library. */
function plainWorkbook(prefix: string): Uint8Array {
  const xml = (text: string) =>
    bytesOf(
      text
        .replaceAll("<@", `<${prefix}`)
        .replaceAll("</@", `</${prefix}`)
        .replaceAll("xmlns=", prefix ? "xmlns:x=" : "xmlns="),
    );
  const relations = (type: string, target: string) =>
    bytesOf(
      `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/${type}" Target="${target}"/></Relationships>`,
    );
  const main = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
  const links = 'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"';
  const cell = (ref: string, text: string) => `<@c r="${ref}" t="inlineStr"><@is><@t>${text}</@t></@is></@c>`;
  return zip(
    [
      { name: "_rels/.rels", content: relations("officeDocument", "xl/workbook.xml") },
      { name: "xl/_rels/workbook.xml.rels", content: relations("worksheet", "worksheets/sheet1.xml") },
      {
        name: "xl/workbook.xml",
        content: xml(
          `<@workbook ${main} ${links}><@sheets><@sheet name="Data" sheetId="1" r:id="rId1"/></@sheets></@workbook>`,
        ),
      },
      {
        name: "xl/worksheets/sheet1.xml",
        content: xml(
          `<@worksheet ${main}><@sheetData><@row r="1">${cell("A1", "Hop")}<@c r="B1" t="str"><@v>Weight</@v></@c></@row><@row r="2">${cell("A2", "MW-1")}<@c r="B2"><@v>2.5</@v></@c></@row></@sheetData></@worksheet>`,
        ),
      },
    ],
    true,
  );
}
