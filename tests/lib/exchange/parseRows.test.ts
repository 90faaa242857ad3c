import { describe, expect, it } from "vitest";
import { applyMatching, matchColumns } from "@/lib/exchange/match";
import { parseRows } from "@/lib/exchange/parseRows";
import { bytesOf, lines, parsedOf, tableOf, workbook } from "./files";

const antennaHeader = "Hop,End,Antenna,Mount height (m),Diameter (m),Polarisation,Band (GHz)";
const values = async (...rows: string[]) => (await parsedOf("antennas", lines(antennaHeader, ...rows))).rows;
const rules = (rows: readonly { problems: readonly { rule: string }[] }[]) =>
  rows.map((r) => r.problems.map((p) => p.rule));

describe("parseRows", () => {
  it("gives typed fields and the key, with defaults for blank cells of columns that the file has", async () => {
    const parsed = await parsedOf(
      "antennas",
      lines(`${antennaHeader},Owner,Site`, "MW-1,A,A1,42,0.6,V/H,18,,"),
    );
    expect(parsed.rows).toEqual([
      {
        rowNumber: 2,
        key: "MW-1/near/A1",
        values: {
          hopCode: "MW-1",
          side: "near",
          label: "A1",
          mountHeightM: 42,
          diameterM: 0.6,
          polarisations: ["V", "H"],
          bandGhz: 18,
          owner: "customer",
          siteCode: undefined,
        },
        problems: [],
      },
    ]);
  });

  it("names file, row, column, value and remedy of every fault, all faults of a row at once", async () => {
    const [row] = await values("MW-1,left,A1,high,0.6,V,18");
    expect(row!.key).toBeUndefined();
    expect(row!.problems).toMatchObject([
      {
        fileName: "test.csv",
        row: 2,
        column: "End",
        path: "test.csv, row 2, End",
        rule: "not-a-choice",
        value: "left",
        message: 'End: "left" is not among the choices.',
        remedy: "Write one of: near, far.",
      },
      {
        fileName: "test.csv",
        row: 2,
        column: "Mount height (m)",
        path: "test.csv, row 2, Mount height (m)",
        rule: "not-a-number",
        value: "high",
        message: 'Mount height: "high" is not a number.',
        remedy: "Write the number alone, without a unit; the unit belongs in the header (m).",
      },
    ]);
  });

  it("refuses what breaks a limit, with the limit", async () => {
    const [row] = await values("MW-1,near,A1,4200,0.6,V,18");
    expect(row!.problems[0]).toMatchObject({
      rule: "outside-limits",
      value: "4200",
      message: "Mount height: 4200 is over 700 m.",
      remedy: "Give a number above 0 m and at most 700 m.",
    });
  });

  it("refuses blank needed cells, but only those", async () => {
    const rows = await values(",near,A1,42,0.6,V,18", "MW-1,near,,42,,V,18");
    expect(rows.map((r) => r.problems.map((p) => `${p.rule} ${p.column}`))).toEqual([
      ["required Hop"],
      ["required Antenna", "required Diameter (m)"],
    ]);
  });

  it("refuses both rows of a doubled key and names the other row in each", async () => {
    const rows = await values("MW-1,near,A1,42,0.6,V,18", "MW-1,far,A1,42,0.6,V,18", "MW-1,A,A1,30,0.6,V,18");
    expect(rules(rows)).toEqual([["duplicate-key"], [], ["duplicate-key"]]);
    expect(rows[0]!.problems[0]!.message).toBe('Hop + End + Antenna "MW-1/near/A1" stands also in row 4.');
    expect(rows[2]!.problems[0]!.message).toContain("row 2");
  });

  it("refuses a row with more cells than the header: an unquoted decimal comma shifted it", async () => {
    const rows = await values("MW-1,near,A1,42,0,6,V,18");
    expect(rows[0]!.problems.map((p) => p.rule)).toContain("more-cells-than-header");
  });

  it("reads decimal commas and group marks by what the column proves", async () => {
    const parsed = await parsedOf(
      "antennas",
      bytesOf(
        `${antennaHeader.replaceAll(",", ";")}\nMW-1;near;A1;42,5;0,6;V;18\nMW-2;near;A1;42;1,2;V;7,5\n`,
      ),
    );
    expect(parsed.rows.map((r) => [r.values.mountHeightM, r.values.diameterM, r.values.bandGhz])).toEqual([
      [42.5, 0.6, 18],
      [42, 1.2, 7.5],
    ]);
  });

  it("asks about 1.234 in a file with semicolons when nothing decides, and takes the answer", async () => {
    const file = bytesOf("Item;Place;Quantity\nCX;WH;1.234\n");
    const asked = await parsedOf("stock", file);
    expect(rules(asked.rows)).toEqual([["number-ambiguous"]]);
    expect(asked.questions).toEqual([
      {
        option: "decimalMark",
        column: "Quantity",
        row: 2,
        value: "1.234",
        choices: [
          { answer: "point", readsAs: "1.234" },
          { answer: "comma", readsAs: "1234" },
        ],
      },
    ]);
    const comma = await parsedOf("stock", file, { decimalMark: "comma" });
    expect(comma.rows[0]!.values.quantity).toBe(1234);
    const point = await parsedOf("stock", file, { decimalMark: "point" });
    expect(point.rows[0]!.values.quantity).toBe(1.234);
    expect(point.questions).toEqual([]);
  });

  it("lets another number column of the file decide", async () => {
    const parsed = await parsedOf(
      "stock",
      bytesOf("Item;Place;Quantity;Drum;Drum remaining (m)\nCX;WH;;D1;312,5\nLUG;WH;1.234;;\n"),
    );
    expect(parsed.rows[1]!.values.quantity).toBe(1234);
  });

  it("asks about 3/4/2027 when no date of the column decides, and takes the answer", async () => {
    const file = lines("Hop,Gate,State,Due on", "MW-1,survey,dated,3/4/2027", "MW-2,survey,dated,5/5/2027");
    const asked = await parsedOf("gates", file);
    expect(rules(asked.rows)).toEqual([["date-ambiguous"], []]);
    expect(asked.questions[0]).toMatchObject({
      option: "dateOrder",
      column: "Due on",
      choices: [
        { answer: "day first", readsAs: "2027-04-03" },
        { answer: "month first", readsAs: "2027-03-04" },
      ],
    });
    const told = await parsedOf("gates", file, { dateOrder: "month first" });
    expect(told.rows[0]!.values.dueOn).toBe("2027-03-04");
    const proved = await parsedOf(
      "gates",
      lines("Hop,Gate,State,Due on", "MW-1,survey,dated,3/4/2027", "MW-2,survey,dated,25/12/2027"),
    );
    expect(proved.rows.map((r) => r.values.dueOn)).toEqual(["2027-04-03", "2027-12-25"]);
  });

  it("converts units that the header states and a person sees", async () => {
    const parsed = await parsedOf(
      "antennas",
      lines("Hop,End,Antenna,Height (ft),Diameter (cm)", "MW-1,near,A1,100,60"),
    );
    expect(parsed.rows[0]!.values).toMatchObject({ mountHeightM: 30.48, diameterM: 0.6 });
    expect(parsed.notices).toEqual([
      '"Height (ft)" is converted from ft to m: x 0.3048.',
      '"Diameter (cm)" is converted from cm to m: x 0.01.',
    ]);
  });

  it("strips the guard from text, and keeps numbers numbers", async () => {
    const parsed = await parsedOf(
      "items",
      lines("Item,Name,Tape from (degC)", "'-3.5,'=cmd,-3.5", "''=x,'plain',4"),
    );
    expect(parsed.rows.map((r) => [r.values.code, r.values.name, r.values.tapeMinTempC])).toEqual([
      ["-3.5", "=cmd", -3.5],
      ["'=x", "'plain'", 4],
    ]);
  });

  it("reads prices by the decimals of their currency", async () => {
    const parsed = await parsedOf(
      "items",
      lines("Item,Unit price,Currency", "a,1.35,EUR", "b,135,JPY", "c,1.355,KWD", "d,1.355,EUR", "e,1.5,"),
    );
    expect(parsed.rows.map((r) => r.values.priceMinor)).toEqual([135, 135, 1355, undefined, 150]);
    expect(rules(parsed.rows)[3]).toEqual(["money-too-fine"]);
  });

  it("leaves the template's example rows out and says so", async () => {
    const parsed = await parsedOf(
      "gates",
      lines("Hop,Gate,State", "EXAMPLE MW-101,survey,met", "MW-1,survey,met"),
    );
    expect(parsed.rows.map((r) => r.rowNumber)).toEqual([3]);
    expect(parsed.notices).toContain("1 example row of the template left out.");
  });

  it("reads dates, serial numbers, times and whole numbers of a workbook", async () => {
    const bytes = await workbook((wb) => {
      const ws = wb.addWorksheet("Hops");
      ws.addRow(["Hop", "Promise date", "Weight"]);
      ws.addRow(["a", new Date(Date.UTC(2027, 2, 31)), 2]);
      ws.addRow(["b", 46477, 1.5]);
      ws.addRow(["c", new Date(Date.UTC(2027, 2, 31, 14)), "1,5"]);
      ws.addRow([101, "31.3.2027", new Date(Date.UTC(2027, 0, 5))]);
    });
    const parsed = await parsedOf("hops", bytes, { fileName: "t.xlsx" });
    expect(parsed.rows.map((r) => [r.values.code, r.values.promisedOn, r.values.weight])).toEqual([
      ["a", "2027-03-31", 2],
      ["b", "2027-03-31", 1.5],
      ["c", undefined, 1.5],
      ["101", "2027-03-31", undefined],
    ]);
    expect(rules(parsed.rows)).toEqual([[], [], ["date-with-time"], ["number-turned-date"]]);
  });

  it("reads spreadsheet times of day", async () => {
    const bytes = await workbook((wb) => {
      const ws = wb.addWorksheet("Sites");
      ws.addRow(["Site", "Access from", "Access to"]);
      ws.addRow(["a", 0.3125, 1]);
      ws.addRow(["b", new Date(Date.UTC(1899, 11, 30, 7, 30)), "18:00"]);
      ws.addRow(["c", 7, "18"]);
    });
    const parsed = await parsedOf("sites", bytes, { fileName: "t.xlsx" });
    expect(parsed.rows.map((r) => [r.values.accessFromMin, r.values.accessToMin])).toEqual([
      [450, 1440],
      [450, 1080],
      [undefined, undefined],
    ]);
    expect(rules(parsed.rows)[2]).toEqual(["not-a-time", "not-a-time"]);
  });

  it("passes formula faults of a workbook on to the row", async () => {
    const bytes = await workbook((wb) => {
      const ws = wb.addWorksheet("Hops");
      ws.addRow(["Hop", "Weight"]);
      ws.addRow(["a"]).getCell(2).value = { error: "#REF!" };
    });
    const parsed = await parsedOf("hops", bytes, { fileName: "t.xlsx" });
    expect(parsed.rows[0]!.problems[0]).toMatchObject({
      rule: "cell-fault",
      message: "Weight: the cell shows #REF!.",
    });
  });

  it("refuses control characters inside text, and trims white space around it", async () => {
    const parsed = await parsedOf("hops", lines("Hop,Near site", "  MW-1 ,A\u0007B", "MW-2,\u00a0S \t"));
    expect(parsed.rows.map((r) => r.values.code)).toEqual(["MW-1", "MW-2"]);
    expect(rules(parsed.rows)).toEqual([["outside-limits"], []]);
    expect(parsed.rows[1]!.values.nearSiteCode).toBe("S");
  });
});

describe("routes of radios", () => {
  const header = "Hop,End,Radio,Vertical (m),Bridge (m),Tray (m),Indoor (m),Bends,Route";
  const route = async (cells: string) => {
    const [row] = (await parsedOf("radios", lines(header, `MW-1,near,R1,${cells}`))).rows;
    return { route: row!.values.route, rules: row!.problems.map((p) => p.rule) };
  };

  it("come from the metre columns, bends first from the ODU", async () => {
    expect(await route("42,6,,8,1,")).toEqual({
      route: [
        { kind: "vertical", lengthM: 42, bendAtEnd: true },
        { kind: "bridge", lengthM: 6, bendAtEnd: false },
        { kind: "indoor", lengthM: 8, bendAtEnd: false },
      ],
      rules: [],
    });
  });

  it("come from the text in any order", async () => {
    expect((await route(",,,,,vertical 20; bridge 6 bend; vertical 22")).route).toHaveLength(3);
  });

  it("are refused when given in both forms, in none, or with more bends than segments", async () => {
    expect((await route("42,,,,,vertical 20")).rules).toEqual(["route-given-twice"]);
    expect((await route(",,,,,")).rules).toEqual(["required"]);
    expect((await route("42,,,8,3,")).rules).toEqual(["more-bends-than-segments"]);
  });
});

describe("10,000 rows", () => {
  const many = lines(
    "Hop,Protection scheme,Band (GHz)",
    ...Array.from({ length: 10_000 }, (_, i) => `MW-${i},1+0,18`),
  );

  it("are read with progress in chunks that can be waited for", async () => {
    const seen: number[] = [];
    const table = await tableOf(many);
    const matched = applyMatching(table, "hops", matchColumns(table.header, "hops"));
    if (!matched.ok) throw new Error("unexpected refusal");
    let turns = 0;
    const parsed = await parseRows(
      matched.value,
      {},
      {
        chunkRows: 1000,
        onProgress: async ({ stage, done, total }) => {
          expect([stage, total]).toEqual(["parse", 10_000]);
          seen.push(done);
          await new Promise((r) => setImmediate(r));
          turns++;
        },
      },
    );
    expect(parsed.rows).toHaveLength(10_000);
    expect(parsed.rows.every((r) => r.problems.length === 0)).toBe(true);
    expect(seen).toEqual(Array.from({ length: 10 }, (_, i) => (i + 1) * 1000));
    expect(turns).toBe(10);
  });

  it("can be cancelled between chunks", async () => {
    const table = await tableOf(many);
    const matched = applyMatching(table, "hops", matchColumns(table.header, "hops"));
    if (!matched.ok) throw new Error("unexpected refusal");
    const stop = new AbortController();
    const seen: number[] = [];
    const run = parseRows(
      matched.value,
      {},
      {
        signal: stop.signal,
        onProgress: ({ done }) => {
          seen.push(done);
          if (done >= 1000) stop.abort();
        },
      },
    );
    await expect(run).rejects.toThrow();
    expect(seen).toEqual([500, 1000]);
  });
});
