import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { editsBetween, keyFrom, keyOf, NearMatches, nearest } from "@/lib/exchange/keys";
import { USUAL_PROCEDURES } from "../../helpers/hop";

describe("keyOf", () => {
  it("is the code, or the parts with a slash between, blank parts empty", () => {
    expect(keyOf("hops", { code: "MW/1", scheme: "1+0", bandGhz: 18, weight: 1, ...USUAL_PROCEDURES })).toBe(
      "MW/1",
    );
    expect(keyOf("gates", { hopCode: "MW/1", kind: "survey", state: "met" })).toBe("MW\\/1//survey");
  });

  it("differs for different parts, whatever they hold", () => {
    const part = fc.string({ unit: fc.constantFrom("a", "/", "\\"), maxLength: 4 });
    const two = fc.tuple(part, part, part);
    fc.assert(
      fc.property(two, two, (x, y) => {
        const key = ([a, b, c]: [string, string, string]) => keyFrom(["a", "b", "c"], { a, b, c });
        expect(key(x) === key(y)).toBe(JSON.stringify(x) === JSON.stringify(y));
      }),
      { numRuns: 500 },
    );
  });
});

describe("near matches", () => {
  const near = new NearMatches(["KAR-014", "KAR-022", "NORTH-7"]);

  it.each([
    ["kar 014", "KAR-014"],
    ["KAR014", "KAR-014"],
    ["KAR-0l4", "KAR-014"],
    ["KAR-041", "KAR-014"],
    ["NORHT-7", "NORTH-7"],
    ["SOUTH-99", undefined],
    ["KA", undefined],
  ])("of %j is %j", (code, answer) => {
    expect(near.of(code)).toBe(answer);
    expect(near.of(code)).toBe(answer);
  });

  it("allow two edits at most, and none for short codes", () => {
    expect(nearest("ab", ["ac"])).toBeUndefined();
    expect(nearest("abc", ["abd", "xyz"])).toBe("abd");
    expect(nearest("abcdefghijkl", ["abcdefghixyz"])).toBeUndefined();
  });

  it("count a swap of neighbours as one edit", () => {
    expect(editsBetween("ab", "ba")).toBe(1);
    expect(editsBetween("kitten", "sitting")).toBe(3);
    expect(editsBetween("", "abc")).toBe(3);
  });
});
