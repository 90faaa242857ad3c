import { afterEach, describe, expect, test, vi } from "vitest";
import { demoClockNote, demoWeeksBehind, nowMillis, onProgrammeClock, today } from "@/app/_server/clock";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { writeSetting } from "@/db/queries/settings";
import { calendarDate, type InstantMillis } from "@/lib/time";

const instant = (iso: string) => Date.parse(iso) as InstantMillis;

function demoOf(loadedOn: string, zone = "UTC"): Db {
  const db = memoryDatabase();
  writeSetting(db, "demoLoadedOn", calendarDate(loadedOn));
  writeSetting(db, "demoZone", zone);
  return db;
}

const clockAt = (iso: string) => vi.useFakeTimers({ now: Date.parse(iso), toFake: ["Date"] });

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllEnvs();
});

test("without demonstration data it is the machine's time", () => {
  clockAt("2026-05-06T10:00:00Z");
  const db = memoryDatabase();
  expect(nowMillis(db)).toBe(instant("2026-05-06T10:00:00Z"));
  expect(demoClockNote(db)).toBeUndefined();
});

test("BOTHENDS_NOW stops it, also over a demonstration", () => {
  vi.stubEnv("BOTHENDS_NOW", "2026-03-16T07:30:00Z");
  expect(nowMillis(demoOf("2026-01-01"))).toBe(instant("2026-03-16T07:30:00Z"));
  vi.stubEnv("BOTHENDS_NOW", "soon");
  expect(() => nowMillis(memoryDatabase())).toThrow(RangeError);
});

describe("a moment of the machine's clock", () => {
  const at = instant("2026-06-14T12:00:00Z");

  test("is itself without demonstration data, and no later than where the clock was stopped", () => {
    expect(onProgrammeClock(at, memoryDatabase())).toBe(at);
    vi.stubEnv("BOTHENDS_NOW", "2026-03-16T07:30:00Z");
    expect(onProgrammeClock(at, memoryDatabase())).toBe(instant("2026-03-16T07:30:00Z"));
    expect(onProgrammeClock(instant("2026-03-15T07:30:00Z"), memoryDatabase())).toBe(
      instant("2026-03-15T07:30:00Z"),
    );
  });

  test("stands in the demonstration's week, as it was said then", () => {
    expect(onProgrammeClock(at, demoOf("2026-03-18"))).toBe(instant("2026-03-22T12:00:00Z"));
  });
});

describe("a demonstration's clock", () => {
  test.each([
    ["2026-03-18T08:15:00Z", "2026-03-18T08:15:00Z"], // the day it was loaded for, a Wednesday
    ["2026-03-24T23:59:00Z", "2026-03-24T23:59:00Z"], // its week's last minute
    ["2026-03-25T00:00:00Z", "2026-03-18T00:00:00Z"], // then the week begins again
    ["2026-06-14T12:00:00Z", "2026-03-22T12:00:00Z"], // a Sunday stays a Sunday
    ["2026-03-17T12:00:00Z", "2026-03-17T12:00:00Z"], // a machine set back is believed
  ])("at %s shows %s", (real, shown) => {
    clockAt(real);
    expect(new Date(nowMillis(demoOf("2026-03-18"))).toISOString()).toBe(new Date(shown).toISOString());
  });

  test("counts its week in the zone of the demonstration", () => {
    const demo = { loadedOn: calendarDate("2026-03-18"), zone: "Pacific/Auckland" }; // UTC+13 then
    expect(demoWeeksBehind(demo, instant("2026-03-24T10:59:00Z"))).toBe(0);
    expect(demoWeeksBehind(demo, instant("2026-03-24T11:00:00Z"))).toBe(1);
    clockAt("2026-03-24T10:59:00Z");
    expect(today("Pacific/Auckland", demoOf("2026-03-18", "Pacific/Auckland"))).toBe("2026-03-24");
  });

  test("is said in the banner once it runs behind", () => {
    const db = demoOf("2026-03-18");
    clockAt("2026-03-18T12:00:00Z");
    expect(demoClockNote(db)).toBe("Demonstration with invented data, made for Wednesday 18 March 2026.");
    clockAt("2026-04-02T12:00:00Z");
    expect(demoClockNote(db)).toContain("today counts as Thursday 19 March 2026");
  });
});
