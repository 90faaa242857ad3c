import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { guardText, unguardText } from "@/lib/exchange/guard";

const text = fc.oneof(
  fc.string({
    unit: fc.constantFrom("'", "=", "+", "-", "@", "\t", "\r", "\n", "\0", "a", "1", " ", "＝"),
    maxLength: 6,
  }),
  fc.string({ unit: "binary", maxLength: 10 }),
);

describe("the formula guard", () => {
  it("comes off exactly as it went on, for any text", () => {
    fc.assert(
      fc.property(text, (t) => {
        expect(unguardText(guardText(t))).toBe(t);
      }),
      { numRuns: 1000 },
    );
  });

  it("leaves no text that begins with a risky character", () => {
    fc.assert(
      fc.property(text, (t) => {
        expect(/^[=+\-@\t\r\n\0\uFF1D\uFF0B\uFF0D\uFF20]/.test(guardText(t))).toBe(false);
      }),
      { numRuns: 1000 },
    );
  });

  it("keeps an apostrophe that the text had itself", () => {
    expect(guardText("'=x")).toBe("''=x");
    expect(unguardText("''=x")).toBe("'=x");
    expect(unguardText("'plain'")).toBe("'plain'");
  });
});
