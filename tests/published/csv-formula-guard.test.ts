import { describe, expect, it } from "vitest";
import { guardText, unguardText } from "@/lib/exchange/guard";
import { writeCsv } from "@/lib/exchange/write";

/** First characters to neutralise, and who names them. V: read in a stored copy; M: from memory. */
const RISKY = [
  {
    source: "OWASP ASVS 1.2.10 and common lists: equals",
    mark: "V",
    inputs: '=HYPERLINK("x")',
    expected: '\'=HYPERLINK("x")',
  },
  { source: "OWASP ASVS 1.2.10 and common lists: plus", mark: "V", inputs: "+1+1", expected: "'+1+1" },
  { source: "OWASP ASVS 1.2.10 and common lists: minus", mark: "V", inputs: "-1+1", expected: "'-1+1" },
  { source: "OWASP ASVS 1.2.10 and common lists: at", mark: "V", inputs: "@SUM(A1)", expected: "'@SUM(A1)" },
  { source: "OWASP ASVS 1.2.10 and common lists: TAB (0x09)", mark: "V", inputs: "\t=1", expected: "'\t=1" },
  { source: "common lists: CR (0x0D)", mark: "V", inputs: "\r=1", expected: "'\r=1" },
  { source: "OWASP ASVS 1.2.10: NUL", mark: "V", inputs: "\0=1", expected: "'\0=1" },
  { source: "line feed, beside CR", mark: "M", inputs: "\n=1", expected: "'\n=1" },
  { source: "full-width equals", mark: "M", inputs: "\uff1d1", expected: "'\uff1d1" },
];

describe("formula guard", () => {
  it.each(RISKY)("neutralises $source", ({ source, mark, inputs, expected }) => {
    expect(guardText(inputs), `${source} (${mark})`).toBe(expected);
    expect(unguardText(expected), `${source} (${mark})`).toBe(inputs);
  });

  it("leaves ordinary text alone, also with these characters further in", () => {
    for (const text of ["KAR-014", "a=b", "1+0", "2027-01-01", "'quoted'", "", "x\t=1"]) {
      expect(guardText(text)).toBe(text);
      expect(unguardText(text)).toBe(text);
    }
  });

  it("writes -3.5 of a number column as a number and -3.5 of a text column as text (constructed)", () => {
    const bytes = writeCsv("items", [
      {
        code: "-3.5",
        name: "=cmd",
        category: "self-amalgamating tape",
        unit: "roll",
        massKg: 0.1,
        volumeL: 0,
        owner: "contractor",
        leadTimeDays: 0,
        lotRule: "minimum",
        orderMultiple: 1,
        minimumOrder: 0,
        safetyStock: 0,
        priceMinor: 0,
        currency: "EUR",
        tapeMinTempC: -3.5,
      },
    ]);
    const line = new TextDecoder().decode(bytes).split("\r\n")[1]!;
    expect(line.startsWith("'-3.5,'=cmd,")).toBe(true);
    expect(line.split(",")).toContain("-3.5");
  });
});
