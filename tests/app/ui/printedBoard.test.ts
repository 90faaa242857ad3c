import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  headZoom,
  PAPER_CREW_PX,
  PAPER_PX,
  printedStrips,
  visitsIn,
  withCodes,
} from "@/app/_ui/board/printed";
import type { BoardVisit, Zoom } from "@/app/_ui/board/types";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";

const SPAN = { fromMin: 420, toMin: 1020 };
/** A Sunday. */
const FIRST = "2026-11-29" as CalendarDate;

const visit = (startDay: number, endDay = startDay, id = `${startDay}-${endDay}`): BoardVisit => ({
  id,
  crewId: "C1",
  kind: "install",
  hopCode: "H1",
  siteCode: "S1",
  startDay,
  startMin: 480,
  endDay,
  endMin: 960,
});

const strips = (zoom: Zoom, seen: { from: number; to: number }, visits: readonly BoardVisit[]) =>
  printedStrips({ firstDay: FIRST, dayCount: 84, visits, zoom }, seen);

describe("the printed board", () => {
  test("has a strip for each calendar week that is in view, without empty ones at its ends", () => {
    const visits = [visit(2), visit(16)];
    expect(strips("week", { from: 0, to: 10 }, visits)).toEqual({
      strips: [{ from: 1, to: 8 }],
      dayPx: 120,
    });
    // The week between two with visits stays: that nothing is planned in it tells something.
    expect(strips("week", { from: 1, to: 16 }, visits).strips).toEqual([
      { from: 1, to: 8 },
      { from: 8, to: 15 },
      { from: 15, to: 22 },
    ]);
  });

  test("puts two of four weeks beside each other, wide enough for the codes of hops", () => {
    const made = strips("4 weeks", { from: 1, to: 29 }, [visit(2), visit(26)]);
    expect(made).toEqual({
      strips: [
        { from: 1, to: 15 },
        { from: 15, to: 29 },
      ],
      dayPx: 60,
    });
    const short = { visit: visit(2), leftPx: 0, widthPx: 9, lane: 0 };
    expect(withCodes([short], 840).blocks[0]!.widthPx).toBe(38);
    expect(headZoom(made.dayPx)).toBe("4 weeks");
    expect(headZoom(120)).toBe("week");
  });

  test("puts two weeks beside each other at twelve weeks too, for signs alone name nothing", () => {
    const { strips: made, dayPx } = strips("12 weeks", { from: 0, to: 84 }, [visit(0), visit(83)]);
    // The first week of the board has its Sunday only.
    expect(made.slice(0, 2)).toEqual([
      { from: 0, to: 8 },
      { from: 8, to: 22 },
    ]);
    expect(made.at(-1)).toEqual({ from: 78, to: 84 });
    expect(made).toHaveLength(7);
    expect(dayPx).toBe(60);
  });

  test("shows every day of a visit in view in exactly one strip, as whole weeks no wider than the paper", () => {
    const days = fc.tuple(fc.nat(83), fc.nat(6)).map(([from, more]) => [from, Math.min(83, from + more)]);
    fc.assert(
      fc.property(
        fc.array(days, { minLength: 1, maxLength: 12 }),
        fc.nat(83),
        fc.integer({ min: 1, max: 84 }),
        fc.constantFrom<Zoom>("day", "week", "4 weeks", "12 weeks"),
        (placed, from, width, zoom) => {
          const seen = { from, to: Math.min(84, from + width) };
          const visits = placed.map(([a, b], at) => visit(a!, b!, String(at)));
          const { strips: made, dayPx } = strips(zoom, seen, visits);
          for (const strip of made) {
            expect(PAPER_CREW_PX + (strip.to - strip.from) * dayPx).toBeLessThanOrEqual(PAPER_PX);
            expect(strip.from === 0 || weekdayOf(addDays(FIRST, strip.from)) === 1).toBe(true);
            for (const v of visitsIn(visits, strip, SPAN)) {
              expect(v.startDay).toBeGreaterThanOrEqual(0);
              expect(v.endDay).toBeLessThan(strip.to - strip.from);
            }
          }
          for (const v of visits)
            for (let day = v.startDay; day <= v.endDay; day++)
              if (day >= seen.from && day < seen.to)
                expect(made.filter((strip) => day >= strip.from && day < strip.to)).toHaveLength(1);
        },
      ),
      { seed: 4, numRuns: 300 },
    );
  });

  test("gives every visit room for its code, on a lane below where the next one follows at once", () => {
    const at = (leftPx: number, widthPx: number) => ({ visit: visit(0), leftPx, widthPx, lane: 0 });
    const made = withCodes([at(0, 20), at(25, 50), at(40, 8), at(100, 20), at(820, 10)], 840);
    expect(made.blocks.map((b) => [b.leftPx, b.widthPx, b.lane])).toEqual([
      [0, 38, 0],
      [25, 50, 1],
      [40, 38, 0],
      [100, 38, 0],
      [802, 38, 0],
    ]);
    expect(made.lanes).toBe(2);
    expect(withCodes([], 840)).toEqual({ blocks: [], lanes: 1 });
  });

  test("never lays a code over another one", () => {
    const blocks = fc.array(fc.tuple(fc.nat(839), fc.integer({ min: 8, max: 90 })), { maxLength: 40 });
    fc.assert(
      fc.property(blocks, (placed) => {
        const sorted = [...placed].sort((a, b) => a[0] - b[0]);
        const made = withCodes(
          sorted.map(([leftPx, width]) => ({
            ...{ visit: visit(0), lane: 0, leftPx },
            widthPx: Math.min(width, 840 - leftPx),
          })),
          840,
        );
        for (const [i, a] of made.blocks.entries()) {
          expect(a.widthPx).toBeGreaterThanOrEqual(38);
          expect(a.leftPx + a.widthPx).toBeLessThanOrEqual(840);
          for (const b of made.blocks.slice(i + 1))
            if (a.lane === b.lane) expect(b.leftPx).toBeGreaterThanOrEqual(a.leftPx + a.widthPx);
        }
      }),
      { seed: 4 },
    );
  });

  test("splits a visit that goes on in the next strip, from the day's begin and to its end", () => {
    const [first, second] = [
      { from: 1, to: 8 },
      { from: 8, to: 15 },
    ].map((days) => visitsIn([visit(7, 8)], days, SPAN));
    expect(first).toMatchObject([{ startDay: 6, startMin: 480, endDay: 6, endMin: 1020 }]);
    expect(second).toMatchObject([{ startDay: 0, startMin: 420, endDay: 0, endMin: 960 }]);
  });
});
