import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fromDayNumber, instantAt, localOf } from "@/lib/time";
import { epochMinOf, wallClock, wallOf } from "../../../lib/weather/wall-clock";

const FROM = Date.UTC(2024, 0, 1);
const TO = Date.UTC(2026, 11, 31);
const ZONES = [
  "UTC",
  "Europe/Berlin",
  "America/New_York",
  "Asia/Kolkata",
  "Australia/Lord_Howe", // changes by half an hour
  "Africa/Casablanca", // leaves and takes up its offset around one month a year
  "America/Santiago", // changes at midnight
  "Atlantic/Azores",
];
const clocks = new Map(ZONES.map((zone) => [zone, wallClock(zone, FROM, TO)]));

describe("wallClock", () => {
  it("reads the clock as the zone's rules do", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...ZONES),
        fc.integer({ min: FROM / 60_000, max: TO / 60_000 }),
        (zone, minute) => {
          const wall = wallOf(clocks.get(zone)!, minute);
          const local = localOf(minute * 60_000, zone);
          expect({ date: fromDayNumber(wall.day), minuteOfDay: wall.minuteOfDay }).toEqual(local);
        },
      ),
      { seed: 1, numRuns: 500 },
    );
  });

  it("finds the instant of a clock time, also around every change", () => {
    for (const zone of ZONES) {
      const clock = clocks.get(zone)!;
      const around = [...clock.fromMin].slice(1).map((m) => wallOf(clock, m - 120).day);
      for (const day of around) {
        for (let minute = 0; minute <= 1440; minute += 15) {
          const expected = instantAt(fromDayNumber(day), minute, zone) / 60_000;
          expect(epochMinOf(clock, day, minute), `${zone} ${fromDayNumber(day)} ${minute}`).toBe(expected);
        }
      }
    }
  });
});
