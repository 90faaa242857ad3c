import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  blocksOf,
  cellDayOf,
  chunksInView,
  chunksOf,
  daySpanOf,
  MIN_BLOCK_PX,
  namesAgainPx,
  offRuns,
  rangeIn,
  topsOf,
  xOf,
} from "@/app/_ui/board/geometry";
import type { BoardVisit } from "@/app/_ui/board/types";
import { visitWords } from "@/app/_ui/board/words";
import en from "@/app/_ui/language/catalogue/en/planning.json";
import { makeWords } from "@/app/_ui/language/words";
import { calendarDate } from "@/lib/time";
import { visit } from "./boardVisit";

const EN = makeWords("en", en);

const SPAN = { fromMin: 420, toMin: 1020 };

describe("the time scale of a board", () => {
  it("shows the whole hours that hold all placed visits", () => {
    expect(daySpanOf([visit(), visit({ startMin: 500, endMin: 1021 })])).toEqual({
      fromMin: 420,
      toMin: 1080,
    });
    expect(daySpanOf([visit({ crewId: null, startMin: 0, endMin: 1440 })])).toEqual(SPAN);
    expect(daySpanOf([])).toEqual(SPAN);
  });
  it("places a minute within its day's column and never outside of it", () => {
    expect(xOf(2, 420, SPAN, 100)).toBe(200);
    expect(xOf(2, 720, SPAN, 100)).toBe(250);
    expect(xOf(2, 60, SPAN, 100)).toBe(200);
    expect(xOf(2, 1439, SPAN, 100)).toBe(300);
  });
});

describe("blocks of a crew", () => {
  it("reach over nights to their end", () => {
    const { blocks, lanes } = blocksOf([visit({ endDay: 4, endMin: 720 })], SPAN, 100);
    expect(lanes).toBe(1);
    expect(blocks[0]?.leftPx).toBeCloseTo(205, 9);
    expect(blocks[0]?.widthPx).toBeCloseTo(245, 9);
  });
  it("stay wide enough to press", () => {
    const { blocks } = blocksOf([visit({ endMin: 451 })], SPAN, 16);
    expect(blocks[0]?.widthPx).toBe(MIN_BLOCK_PX);
  });
  it("never cover each other, and need no second lane unless times overlap", () => {
    const times = fc.record({
      day: fc.nat(6),
      start: fc.nat(1000),
      minutes: fc.integer({ min: 1, max: 600 }),
    });
    fc.assert(
      fc.property(fc.array(times, { maxLength: 20 }), (list) => {
        const visits = list.map(({ day, start, minutes }, i) =>
          visit({
            id: `v${i}`,
            startDay: day,
            startMin: start,
            endDay: day,
            endMin: Math.min(1440, start + minutes),
          }),
        );
        const { blocks, lanes } = blocksOf(visits, SPAN, 136);
        const at = (v: BoardVisit, end: boolean): number =>
          end ? v.endDay * 1440 + v.endMin : v.startDay * 1440 + v.startMin;
        const overlap = (a: BoardVisit, b: BoardVisit): boolean =>
          at(a, false) < at(b, true) && at(b, false) < at(a, true);
        for (const a of blocks) {
          for (const b of blocks) {
            if (a !== b && a.lane === b.lane) expect(overlap(a.visit, b.visit)).toBe(false);
          }
        }
        if (!visits.some((a) => visits.some((b) => a !== b && overlap(a, b)))) expect(lanes).toBe(1);
      }),
    );
  });
});

describe("the name of a visit of several days", () => {
  const again = (from: [number, number], to: [number, number], dayPx: number) => {
    const long = visit({ startDay: from[0], startMin: from[1], endDay: to[0], endMin: to[1] });
    const [block] = blocksOf([long], SPAN, dayPx).blocks;
    return namesAgainPx(block!, from[0] * dayPx, dayPx);
  };
  it("stands on each of its days that has room for it", () => {
    // Friday noon to Monday 15:30: 68 px of Friday, then three days from their left edges on.
    expect(again([4, 720], [7, 930], 136)).toEqual([74, 210, 346]);
    // From 15:00 on Friday's name takes some of Saturday: the next one is Sunday's.
    expect(again([4, 900], [7, 930], 136)).toEqual([169.2, 305.2].map((px) => expect.closeTo(px, 6)));
    expect(again([4, 480], [4, 930], 136)).toEqual([]);
    expect(again([4, 480], [7, 930], 44)).toEqual([]);
  });
});

describe("what of a board is drawn", () => {
  it("is all that is in view, in whole chunks, within the board", () => {
    expect(rangeIn(0, 700, 100, 182, 7)).toEqual({ from: 0, to: 14 });
    expect(rangeIn(1500, 700, 100, 182, 7)).toEqual({ from: 14, to: 28 });
    expect(rangeIn(18_000, 700, 100, 182, 7)).toEqual({ from: 175, to: 182 });
  });
  it("comes in chunks of days: those in view, those that reach into it, and the one with the cursor", () => {
    const long = visit({ id: "long", startDay: 5, endDay: 9 });
    const { blocks } = blocksOf([long, visit({ id: "late", startDay: 20, endDay: 20 })], SPAN, 100);
    const chunks = chunksOf(blocks, 30, 7);
    expect(chunks.map((c) => [c.firstDay, c.lastDay, c.blocks.length])).toEqual([
      [0, 9, 1],
      [7, 13, 0],
      [14, 20, 1],
      [21, 27, 0],
      [28, 34, 0],
    ]);
    const shown = (from: number, to: number, cursor?: number): number[] =>
      chunksInView(chunks, from, to, cursor).map((c) => c.firstDay);
    expect(shown(7, 14)).toEqual([0, 7]);
    expect(shown(14, 21)).toEqual([14]);
    expect(shown(14, 21, 29)).toEqual([14, 28]);
    expect(chunksOf(blocks, 30, 14).map((c) => [c.firstDay, c.toDay, c.lastDay, c.blocks.length])).toEqual([
      [0, 14, 13, 1],
      [14, 28, 27, 1],
      [28, 42, 41, 0],
    ]);
  });
  it("draws what began before the board from its edge, in the cell of its first day", () => {
    const begun = visit({ id: "a", startDay: -3, startMin: 900, endDay: 0, endMin: 720 });
    const { blocks } = blocksOf(
      [begun, visit({ id: "b", startDay: 0, startMin: 780, endDay: 0, endMin: 900 })],
      SPAN,
      100,
    );
    expect(blocks.map((b) => [b.visit.id, b.leftPx, b.widthPx])).toEqual([
      ["a", 0, 50],
      ["b", 60, 20],
    ]);
    expect(chunksOf(blocks, 14, 7).map((c) => c.blocks.length)).toEqual([2, 0]);
    expect(cellDayOf(begun)).toBe(0);
  });
  it("joins days off for the same reason", () => {
    const days = [true, false, false, false, true].map((works, day) => ({
      works,
      why: works ? undefined : day < 3 ? "weekend" : "leave",
    }));
    expect(offRuns(days, 0, 9)).toEqual([
      { from: 1, to: 3, why: "weekend" },
      { from: 3, to: 4, why: "leave" },
    ]);
    expect(offRuns(days, 2, 3)).toEqual([{ from: 2, to: 3, why: "weekend" }]);
  });
  it("stacks rows of different heights", () => expect(topsOf([60, 120, 60])).toEqual([0, 60, 180, 240]));
});

describe("the words of a visit", () => {
  const first = calendarDate("2026-11-23");
  it("say kind, place, time and every state, so that no sign stands alone", () => {
    const words = visitWords(
      visit({
        isLate: true,
        isPinned: true,
        weather: { state: "tight", text: "gust 11.8 of 13.0 m/s" },
        kit: { state: "short", text: "drum 14 m short" },
      }),
      first,
      EN,
    );
    expect(words.replaceAll("\u00a0", " ")).toBe(
      "Install KRA-012 at S-104; Wed 25 Nov 07:30 to 16:00; after the promise date; pinned; " +
        "weather: close to a limit (gust 11.8 of 13.0 m/s); kit: short (drum 14 m short)",
    );
  });
  it("give no time to a visit that is not placed, but the rule that stops it", () => {
    const words = visitWords(visit({ crewId: null, rule: "Spectrum licence open" }), first, EN);
    expect(words).toBe("Install KRA-012 at S-104; not placed: Spectrum licence open");
  });
});
