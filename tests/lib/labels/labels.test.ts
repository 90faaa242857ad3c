import fc from "fast-check";
import decodeQr from "qr/decode.js";
import { describe, expect, test } from "vitest";
import { qrCode } from "@/app/_server/qrCode";
import { isDrum, LABEL_KINDS, labelText, lineOfScan, readLabel } from "@/lib/labels";

/** The code's modules as a picture, each 4 pixels wide, with the quiet zone around. */
function pictureOf(text: string, scale = 4, quiet = 4) {
  const { side, path } = qrCode(text);
  const width = (side + 2 * quiet) * scale;
  const data = new Uint8ClampedArray(width * width * 4).fill(255);
  for (const [, column, row] of path.matchAll(/M(\d+) (\d+)h1v1h-1z/g))
    for (let y = 0; y < scale; y++)
      for (let x = 0; x < scale; x++) {
        const at = 4 * (((Number(row) + quiet) * scale + y) * width + (Number(column) + quiet) * scale + x);
        data.fill(0, at, at + 3);
      }
  return { width, height: width, data };
}

describe("a label", () => {
  test.each([
    { kind: "drum", code: "D-0412" },
    { kind: "place", code: "WH-EAST" },
    { kind: "kit", code: "MW-0012/near/install" },
    { kind: "item", code: "TAPE-SA-38" },
    { kind: "drum", code: "Øre:7 ß" },
  ] as const)("of $kind $code is read back from its picture by another library", (label) => {
    expect(readLabel(decodeQr(pictureOf(labelText(label))))).toEqual(label);
  });

  test("of any code is read back from its text", () => {
    const code = fc.string({ minLength: 1, maxLength: 60 }).filter((s) => s.trim() !== "");
    fc.assert(
      fc.property(fc.constantFrom(...LABEL_KINDS), code, (kind, raw) => {
        expect(readLabel(labelText({ kind, code: raw.trim() }))).toEqual({ kind, code: raw.trim() });
      }),
    );
  });

  test("that is not ours is a code of an open kind", () => {
    for (const text of ["D-0412", "BTH:", "BTH:DRUM:", "BTH:SHIP:4", "XYZ:DRUM:4", "https://masts.example/4"])
      expect(readLabel(` ${text}\n`)).toEqual({ kind: undefined, code: text });
  });

  test("is read whatever the case a scanner gives its prefix", () => {
    expect(readLabel("bth:drum:D1")).toEqual({ kind: "drum", code: "D1" });
  });
});

test("a drum is told by its label and by its bare serial, not by a place of the same name", () => {
  expect(isDrum("BTH:DRUM:D1", "D1")).toBe(true);
  expect(isDrum("d1", "D1")).toBe(true);
  expect(isDrum("BTH:PLACE:D1", "D1")).toBe(false);
  expect(isDrum("BTH:DRUM:D10", "D1")).toBe(false);
});

describe("the line that a scan means", () => {
  const line = (lineNo: number, itemCode: string, over = {}) => ({
    lineNo,
    itemCode,
    lotCodes: [] as string[],
    otherLotCodes: [] as string[],
    cutFrom: null as string | null,
    isPicked: false,
    ...over,
  });
  const lines = [
    line(1, "IFC-08", { cutFrom: "D1" }),
    line(2, "IFC-08"),
    line(3, "TAPE", { lotCodes: ["L7"], otherLotCodes: ["L8"] }),
    line(4, "LUG", { isPicked: true, otherLotCodes: ["L9"] }),
  ];

  test.each([
    ["BTH:ITEM:TAPE", 3],
    ["tape", 3],
    ["L7", 3],
    ["BTH:DRUM:D1", 1],
    ["IFC-08", 1],
  ])("%s is line %i", (text, lineNo) => {
    expect(lineOfScan(lines, text)).toEqual({ found: "line", lineNo });
  });

  test("is said to be in the box when it is", () => {
    expect(lineOfScan(lines, "BTH:ITEM:LUG")).toEqual({ found: "picked", lineNo: 4 });
  });

  test("is the right item of another lot, until the line is picked", () => {
    expect(lineOfScan(lines, "l8")).toEqual({ found: "other lot", lineNo: 3 });
    expect(lineOfScan(lines, "BTH:DRUM:L8")).toEqual({ found: "none" });
    expect(lineOfScan(lines, "L9")).toEqual({ found: "picked", lineNo: 4 });
  });

  test.each(["BTH:ITEM:OTHER", "BTH:PLACE:TAPE", "BTH:KIT:TAPE", "BTH:ITEM:L7", "D2"])(
    "is none for %s",
    (text) => {
      expect(lineOfScan(lines, text)).toEqual({ found: "none" });
    },
  );

  test("goes on to the next line of an item once the first is picked", () => {
    expect(lineOfScan([line(1, "A", { isPicked: true }), line(2, "A")], "A")).toEqual({
      found: "line",
      lineNo: 2,
    });
  });
});
