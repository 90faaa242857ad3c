import { describe, expect, it } from "vitest";
import { findable, findIn, folded } from "@/lib/find";

const thing = (code: string, words = "") => ({ code, ...findable(code, words) });
const THINGS = [
  thing("VH-012", "Nørre Ås"),
  thing("VH-0123", "Harbour hill"),
  thing("S-VH-012", "Old mill"),
  thing("ODU-23H", "Outdoor unit 23 GHz high"),
  thing("ODU-23L", "Outdoor unit 23 GHz low"),
];
const codes = (query: string, most = 9) => findIn(THINGS, query, most).map((t) => t.code);

describe("findIn", () => {
  it("puts the code itself before codes that begin with it, and those before any that hold it", () => {
    expect(codes("vh-012")).toEqual(["VH-012", "VH-0123", "S-VH-012"]);
    expect(codes("VH012")).toEqual(["VH-012", "VH-0123"]);
  });
  it("asks for every word, in any order, and reads past accents", () => {
    expect(codes("low 23")).toEqual(["ODU-23L"]);
    expect(codes("aS norre".replace("norre", "nørre"))).toEqual(["VH-012"]);
    expect(codes("harb")).toEqual(["VH-0123"]);
  });
  it("prefers words that begin with what was typed", () => {
    const found = findIn([thing("A", "Windmill"), thing("B", "Mill")], "mill", 9);
    expect(found.map((t) => t.code)).toEqual(["B", "A"]);
  });
  it("finds nothing by nothing, and no more than asked for", () => {
    expect(codes("")).toEqual([]);
    expect(codes("  ")).toEqual([]);
    expect(codes("--")).toEqual([]);
    expect(codes("vh", 2)).toHaveLength(2);
  });
  it("folds accents and case", () => expect(folded("Zürich É")).toBe("zurich e"));
});
