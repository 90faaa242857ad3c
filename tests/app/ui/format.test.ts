import { describe, expect, it } from "vitest";
import {
  formatAmount,
  formatClock,
  formatCm,
  formatCount,
  formatDate,
  formatDuration,
  formatHours,
  formatInColumn,
  formatInstant,
  formatMetres,
  formatMoney,
  formatNumber,
  formatQuantity,
  formatShare,
  formatWeek,
  NO_VALUE,
  withFeet,
  withSpeedsBeside,
} from "@/app/_ui/format";
import { calendarDate } from "@/lib/time";

/** Locales put several kinds of space between figure and unit; for a reader they are the same. */
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, " ");

describe("numbers", () => {
  it("group by thousands and keep at most the asked decimals", () => {
    expect(formatNumber(1234.56, 1)).toBe("1,234.6");
    expect(formatNumber(1234.5, 0, "de-CH")).toMatch(/^1['’]235$/); // the apostrophe differs by edition of the locale data
  });
  it("keep trailing noughts where a column must line up", () => {
    expect(formatNumber(3, 1, "en-GB", true)).toBe("3.0");
  });
  it("show a dash for what is not known, never NaN or null", () => {
    for (const missing of [undefined, null, Number.NaN]) {
      expect(formatNumber(missing)).toBe(NO_VALUE);
      expect(formatMetres(missing)).toBe(NO_VALUE);
      expect(formatHours(missing)).toBe(NO_VALUE);
      expect(formatDuration(missing)).toBe(NO_VALUE);
      expect(formatMoney(missing, "EUR")).toBe(NO_VALUE);
      expect(formatClock(missing)).toBe(NO_VALUE);
      expect(formatInstant(missing, "UTC")).toBe(NO_VALUE);
    }
    expect(formatDate(undefined)).toBe(NO_VALUE);
  });
});

describe("units", () => {
  it("writes metres to the tenth and cable to the centimetre", () => {
    expect(plain(formatMetres(42.04))).toBe("42 m");
    expect(plain(formatCm(4705))).toBe("47.05 m");
    expect(plain(formatCm(4700))).toBe("47.00 m");
  });
  it("turns minutes into hours for planners and into a clock's words for crews", () => {
    expect(plain(formatHours(390))).toBe("6.5 h");
    expect(plain(formatDuration(390))).toBe("6 h 30 min");
    expect(plain(formatDuration(60))).toBe("1 h");
    expect(plain(formatDuration(0))).toBe("0 min");
    expect(plain(formatDuration(59.6))).toBe("1 h");
    expect(plain(formatDuration(-90))).toBe("-1 h 30 min");
  });
  it("counts stock units as people say them", () => {
    expect(plain(formatAmount(1, "roll"))).toBe("1 roll");
    expect(plain(formatAmount(4, "roll"))).toBe("4 rolls");
    expect(plain(formatAmount(12.5, "m"))).toBe("12.5 m");
  });
  it("writes money from minor units with the currency's own decimals", () => {
    expect(formatMoney(123456, "EUR")).toBe("€1,234.56");
    expect(formatMoney(123456, "JPY")).toBe("JP¥123,456");
    expect(plain(formatMoney(123456, "KWD"))).toBe("KWD 123.456");
    expect(formatMoney(123456, "EUR", "en-GB", true)).toBe("€1,235");
  });
  it("writes shares as per cent in the reader's way", () => {
    expect(formatShare(0.634)).toBe("63%");
    expect(plain(formatShare(0.634, 1, "de-DE"))).toBe("63,4 %");
  });
});

describe("dates and times", () => {
  it("writes a calendar date without a zone shifting it", () => {
    expect(plain(formatDate(calendarDate("2026-03-03")))).toBe("Tue 3 Mar 2026");
    expect(plain(formatDate(calendarDate("2026-03-03"), "day"))).toBe("3 Mar");
    expect(plain(formatDate(calendarDate("2026-09-30"), "month"))).toBe("Sep 2026");
    expect(plain(formatDate(calendarDate("2026-12-31"), "weekday", "de-DE"))).toContain("31. Dez");
  });
  it("names the ISO week, and its own year at the turn of the year", () => {
    expect(formatWeek(calendarDate("2027-01-01"))).toBe("W53");
    expect(formatWeek(calendarDate("2027-01-01"), true)).toBe("W53 2026");
  });
  it("writes a minute of the day as a clock, and says when it is another day", () => {
    expect(formatClock(450)).toBe("07:30");
    expect(formatClock(1500)).toBe("01:00 (+1 day)");
    expect(formatClock(-60)).toBe("23:00 (-1 day)");
  });
  it("shows an instant on the site's wall with the zone's name", () => {
    const noonUtc = Date.UTC(2026, 0, 5, 12);
    expect(plain(formatInstant(noonUtc, "Europe/Zurich"))).toBe("Mon 5 Jan 2026, 13:00 CET");
    expect(plain(formatInstant(noonUtc, "Asia/Kolkata"))).toBe("Mon 5 Jan 2026, 17:30 GMT+5:30");
  });
  it("puts a count before its word", () => {
    expect(formatCount(1, "visit")).toBe("1 visit");
    expect(formatCount(1200, "visit")).toBe("1,200 visits");
  });
});

describe("feet and miles per hour beside metric", () => {
  const feet = withFeet("en-GB");

  // International yard and pound agreement (1959): a foot is 0.3048 m, a mile 1,609.344 m.
  it("stand behind metres and metres per second", () => {
    expect(plain(formatMetres(30.48, feet))).toBe("30.5 m (100 ft)");
    expect(plain(formatQuantity(44.704, "m/s", 1, feet))).toBe("44.7 m/s (100 mph)");
    expect(plain(formatQuantity(10, "m/s", 0, withFeet("de-DE")))).toBe("10 m/s (22 mph)");
  });

  it("stand in columns whose head names the unit, and behind the speeds of a sentence", () => {
    expect(plain(formatInColumn(30.48, "m", 1, feet))).toBe("30.5 (100 ft)");
    expect(plain(formatInColumn(30.48, "m", 1))).toBe("30.5");
    expect(plain(formatInColumn(7.4, "km", 1, feet))).toBe("7.4");
    expect(formatInColumn(undefined, "m", 1, feet)).toBe(NO_VALUE);
    expect(plain(withSpeedsBeside("gust 11.8 of 13.0 m/s", feet))).toBe(
      "gust 11.8 of 13.0 m/s (26 of 29 mph)",
    );
    expect(plain(withSpeedsBeside("near end: wind 14.2 > 12.0 m/s; far end: rain", feet))).toBe(
      "near end: wind 14.2 > 12.0 m/s (32 > 27 mph); far end: rain",
    );
    expect(plain(withSpeedsBeside("Böe 11,8 von 13,0 m/s", withFeet("de-DE")))).toBe(
      "Böe 11,8 von 13,0 m/s (26 von 29 mph)",
    );
    expect(withSpeedsBeside("gust 11.8 of 13.0 m/s", "en-GB")).toBe("gust 11.8 of 13.0 m/s");
  });

  it("stand behind nothing else, and only when asked for", () => {
    expect(plain(formatQuantity(6, "h", 1, feet))).toBe("6 h");
    expect(plain(formatMetres(30.48))).toBe("30.5 m");
    expect(formatMetres(null, feet)).toBe(NO_VALUE);
  });

  it("leave dates and numbers as the language writes them", () => {
    const date = calendarDate("2026-03-03");
    expect(formatDate(date, "full", feet)).toBe(formatDate(date, "full", "en-GB"));
    expect(formatDate(date, "full", withFeet("de-DE"))).toBe(formatDate(date, "full", "de-DE"));
    expect(formatNumber(1234.5, 1, withFeet("de-DE"))).toBe("1.234,5");
  });
});
