import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addDays, calendarDate, localOf } from "@/lib/time";
import { dayMasks, type HourMask, WORK_CLASSES } from "@/lib/weather";

const INDOOR = WORK_CLASSES.indexOf("indoor");

function maskOf(startsAtMillis: number, bits: readonly number[]): HourMask {
  return {
    startsAtMillis,
    hours: bits.length,
    workable: Uint8Array.from(bits),
    factor: new Uint8Array(bits.length * WORK_CLASSES.length),
  };
}
const open = 1 << INDOOR;

/** Days of the one class as hour lists, for reading. */
function hoursOf(masks: Uint32Array, dayCount: number, day: number): number[] {
  return Array.from({ length: 24 }, (_, h) => h).filter((h) => (masks[INDOOR * dayCount + day]! >> h) & 1);
}

describe("dayMasks", () => {
  it("puts each hour on the site's clock", () => {
    const mask = maskOf(
      Date.UTC(2025, 6, 1),
      Array.from({ length: 48 }, (_, h) => (h === 6 ? open : 0)),
    );
    const masks = dayMasks(mask, "Europe/Berlin", calendarDate("2025-07-01"), 1);
    expect(hoursOf(masks, 1, 0)).toEqual([8]);
  });

  it("leaves out the hour that a clock change skips", () => {
    const mask = maskOf(Date.UTC(2025, 2, 29, 12), new Array(48).fill(open));
    const masks = dayMasks(mask, "Europe/Berlin", calendarDate("2025-03-30"), 1);
    expect(hoursOf(masks, 1, 0)).toEqual([0, 1, ...Array.from({ length: 21 }, (_, i) => i + 3)]);
  });

  it("asks for both passes of the hour that a clock change repeats", () => {
    // Europe/Berlin 26 October 2025: 02:00 to 03:00 runs at 00:00 and at 01:00 UTC
    const from = Date.UTC(2025, 9, 25, 12);
    const repeatedAt = 12 + 1;
    const masks = (bad: number) =>
      dayMasks(
        maskOf(
          from,
          Array.from({ length: 48 }, (_, h) => (h === bad ? 0 : open)),
        ),
        "Europe/Berlin",
        calendarDate("2025-10-26"),
        1,
      );
    expect(hoursOf(masks(-1), 1, 0)).toHaveLength(24);
    expect(hoursOf(masks(repeatedAt - 1), 1, 0)).not.toContain(2);
    expect(hoursOf(masks(repeatedAt), 1, 0)).not.toContain(2);
    expect(hoursOf(masks(repeatedAt), 1, 0)).toHaveLength(23);
  });

  it("needs both UTC hours where the zone keeps half hours", () => {
    const mask = maskOf(
      Date.UTC(2025, 6, 1),
      Array.from({ length: 48 }, (_, h) => (h === 6 ? 0 : open)),
    );
    const masks = dayMasks(mask, "Asia/Kolkata", calendarDate("2025-07-01"), 1);
    // 06:00 to 07:00 UTC is 11:30 to 12:30; the day begins before the mask does
    const closed = Array.from({ length: 24 }, (_, h) => h).filter((h) => !hoursOf(masks, 1, 0).includes(h));
    expect(closed).toEqual([0, 1, 2, 3, 4, 5, 11, 12]);
  });

  it("closes hours outside the mask", () => {
    const mask = maskOf(Date.UTC(2025, 6, 2), new Array(24).fill(open));
    const masks = dayMasks(mask, "UTC", calendarDate("2025-07-01"), 3);
    expect([0, 1, 2].map((d) => hoursOf(masks, 3, d).length)).toEqual([0, 24, 0]);
  });

  it("sets an hour only if every minute of it is workable, in any zone", () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(0, open, open, open), { minLength: 24, maxLength: 120 }),
        fc.constantFrom("Europe/Berlin", "Australia/Lord_Howe", "America/Santiago", "Asia/Kathmandu"),
        fc.constantFrom("2025-03-29", "2025-04-05", "2025-09-06", "2025-10-04", "2025-10-25"),
        (bits, zone, first) => {
          const start = Date.parse(`${first}T00:00:00Z`);
          const mask = maskOf(start, bits);
          const firstDay = calendarDate(first);
          const masks = dayMasks(mask, zone, firstDay, 4);
          const expected = new Map<string, boolean>();
          for (let m = -1440; m < 6 * 1440; m += 15) {
            const local = localOf(start + m * 60_000, zone);
            const key = `${local.date} ${Math.floor(local.minuteOfDay / 60)}`;
            const isOpen = m >= 0 && m < bits.length * 60 && bits[Math.floor(m / 60)] !== 0;
            expected.set(key, (expected.get(key) ?? true) && isOpen);
          }
          for (let d = 0; d < 4; d++) {
            const hours = hoursOf(masks, 4, d);
            for (let h = 0; h < 24; h++) {
              const key = `${addDays(firstDay, d)} ${h}`;
              expect(hours.includes(h), `${zone} ${key}`).toBe(expected.get(key) ?? false);
            }
          }
        },
      ),
      { seed: 3, numRuns: 60 },
    );
  });
});
