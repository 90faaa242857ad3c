import { describe, expect, it } from "vitest";
import { csvText, parseRecords } from "@/lib/exchange/csv";
import { writeCsv } from "@/lib/exchange/write";

/** Marks: V read in a stored copy of the RFC; V2 read on a page that quotes it; R follows from the rule. */
const READING = [
  {
    source: "RFC 4180 section 2 item 1: records end with CRLF",
    mark: "V",
    inputs: "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
    expected: [
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ],
  },
  {
    source: "RFC 4180 section 2 item 2: the last line break is optional",
    mark: "V",
    inputs: "aaa,bbb,ccc\r\nzzz,yyy,xxx",
    expected: [
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ],
  },
  {
    source: "RFC 4180 section 2 item 4: spaces are part of a field",
    mark: "V",
    inputs: " aaa ,b b, ccc\r\n",
    expected: [[" aaa ", "b b", " ccc"]],
  },
  {
    source: "RFC 4180 section 2 item 5: fields may be in quotes or not",
    mark: "V",
    inputs: '"aaa","bbb","ccc"\r\nzzz,yyy,xxx',
    expected: [
      ["aaa", "bbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ],
  },
  {
    source: "RFC 4180 section 2 item 6: a quoted field may hold a line break",
    mark: "V2",
    inputs: '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx',
    expected: [
      ["aaa", "b\r\nbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ],
  },
  {
    source: "RFC 4180 section 2 item 6: a quoted field may hold a comma",
    mark: "R",
    inputs: '"a,a",b\r\n',
    expected: [["a,a", "b"]],
  },
  {
    source: "RFC 4180 section 2 item 7: a quote inside a quoted field is doubled",
    mark: "V2",
    inputs: '"aaa","b""bb","ccc"',
    expected: [["aaa", 'b"bb', "ccc"]],
  },
];

describe("reading CSV as RFC 4180 defines it", () => {
  it.each(READING)("$source", ({ source, mark, inputs, expected }) => {
    const { records, fault } = parseRecords(inputs, ",");
    expect(fault, `${source} (${mark})`).toBeUndefined();
    expect(records, `${source} (${mark})`).toEqual(expected);
  });
});

const WRITING = [
  {
    source: "item 1: CRLF after every record",
    mark: "V",
    inputs: [
      ["a", "b"],
      ["c", "d"],
    ],
    expected: "a,b\r\nc,d\r\n",
  },
  { source: "item 6: a comma asks for quotes", mark: "R", inputs: [["a,b"]], expected: '"a,b"\r\n' },
  {
    source: "item 6: a line break asks for quotes",
    mark: "V2",
    inputs: [["a\r\nb"]],
    expected: '"a\r\nb"\r\n',
  },
  { source: "item 7: a quote is doubled", mark: "V2", inputs: [['b"bb']], expected: '"b""bb"\r\n' },
];

describe("writing CSV as RFC 4180 defines it", () => {
  it.each(WRITING)("$source", ({ source, mark, inputs, expected }) => {
    expect(csvText(inputs, ","), `RFC 4180 section 2 ${source} (${mark})`).toBe(expected);
  });

  it("gives every record of an export as many fields as the header (item 4, V)", () => {
    const bytes = writeCsv("gates", [
      { hopCode: "MW-1", kind: "survey", state: "met", owner: 'a "b", c\nd' },
      { hopCode: "MW-2", side: "far", kind: "supply", state: "open" },
    ]);
    const text = new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes).slice(1);
    const { records } = parseRecords(text, ",");
    expect(new Set(records.map((r) => r.length)).size).toBe(1);
    expect(text.endsWith("\r\n")).toBe(true);
    expect(text.replaceAll("\r\n", "").includes("\r")).toBe(false);
  });
});
