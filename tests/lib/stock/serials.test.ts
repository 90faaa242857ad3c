import { expect, test } from "vitest";
import { isSameSerial, serialAgainAt, serialOf, serialsTyped } from "@/lib/stock";

test("a serial is the same in any case and with blanks around it, by the letters A to Z only", () => {
  expect(serialOf("  xx-1a ")).toBe("XX-1A");
  // Neither the reader's language nor the database raises these.
  expect(serialOf("ı-ß")).toBe("ı-ß");
  expect([isSameSerial("xx-1", "XX-1 "), isSameSerial("XX-1", "XX-2")]).toEqual([true, false]);
});

test("several are apart by commas, blanks or lines", () => {
  expect(serialsTyped(" xx-1, XX-2;xx-3\nXX-4\n\n")).toEqual(["XX-1", "XX-2", "XX-3", "XX-4"]);
  expect(serialsTyped(" \n")).toEqual([]);
});

test("the first that stands twice is found with where it stood before", () => {
  expect(serialAgainAt(["XX-1", "XX-2", "xx-2", "xx-1"])).toEqual({ at: 2, before: 1 });
  expect(serialAgainAt(["XX-1", "XX-2"])).toBeUndefined();
});
