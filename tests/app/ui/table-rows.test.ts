import { describe, expect, it } from "vitest";
import { type Column, choiceKey, plainValue } from "@/app/_ui/table/columns";
import { toCsv } from "@/app/_ui/table/csv";
import { compareValues, passes, searchRows } from "@/app/_ui/table/narrow";

interface Row {
  code: string;
  place: string;
  heightM: number | null;
  licensed: boolean;
}
const rows: readonly Row[] = [
  { code: "S-2", place: "Zürich moor", heightM: 40, licensed: true },
  { code: "S-10", place: "Crag, north", heightM: null, licensed: false },
];
const columns: readonly Column<Row>[] = [
  { id: "code", header: "Site", value: (r) => r.code },
  { id: "place", header: "Place", value: (r) => r.place },
  { id: "height", header: "Height", unit: "m", kind: "number", value: (r) => r.heightM },
  { id: "licensed", header: "Licensed", kind: "yes/no", value: (r) => r.licensed },
];
const found = (query: string): string[] => searchRows(rows, query, columns, new WeakMap()).map((r) => r.code);

describe("searching rows", () => {
  it("finds words in any column and order, whatever their case or accents", () => {
    expect(found("MOOR zurich")).toEqual(["S-2"]);
    expect(found("north s-10")).toEqual(["S-10"]);
    expect(found("  ")).toEqual(["S-2", "S-10"]);
    expect(found("moor north")).toEqual([]);
  });
  it("looks through what is said in the reader's language, while the export keeps the English", () => {
    const held: readonly Column<Row>[] = [
      { id: "code", header: "Site", value: (r) => r.code },
      {
        id: "held",
        header: "Held by",
        value: (r) => (r.licensed ? null : "licence missing"),
        said: (r) => (r.licensed ? null : "Lizenz fehlt"),
      },
    ];
    const by = (query: string) => searchRows(rows, query, held, new WeakMap()).map((r) => r.code);
    expect(by("lizenz")).toEqual(["S-10"]);
    expect(by("licence")).toEqual([]);
    expect(toCsv(rows, held)).toContain("S-10,licence missing");
  });
  it("asks for the name of a value once, however many rows have it", () => {
    const states: readonly Column<{ state: string }>[] = [
      { id: "state", header: "State", value: (r) => r.state, isSaid: true },
    ];
    const many = Array.from({ length: 500 }, (_, i) => ({ state: i % 2 === 0 ? "planned" : "done" }));
    const asked: string[] = [];
    const hits = searchRows(many, "fertig", states, new WeakMap(), (text) => {
      asked.push(text);
      return text === "done" ? "fertig" : "geplant";
    });
    expect(hits).toHaveLength(250);
    expect(asked).toEqual(["planned", "done"]);
  });
});

describe("sorting values", () => {
  it("puts S-2 before S-10 and 9 before 10", () => {
    expect(compareValues("S-2", "S-10")).toBeLessThan(0);
    expect(compareValues(10, 9)).toBeGreaterThan(0);
    expect(compareValues("2026-02-01", "2026-10-01")).toBeLessThan(0);
  });
  it("knows one kind of no value", () => {
    for (const none of [null, undefined, "", Number.NaN]) {
      expect(plainValue(none)).toBeUndefined();
      expect(choiceKey(none)).toBe("");
    }
    expect(choiceKey(false)).toBe("no");
    expect(choiceKey(0)).toBe("0");
  });
});

describe("narrowing a column", () => {
  it("lets a number pass between its ends, both included", () => {
    expect(passes(10, { from: "10", to: "40" })).toBe(true);
    expect(passes(40, { from: "10", to: "40" })).toBe(true);
    expect(passes(40.1, { from: "10", to: "40" })).toBe(false);
    expect(passes(9, { to: "40" })).toBe(true);
  });
  it("compares dates as dates", () => {
    expect(passes("2026-03-05", { from: "2026-03-01", to: "2026-03-31" })).toBe(true);
    expect(passes("2026-04-01", { to: "2026-03-31" })).toBe(false);
  });
  it("lets a missing value pass no range, but a tick for no value", () => {
    expect(passes(null, { from: "1" })).toBe(false);
    expect(passes(null, { oneOf: [""] })).toBe(true);
    expect(passes(null, { oneOf: ["x"] })).toBe(false);
    expect(passes(null, {})).toBe(true);
  });
});

describe("exporting rows", () => {
  it("writes heads with units, plain numbers and quoted text", () => {
    expect(toCsv(rows, columns)).toBe(
      'Site,Place,Height [m],Licensed\r\nS-2,Zürich moor,40,yes\r\nS-10,"Crag, north",,no\r\n',
    );
  });
  it("defuses text that a spreadsheet would run, and leaves negative numbers alone", () => {
    const risky: readonly Column<{ a: string | number }>[] = [{ id: "a", header: "A", value: (r) => r.a }];
    expect(toCsv([{ a: '=HYPERLINK("x")' }], risky)).toBe('A\r\n"\'=HYPERLINK(""x"")"\r\n');
    expect(toCsv([{ a: -5 }], risky)).toBe("A\r\n-5\r\n");
  });
});
