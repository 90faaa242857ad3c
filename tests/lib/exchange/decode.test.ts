import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decode } from "@/lib/exchange/decode";

const utf8 = (text: string) => new TextEncoder().encode(text);

function utf16(text: string, isLittle: boolean, hasMark: boolean): Uint8Array {
  const units = [...(hasMark ? "\uFEFF" : ""), ...text].join("");
  const bytes = new Uint8Array(units.length * 2);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < units.length; i++) view.setUint16(i * 2, units.charCodeAt(i), isLittle);
  return bytes;
}

const TEXT = "Site,Name\r\nZÜ-1,Uetliberg Ω 😀\r\n";

describe("decode", () => {
  it("reads UTF-8 with and without a mark, and keeps the mark out of the text", () => {
    expect(decode(utf8(TEXT))).toEqual({ text: TEXT, encoding: "utf-8", hasMark: false });
    expect(decode(utf8(`\uFEFF${TEXT}`))).toEqual({ text: TEXT, encoding: "utf-8", hasMark: true });
  });

  it.each([
    ["little", "utf-16le", true],
    ["big", "utf-16be", false],
  ] as const)("reads UTF-16 %s endian with and without a mark", (_, encoding, isLittle) => {
    expect(decode(utf16(TEXT, isLittle, true))).toEqual({ text: TEXT, encoding, hasMark: true });
    expect(decode(utf16(TEXT, isLittle, false))).toEqual({ text: TEXT, encoding, hasMark: false });
  });

  it("knows UTF-16 without a mark by its separators and digits when the names are Cyrillic", () => {
    const text = "Код;Имя;Высота\r\nКР-1;Гора;54\r\nКР-2;Поле;30\r\n";
    expect(decode(utf16(text, true, false))).toEqual({ text, encoding: "utf-16le", hasMark: false });
  });

  it("reads Windows-1252, also the bytes 0x80 to 0x9F that Latin-1 does not have", () => {
    const bytes = new Uint8Array([
      0x5a, 0xfc, 0x72, 0x69, 0x63, 0x68, 0x20, 0x80, 0x20, 0x92, 0x96, 0x99, 0x8a, 0x9e,
    ]);
    expect(decode(bytes)).toEqual({ text: "Zürich € ’–™Šž", encoding: "windows-1252", hasMark: false });
  });

  it("takes a UTF-8 mark before bytes that are not UTF-8 for what it is: wrong", () => {
    const bytes = new Uint8Array([0xef, 0xbb, 0xbf, 0x5a, 0xfc]);
    expect(decode(bytes)).toEqual({ text: "Zü", encoding: "windows-1252", hasMark: false });
  });

  it("does not take UTF-8 with a stray NUL for UTF-16", () => {
    const text = `Site,Name\r\nA,"\0=1"\r\n${"B,plain\r\n".repeat(20)}`;
    expect(decode(utf8(text)).encoding).toBe("utf-8");
  });

  it("reads nothing from nothing", () => {
    expect(decode(new Uint8Array())).toEqual({ text: "", encoding: "utf-8", hasMark: false });
  });

  it("gives back any text written as UTF-8", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 200 }), (text) => {
        const plain = text.replaceAll("\0", "").replace(/^\uFEFF/, "");
        expect(decode(utf8(plain)).text).toBe(plain);
      }),
    );
  });
});
