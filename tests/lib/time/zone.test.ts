import fc from "fast-check";
import { Temporal } from "temporal-polyfill";
import { describe, expect, it } from "vitest";
import { calendarDate, instantAt, isKnownZone, localOf, offsetMinutes } from "@/lib/time";

const zones = fc.constantFrom(
  "UTC",
  "Europe/Berlin",
  "America/New_York",
  "Asia/Kolkata",
  "Australia/Lord_Howe",
  "Pacific/Apia",
);

describe("instantAt and localOf", () => {
  it("show the same clock again, except in an hour that is skipped or repeated", () => {
    fc.assert(
      fc.property(zones, fc.integer({ min: 0, max: 40_000_000 }), (zone, minute) => {
        const instant = minute * 60_000;
        const local = localOf(instant, zone);
        const back = instantAt(local.date, local.minuteOfDay, zone);
        expect(localOf(back, zone)).toEqual(local);
      }),
      { seed: 1 },
    );
  });

  it("moves a skipped time forward by the change", () => {
    const skipped = instantAt(calendarDate("2026-03-29"), 150, "Europe/Berlin");
    expect(localOf(skipped, "Europe/Berlin")).toEqual({ date: "2026-03-29", minuteOfDay: 210 });
  });

  it("takes the first of a repeated time", () => {
    const repeated = instantAt(calendarDate("2026-10-25"), 150, "Europe/Berlin");
    expect(new Date(repeated).toISOString()).toBe("2026-10-25T00:30:00.000Z");
  });

  it("reads minutes beyond the day as the next or previous day", () => {
    const date = calendarDate("2026-06-01");
    expect(instantAt(date, 1500, "UTC")).toBe(instantAt(calendarDate("2026-06-02"), 60, "UTC"));
    expect(instantAt(date, -60, "UTC")).toBe(instantAt(calendarDate("2026-05-31"), 1380, "UTC"));
  });
});

// The proposal's reference semantics for zones, by a general-purpose library.
describe("the clock of every zone that the platform knows", () => {
  it("shows what Temporal shows, at any instant from 1900 to 2100", () => {
    const every = fc.constantFrom(...Intl.supportedValuesOf("timeZone"));
    const instants = fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 0, 1) });
    fc.assert(
      fc.property(every, instants, (zone, instant) => {
        const z = Temporal.Instant.fromEpochMilliseconds(instant).toZonedDateTimeISO(zone);
        expect(localOf(instant, zone)).toEqual({
          date: z.toPlainDate().toString(),
          minuteOfDay: z.hour * 60 + z.minute + z.second / 60,
        });
        expect(offsetMinutes(instant, zone)).toBe(Math.round(z.offsetNanoseconds / 6e10) + 0);
      }),
      { seed: 7, numRuns: 3000 },
    );
  });

  it("is read back as Temporal reads it, skipped and repeated times too", () => {
    const every = fc.constantFrom(...Intl.supportedValuesOf("timeZone"));
    const days = fc.integer({ min: 1_096, max: 29_000 }); // 1973 to 2049: until 1972 one zone was off by half a minute
    const check = (zone: string, day: number, minuteOfDay: number) => {
      const date = new Date(day * 86_400_000).toISOString().slice(0, 10);
      const [whole, m] = [Math.floor(minuteOfDay / 1440), ((minuteOfDay % 1440) + 1440) % 1440];
      const wall = Temporal.PlainDate.from(date)
        .add({ days: whole })
        .toPlainDateTime({ hour: Math.floor(m / 60), minute: Math.floor(m % 60) });
      const said = `${zone} ${date} ${minuteOfDay}`;
      expect(`${said}: ${instantAt(calendarDate(date), minuteOfDay, zone)}`).toBe(
        `${said}: ${wall.toZonedDateTime(zone).epochMilliseconds}`,
      );
    };
    fc.assert(fc.property(every, days, fc.integer({ min: -2880, max: 4320 }), check), {
      seed: 3,
      numRuns: 3000,
    });
    // Every quarter of an hour around the changes of zones with a whole day, half an hour and an hour of change.
    for (const [zone, date] of [
      ["Pacific/Apia", "2011-12-30"],
      ["Australia/Lord_Howe", "2026-04-05"],
      ["Australia/Lord_Howe", "2026-10-04"],
      ["Europe/Berlin", "2026-03-29"],
      ["Europe/Berlin", "2026-10-25"],
      ["America/New_York", "2026-11-01"],
    ] as const) {
      const day = Date.parse(date) / 86_400_000;
      for (let m = -1440; m < 2880; m += 15) check(zone, day, m);
    }
  });

  it("is refused for a zone that is not known", () => {
    expect(() => instantAt(calendarDate("2026-03-16"), 0, "Middle/Nowhere")).toThrow(RangeError);
    expect(() => localOf(0, "Middle/Nowhere")).toThrow(RangeError);
  });
});

describe("offsetMinutes", () => {
  it("is positive east and follows the clock change", () => {
    expect(offsetMinutes(Date.UTC(2026, 0, 15), "Europe/Berlin")).toBe(60);
    expect(offsetMinutes(Date.UTC(2026, 6, 15), "Europe/Berlin")).toBe(120);
    expect(offsetMinutes(Date.UTC(2026, 0, 15), "America/New_York")).toBe(-300);
    expect(offsetMinutes(Date.UTC(2026, 0, 15), "Asia/Kolkata")).toBe(330);
  });
});

describe("isKnownZone", () => {
  it("knows IANA names and refuses others", () => {
    expect(isKnownZone("Atlantic/Azores")).toBe(true);
    expect(isKnownZone("Middle/Nowhere")).toBe(false);
  });
});
