import { describe, expect, it } from "vitest";
import type { PlacedBlock } from "@/app/_ui/board/geometry";
import { isNoteTight, isTight, signLines, signsWidePx, sizeOf } from "@/app/_ui/board/signs";
import type { BoardVisit } from "@/app/_ui/board/types";
import { type GlyphName, glyphLines, glyphLinesAt } from "@/app/_ui/Glyph";
import { visit } from "./boardVisit";

const NAMES: readonly GlyphName[] = [
  ...(["install", "alignment", "acceptance", "revisit", "pinned", "late", "heat", "warn", "fail"] as const),
  ...(["no-data", "pass", "doing", "hold", "kits", "met", "dated", "stock"] as const),
];

/** End of every command of a path, followed by its grammar in SVG 2, chapter 9.3 (only the commands that signs use). */
function endsOf(d: string): [number, number][] {
  const ends: [number, number][] = [];
  let [x, y, startX, startY] = [0, 0, 0, 0];
  for (const [, command = "", text = ""] of d.matchAll(/([a-z])([^a-z]*)/gi)) {
    const numbers = [...text.matchAll(/-?(?:\d+\.?\d*|\.\d+)/g)].map(([n]) => Number(n));
    const kind = command.toUpperCase();
    const step = { M: 2, L: 2, C: 6, H: 1, V: 1, A: 7, Z: 0 }[kind];
    if (step === undefined) throw new Error(`command ${command}`);
    if (step === 0) [x, y] = [startX, startY];
    for (let at = 0; at < numbers.length; at += step) {
      const by = command === kind ? [0, 0] : [x, y];
      const last = numbers.slice(at, at + step);
      if (kind === "H") x = by[0]! + last[0]!;
      else if (kind === "V") y = by[1]! + last[0]!;
      else [x, y] = [by[0]! + last.at(-2)!, by[1]! + last.at(-1)!];
      if (kind === "M" && at === 0) [startX, startY] = [x, y];
      ends.push([x, y]);
    }
  }
  return ends;
}

const block = (widthPx: number, change: Partial<BoardVisit> = {}): PlacedBlock => ({
  visit: visit(change),
  leftPx: 100,
  widthPx,
  lane: 0,
});
/** Corners of what is drawn. */
function boxOf(d: string): { left: number; right: number; top: number; bottom: number } {
  const ends = endsOf(d);
  const xs = ends.map(([x]) => x);
  const ys = ends.map(([, y]) => y);
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
}
const signCount = (d: string, of: readonly GlyphName[]): number =>
  of.reduce((sum, name) => sum + glyphLines(name).split("M").length - 1, 0) === d.split("M").length - 1
    ? of.length
    : -1;

describe("a sign's lines at a place", () => {
  it.each(NAMES)("%s: every end of a line is where the field's corner and size put it", (name) => {
    const placed = endsOf(glyphLinesAt(name, 30, 7, 12));
    const wanted = endsOf(glyphLines(name)).map(([x, y]) => [30 + x * 0.75, 7 + y * 0.75]);
    expect(placed).toHaveLength(wanted.length);
    placed.forEach(([x, y], at) => {
      // Rounded to hundredths; relative steps add up.
      expect(Math.abs(x - wanted[at]![0]!)).toBeLessThan(0.06);
      expect(Math.abs(y - wanted[at]![1]!)).toBeLessThan(0.06);
    });
  });
  it("keeps turns and flags of arcs, and scales their radii", () => {
    expect(glyphLinesAt("open", 0, 0, 8)).toBe("M4 1.25a2.75 2.75 0 1 0 0.01 0");
    expect(glyphLinesAt("none", 10, 20, 16)).toBe("M14 28h8");
  });
});

describe("signs of a block", () => {
  const troubled = {
    weather: { state: "not met" },
    kit: { state: "short" },
    isLate: true,
  } as Partial<BoardVisit>;

  it("are none where there is no room", () => {
    expect(sizeOf(13, 44)).toBe("bare");
    expect(signLines(block(13, troubled), 44)).toBe("");
  });
  it("are its kind, and in a high lane its worst trouble below", () => {
    const { left, right, top, bottom } = boxOf(signLines(block(30, troubled), 44));
    expect(signCount(signLines(block(30, troubled), 44), ["install", "fail"])).toBe(2);
    expect(left).toBeGreaterThanOrEqual(100);
    expect(right).toBeLessThanOrEqual(128);
    expect(top).toBeGreaterThanOrEqual(3);
    expect(bottom).toBeLessThanOrEqual(41);
    expect(signCount(signLines(block(30, troubled), 36), ["install"])).toBe(1);
    expect(
      signCount(signLines(block(30, { report: { state: "done" } } as Partial<BoardVisit>), 36), ["pass"]),
    ).toBe(1);
  });
  it("say first that the crew lacks people for it, unless the weather is over a limit", () => {
    const short = { crewShort: "the crew is 1 climber short", isLate: true } as Partial<BoardVisit>;
    expect(signCount(signLines(block(60, short), 60), ["install", "people-short", "late"])).toBe(3);
    expect(signCount(signLines(block(30, short), 44), ["install", "people-short"])).toBe(2);
    expect(signCount(signLines(block(160, short), 60), ["install", "people-short", "late"])).toBe(3);
  });
  it("tell that a person holds it there after its worst trouble, in every size that has room", () => {
    const pinned = { isPinned: true };
    const both = { ...troubled, ...pinned };
    expect(signCount(signLines(block(60, pinned), 60), ["install", "pinned"])).toBe(2);
    expect(signCount(signLines(block(60, both), 60), ["install", "fail", "pinned"])).toBe(3);
    expect(signCount(signLines(block(30, pinned), 44), ["install", "pinned"])).toBe(2);
    expect(signCount(signLines(block(30, both), 44), ["install", "fail"])).toBe(2);
    const high = signLines(block(30, both), 60);
    expect(signCount(high, ["install", "fail", "pinned"])).toBe(3);
    expect(boxOf(high).top).toBeGreaterThanOrEqual(3);
    expect(boxOf(high).bottom).toBeLessThanOrEqual(57);
  });
  it("are above a code as many as fit, a report rather than a second trouble", () => {
    expect(sizeOf(60, 60)).toBe("code");
    expect(signCount(signLines(block(60, troubled), 60), ["install", "fail", "stock"])).toBe(3);
    expect(
      signCount(signLines(block(60, { ...troubled, report: { state: "hold", text: "" } }), 60), [
        "install",
        "fail",
        "hold",
      ]),
    ).toBe(3);
    const narrow = signLines(block(36, troubled), 60);
    expect(signCount(narrow, ["install"])).toBe(1);
  });
  it("are beside the words of a wide one, within it, and take the room that is kept for them", () => {
    const lines = signLines(
      block(120, {
        isPinned: true,
        weather: { state: "met" },
        kit: { state: "ready" },
      } as Partial<BoardVisit>),
      60,
    );
    expect(signCount(lines, ["install", "pinned", "heat", "kits"])).toBe(4);
    const { left, right, top, bottom } = boxOf(lines);
    expect(left).toBeGreaterThanOrEqual(100);
    expect(right).toBeLessThanOrEqual(218);
    expect(top).toBeGreaterThanOrEqual(3);
    expect(bottom).toBeLessThanOrEqual(57);
    expect(signsWidePx(2)).toBe(32);
  });
});

describe("words of a block", () => {
  const named = (hopCode: string, siteCode = "VM1", more: Partial<BoardVisit> = {}) =>
    ({ hopCode, siteCode, ...more }) as Partial<BoardVisit>;
  it("are cut off where a line has no room for all its letters and signs", () => {
    expect(isTight(block(110, named("VH024")), 60)).toBe(false);
    expect(isTight(block(110, named("VH024-LONG-NAME")), 60)).toBe(true);
    expect(isTight(block(110, named("VH024", "VM1-A-LONG-SITE")), 60)).toBe(true);
    expect(isTight(block(400, named("VH024-LONG-NAME", "VM1-A-LONG-SITE")), 60)).toBe(false);
    // The pin takes room from the name, the weather's and the kit's sign from the site.
    expect(isTight(block(90, named("VH024", "VM1", { isPinned: true })), 60)).toBe(true);
    const signs = named("VH024", "VM1234", { weather: { state: "met" }, kit: { state: "ready" } } as never);
    expect(isTight(block(90, signs), 60)).toBe(true);
  });
  it("of a code may take two lines in a high lane, and none where no words are", () => {
    expect(isTight(block(60, named("VH024")), 60)).toBe(false);
    expect(isTight(block(60, named("VH024")), 44)).toBe(true);
    expect(isTight(block(20, named("VH024-LONG-NAME")), 60)).toBe(false);
  });
  it("below a crew's name are held against the column", () => {
    expect(isNoteTight("4 people, from WH-NORTHWEST", 152)).toBe(true);
    expect(isNoteTight("4 people, from WH-1", 152)).toBe(false);
  });
});
