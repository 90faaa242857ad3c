import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { HourMask, ShiftWeek, SpellSegment, WorkClass } from "@/lib/weather";
import { clockOfMask, earliestFinish, finishTables, WORK_CLASSES } from "@/lib/weather";
import { advance, newProgress, type WorkPart } from "../../../lib/weather/finish";
import { addLostTime, noLostTime } from "../../../lib/weather/lost-time";
import { minutesInShift, walk } from "./minute-walk";
import { MONDAY } from "./weather-fixtures";

const ALL = (1 << WORK_CLASSES.length) - 1;
const bit = (c: WorkClass) => 1 << WORK_CLASSES.indexOf(c);
const WEEKDAYS_8_TO_16: ShiftWeek = [
  ...Array.from({ length: 5 }, () => ({ fromMin: 480, toMin: 960 })),
  null,
  null,
];

function maskOf(hours: number, workable: (h: number) => number, startsAtMillis = MONDAY): HourMask {
  return {
    startsAtMillis,
    hours,
    workable: Uint8Array.from({ length: hours }, (_, h) => workable(h)),
    factor: new Uint8Array(hours * WORK_CLASSES.length),
  };
}

const tablesOf = (mask: HourMask, shift: ShiftWeek, zone = "UTC") =>
  finishTables(mask, shift, clockOfMask(mask, zone));

const aloft = (durationMin: number, splittable = true): SpellSegment => ({
  workClass: "aloft",
  durationMin,
  splittable,
});

describe("earliestFinish", () => {
  it("works through in one shift when the weather is fine", () => {
    const tables = tablesOf(
      maskOf(48, () => ALL),
      WEEKDAYS_8_TO_16,
    );
    expect(earliestFinish(tables, [aloft(300)], 0)).toEqual({ startMin: 480, finishMin: 780 });
  });

  it("pauses splittable work over the shift's end", () => {
    const tables = tablesOf(
      maskOf(48, () => ALL),
      WEEKDAYS_8_TO_16,
    );
    expect(earliestFinish(tables, [aloft(600)], 0)).toEqual({ startMin: 480, finishMin: 1440 + 480 + 120 });
  });

  it("ends a task that fills the shift at the shift's end, not at the next begin", () => {
    const tables = tablesOf(
      maskOf(48, () => ALL),
      WEEKDAYS_8_TO_16,
    );
    expect(earliestFinish(tables, [aloft(480)], 0)?.finishMin).toBe(960);
  });

  it("keeps unbroken work for a stretch that is long enough", () => {
    const bad = maskOf(48, (h) => (h === 10 ? ALL & ~bit("aloft") : ALL));
    const tables = tablesOf(bad, WEEKDAYS_8_TO_16);
    expect(earliestFinish(tables, [aloft(180, false)], 0)).toEqual({ startMin: 660, finishMin: 840 });
    expect(earliestFinish(tables, [aloft(360, false)], 0)).toEqual({
      startMin: 1440 + 480,
      finishMin: 1440 + 840,
    });
  });

  it("does not work at the weekend of that crew", () => {
    const tables = tablesOf(
      maskOf(24 * 9, () => ALL),
      WEEKDAYS_8_TO_16,
    );
    const fridayAt15 = 4 * 1440 + 900;
    expect(earliestFinish(tables, [aloft(120)], fridayAt15)?.finishMin).toBe(7 * 1440 + 480 + 60);
  });

  it("holds segments of one spell together", () => {
    const bad = maskOf(48, (h) => (h === 11 ? ALL & ~bit("open connection") : ALL));
    const tables = tablesOf(bad, WEEKDAYS_8_TO_16);
    const connect: SpellSegment = {
      workClass: "open connection",
      durationMin: 120,
      splittable: true,
      spell: "S",
    };
    const apart = { ...connect, spell: undefined };
    expect(earliestFinish(tables, [apart, apart], 0)).toEqual({ startMin: 480, finishMin: 780 });
    expect(earliestFinish(tables, [connect, connect], 0)).toEqual({ startMin: 720, finishMin: 960 });
  });

  it("is null when the mask ends first, and tells how far it came", () => {
    const tables = tablesOf(
      maskOf(24, () => ALL),
      WEEKDAYS_8_TO_16,
    );
    expect(earliestFinish(tables, [aloft(500)], 0)).toBeNull();
    const p = advance(tables, [aloft(100), aloft(400)], 0, newProgress());
    expect(p).toMatchObject({ isDone: false, segment: 1, remainingMin: 20, startMin: 480 });
  });

  it("reads the crew's shift on the site's clock through a clock change", () => {
    // Europe/Berlin, night to Sunday 30 March 2025: 02:00 becomes 03:00. Saturday 06:00 UTC+1, Sunday UTC+2.
    const start = Date.UTC(2025, 2, 29);
    const everyDay: ShiftWeek = Array.from({ length: 7 }, () => ({ fromMin: 480, toMin: 960 }));
    const tables = tablesOf(
      maskOf(72, () => ALL, start),
      everyDay,
      "Europe/Berlin",
    );
    expect(earliestFinish(tables, [aloft(60)], 0)).toEqual({ startMin: 7 * 60, finishMin: 8 * 60 });
    expect(earliestFinish(tables, [aloft(60)], 1440)).toEqual({
      startMin: 1440 + 6 * 60,
      finishMin: 1440 + 7 * 60,
    });
  });

  it("agrees with walking minute by minute", () => {
    const segment = fc.record({
      workClass: fc.constantFrom<WorkClass>("aloft", "open connection", "indoor"),
      durationMin: fc.integer({ min: 0, max: 500 }),
      splittable: fc.boolean(),
      spell: fc.option(fc.constantFrom("S", "T"), { nil: undefined }),
    });
    const day = fc.option(
      fc
        .tuple(fc.integer({ min: 0, max: 1440 }), fc.integer({ min: 0, max: 1800 }))
        .map(([a, b]) => ({ fromMin: Math.min(a, b), toMin: Math.max(a, b) })),
      { nil: null, freq: 4 },
    );
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(0, bit("aloft"), bit("open connection"), ALL, ALL, ALL), {
          minLength: 1,
          maxLength: 160,
        }),
        fc.array(segment, { maxLength: 5 }),
        fc.array(day, { minLength: 7, maxLength: 7 }),
        fc.integer({ min: 0, max: 4000 }),
        fc.constantFrom("UTC", "Europe/Berlin", "Asia/Kolkata"),
        (hours, segments, shift, startMin, zone) => {
          const start = Date.UTC(2025, 2, 28); // the change to summer time in Berlin lies inside
          const mask = maskOf(hours.length, (h) => hours[h]!, start);
          const tables = tablesOf(mask, shift, zone);
          const found = earliestFinish(tables, segments, startMin);
          expect(found?.finishMin ?? null).toEqual(
            walk(mask, minutesInShift(mask, shift, zone), segments, startMin),
          );
        },
      ),
      { numRuns: 300, seed: 4 },
    );
  });
});

describe("addLostTime", () => {
  it("counts shift minutes lost, by cause, and hours that suited but were too few", () => {
    const mask = maskOf(48, (h) => (h === 9 || h === 11 ? ALL & ~bit("aloft") : ALL));
    const c = WORK_CLASSES.indexOf("aloft");
    mask.factor[9 * WORK_CLASSES.length + c] = 2; // gust
    mask.factor[11 * WORK_CLASSES.length + c] = 3; // rain
    const tables = tablesOf(mask, WEEKDAYS_8_TO_16);
    const segments = [aloft(120, false)];
    const parts: WorkPart[] = [];
    advance(tables, segments, 0, newProgress(), parts);
    const lost = noLostTime();
    addLostTime(mask, tables, segments, parts, lost);
    expect(parts).toEqual([{ segment: 0, readyMin: 0, startMin: 720, endMin: 840 }]);
    expect(lost.lostMin.gust).toBe(60);
    expect(lost.lostMin.rain).toBe(60);
    expect(lost.shortSpellMin).toBe(120);
  });
});
