import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addDays,
  calendarDate,
  dayNumber,
  dayOfYear,
  daysBetween,
  fromDayNumber,
  isoWeek,
  parseCalendarDate,
  weekdayOf,
} from "@/lib/time";

describe("parseCalendarDate", () => {
  it.each(["2026-02-29", "2026-13-01", "2026-00-10", "2026-1-1", "26-01-01", "", "2026-01-01T00:00"])(
    "refuses %s",
    (text) => {
      expect(parseCalendarDate(text)).toBeUndefined();
    },
  );

  it("takes the leap day of a leap year", () => {
    expect(parseCalendarDate("2028-02-29")).toBe("2028-02-29");
  });
});

describe("calendarDate", () => {
  it("throws with the text it was given", () => {
    expect(() => calendarDate("31.12.2026")).toThrow("31.12.2026");
  });
});

describe("day arithmetic", () => {
  const day = fc.integer({ min: -100_000, max: 100_000 });

  it("goes to a date and back", () => {
    fc.assert(
      fc.property(day, (n) => {
        expect(dayNumber(fromDayNumber(n))).toBe(n);
      }),
      { seed: 1 },
    );
  });

  it("adds and counts days consistently", () => {
    fc.assert(
      fc.property(day, fc.integer({ min: -5000, max: 5000 }), (n, k) => {
        const date = fromDayNumber(n);
        expect(daysBetween(date, addDays(date, k))).toBe(k);
      }),
      { seed: 2 },
    );
  });

  it("moves the weekday by one each day and the week on Monday", () => {
    fc.assert(
      fc.property(day, (n) => {
        const today = fromDayNumber(n);
        const tomorrow = fromDayNumber(n + 1);
        expect(weekdayOf(tomorrow)).toBe((weekdayOf(today) % 7) + 1);
        const sameWeek = isoWeek(today).week === isoWeek(tomorrow).week;
        expect(sameWeek).toBe(weekdayOf(tomorrow) !== 1);
      }),
      { seed: 3 },
    );
  });

  it("counts the days of the year", () => {
    expect(dayOfYear(calendarDate("2026-01-01"))).toBe(1);
    expect(dayOfYear(calendarDate("2026-12-31"))).toBe(365);
    expect(dayOfYear(calendarDate("2028-12-31"))).toBe(366);
  });
});
