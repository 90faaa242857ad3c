import { describe, expect, test } from "vitest";
import { english, figure, phrase, readBack } from "@/lib/phrase";

const SENTENCES = [
  "wind",
  "{{why}} ({{n}} of {{m}} crew-days)",
  "no hours for {{work}} work",
  "{{n}} kg of {{what}}",
  "{{who}}: {{what}}",
];

describe("a sentence kept in English", () => {
  test("has its figures apart again, with the decimals it was written with", () => {
    expect(readBack("12.50 kg of cable", SENTENCES)).toEqual(
      phrase("{{n}} kg of {{what}}", { n: figure(12.5, 2), what: "cable" }),
    );
  });

  test("is read through and through: parts that are sentences themselves, and known words", () => {
    expect(readBack("no hours for wind work (3 of 5 crew-days)", SENTENCES)).toEqual(
      phrase("{{why}} ({{n}} of {{m}} crew-days)", {
        why: phrase("no hours for {{work}} work", { work: phrase("wind", {}) }),
        n: figure(3),
        m: figure(5),
      }),
    );
  });

  test("takes the first sentence that fits, and a place for numbers holds nothing else", () => {
    expect(readBack("C1: some kg of cable", SENTENCES)).toEqual(
      phrase("{{who}}: {{what}}", { who: "C1", what: "some kg of cable" }),
    );
  });

  test("keeps names as they are written, be they figures", () => {
    const read = readBack("0417 and 12.50", ["{{code}} and {{what}}"]);
    expect(read.values).toEqual({ code: "0417", what: figure(12.5, 2) });
  });

  test("reads a list part by part", () => {
    const read = readBack("Found none with 3 kg of wind, dust.", [
      ...SENTENCES,
      "Found none with {{attributes}}.",
    ]);
    expect(read.values?.attributes).toEqual(
      phrase("{{part0}}, {{part1}}", {
        part0: phrase("{{n}} kg of {{what}}", { n: figure(3), what: phrase("wind", {}) }),
        part1: "dust",
      }),
    );
    expect(english(read)).toBe("Found none with 3 kg of wind, dust.");
  });

  test("stays as it is when none fits", () => {
    expect(readBack("something (else", SENTENCES)).toEqual(phrase("something (else"));
  });

  test("is the same in English as before", () => {
    for (const text of [
      "no hours for wind work (3 of 5 crew-days)",
      "12.50 kg of cable",
      "a.b",
      "-3 kg of x",
    ])
      expect(english(readBack(text, SENTENCES))).toBe(text);
  });
});
