import { describe, expect, test } from "vitest";
import type { WorkSegment } from "@/lib/hours";
import { whatHelps } from "@/lib/programme";
import { addDays, calendarDate, instantAt } from "@/lib/time";
import { type HourMask, type ShiftWeek, WORK_CLASSES } from "@/lib/weather";

const MONDAY = calendarDate("2026-03-16");
const START = instantAt(MONDAY, 0, "UTC");
const ALL = (1 << WORK_CLASSES.length) - 1;

const mask = (workable: (hour: number) => boolean): HourMask => ({
  startsAtMillis: START,
  hours: 120,
  workable: Uint8Array.from({ length: 120 }, (_, h) => (workable(h) ? ALL : 0)),
  factor: new Uint8Array(120 * WORK_CLASSES.length),
});

const week = (fromMin: number, toMin: number): ShiftWeek => [
  ...Array.from({ length: 5 }, () => ({ fromMin, toMin })),
  null,
  null,
];

const segment = (durationMin: number, splittable = true): WorkSegment => ({
  workClass: "aloft",
  durationMin,
  splittable,
});

const ask = (
  segments: readonly WorkSegment[],
  workable: (hour: number) => boolean,
  withOneMoreClimberMin = segments.reduce((sum, s) => sum + s.durationMin, 0),
) => {
  const durationMin = segments.reduce((sum, s) => sum + s.durationMin, 0);
  const rows = whatHelps({
    estimate: { segments, durationMin, setupMin: 60, withOneMoreClimberMin },
    mask: mask(workable),
    zone: "UTC",
    shift: week(480, 960),
    lightShift: week(360, 960),
    days: Array.from({ length: 5 }, (_, d) => addDays(MONDAY, d)),
    nowMillis: START,
  });
  return Object.fromEntries(rows.map((r) => [r.help, r]));
};

const at = (dayOffset: number, minute: number) => ({ on: addDays(MONDAY, dayOffset), minute });

describe("what would help", () => {
  test("ten hours in an eight-hour shift: a second day, or first light; one day alone is never enough", () => {
    const rows = ask([segment(600)], () => true);
    expect(rows.usual).toMatchObject({ begins: at(0, 480), ends: at(1, 600) });
    expect(rows["first light"]).toMatchObject({ begins: at(0, 360), ends: at(0, 960) });
    expect(rows["one day only"]?.ends).toBeUndefined();
  });

  test("one more climber shortens the work after the set-up by the estimate's share", () => {
    const rows = ask([segment(60), segment(540)], () => true, 480);
    expect(rows["one more climber"]?.onSiteMin).toBeCloseTo(480, 9);
    expect(rows["one more climber"]).toMatchObject({ begins: at(0, 480), ends: at(0, 960) });
  });

  test("a bad Monday afternoon: splitting buys what one fine day would cost", () => {
    const rows = ask([segment(420)], (h) => h < 12 || h >= 24);
    expect(rows.usual).toMatchObject({ begins: at(0, 480), ends: at(1, 660) });
    expect(rows["one day only"]).toMatchObject({ begins: at(1, 480), ends: at(1, 900) });
  });

  test("what the forecast does not hold has no date", () => {
    expect(ask([segment(480)], (h) => h < 10).usual).toEqual({ help: "usual", onSiteMin: 480 });
  });
});
