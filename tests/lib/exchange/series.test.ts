import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { WEATHER_FIELDS } from "@/lib/exchange/hourReader";
import { blockOfSeries, previewWeather, type SeriesInfo, seriesToStore } from "@/lib/exchange/series";
import type { WeatherBlock } from "@/lib/exchange/weather";
import type { WeatherSeries } from "@/lib/weather";

const HOUR = 3_600_000;
const HISTORY: SeriesInfo = {
  kind: "history",
  source: "test",
  isMadeUp: true,
  issuedAtMillis: 0,
  withoutThunder: "unknown",
  nowMillis: Date.UTC(2027, 0, 1),
};
const FORECAST: SeriesInfo = { ...HISTORY, kind: "forecast", issuedAtMillis: 5 };

function stored(...args: Parameters<typeof seriesToStore>): WeatherSeries[] {
  const made = seriesToStore(...args);
  if (!made.ok) throw new Error(JSON.stringify(made.problems));
  return made.value;
}

function block(hours: readonly (readonly [at: number, windMs: number])[]): WeatherBlock {
  const blank = () => new Float32Array(hours.length).fill(Number.NaN);
  return {
    placeCode: "WX-1",
    timeMillis: Float64Array.from(hours, ([at]) => at),
    windMs: Float32Array.from(hours, ([, wind]) => wind),
    gustMs: blank(),
    rainMmH: blank(),
    tempC: blank(),
    humidityPct: blank(),
    thunder: blank(),
  };
}

const at = (year: number, hour: number) => Date.UTC(year, 0, 1) + hour * HOUR;

describe("seriesToStore", () => {
  it("makes one series per calendar year of history, from 1 January, gaps as NaN", () => {
    const made = stored(
      block([
        [at(2024, 8783), 3],
        [at(2025, 0), 4],
        [at(2025, 2), 5],
      ]),
      HISTORY,
    );
    expect(made.map((s) => [s.startsAtMillis, s.hours])).toEqual([
      [at(2024, 0), 8784],
      [at(2025, 0), 8760],
    ]);
    expect([...made[1]!.windMs.subarray(0, 4)]).toEqual([4, Number.NaN, 5, Number.NaN]);
    expect(made[0]!.windMs[8783]).toBe(3);
  });

  it("lays new values over those that stand and keeps what the file leaves blank", () => {
    const [old] = stored(
      block([
        [at(2025, 0), 1],
        [at(2025, 1), 2],
      ]),
      HISTORY,
    );
    old!.tempC[0] = 7;
    const [merged] = stored(
      block([
        [at(2025, 1), 9],
        [at(2025, 2), Number.NaN],
      ]),
      HISTORY,
      [old!],
    );
    expect([...merged!.windMs.subarray(0, 3)]).toEqual([1, 9, Number.NaN]);
    expect(merged!.tempC[0]).toBe(7);
  });

  it("merges with standing series that begin anywhere", () => {
    const [late] = stored(
      block([
        [at(2025, 100), 1],
        [at(2025, 102), 3],
      ]),
      FORECAST,
    );
    const [merged] = stored(block([[at(2025, 101), 2]]), HISTORY, [late!]);
    expect([...merged!.windMs.subarray(99, 104)]).toEqual([Number.NaN, 1, 2, 3, Number.NaN]);
  });

  it("makes one series of a forecast from its first to its last hour", () => {
    const made = stored(
      block([
        [at(2025, 4), 5],
        [at(2025, 6), 7],
      ]),
      FORECAST,
    );
    expect(made).toHaveLength(1);
    expect(made[0]).toMatchObject({
      placeId: "WX-1",
      kind: "forecast",
      startsAtMillis: at(2025, 4),
      hours: 3,
      issuedAtMillis: 5,
    });
    expect([...made[0]!.windMs]).toEqual([5, Number.NaN, 7]);
  });

  it("lays a forecast over what stands of its issue", () => {
    const old = stored(
      block([
        [at(2025, 0), 1],
        [at(2025, 1), 2],
      ]),
      FORECAST,
    );
    const made = stored(
      block([
        [at(2025, 1), 3],
        [at(2025, 2), 4],
      ]),
      FORECAST,
      old,
    );
    expect(made.map((m) => [m.startsAtMillis, ...m.windMs])).toEqual([[at(2025, 0), 1, 3, 4]]);
    const member = stored({ ...block([[at(2025, 1), 3]]), memberNo: 2 }, { ...FORECAST, kind: "member" }, [
      { ...old[0]!, kind: "member", memberNo: 2 },
    ]);
    expect(member.map((m) => [m.memberNo, m.kind, ...m.windMs])).toEqual([[2, "member", 1, 3]]);
  });

  it("refuses a forecast over years, history that has not passed, and an empty block", () => {
    const rules = (...args: Parameters<typeof seriesToStore>) => {
      const made = seriesToStore(...args);
      return made.ok ? [] : made.problems.map((p) => p.rule);
    };
    const years = block([
      [at(2025, 0), 1],
      [at(2026, 0), 1],
    ]);
    expect(rules(years, FORECAST)).toEqual(["forecast-too-long"]);
    expect(rules(block([[at(2027, 5), 1]]), HISTORY)).toContain("future-history");
    expect(rules(block([]), HISTORY)).toEqual(["empty"]);
  });

  it("asks about winds that look like another unit, and lets a person confirm them", () => {
    const fast = block(Array.from({ length: 72 }, (_, h) => [at(2025, h), 30] as const));
    const made = seriesToStore(fast, HISTORY);
    expect(made.ok || made.problems.map((p) => p.rule)).toEqual(["wind-unit"]);
    expect(stored(fast, { ...HISTORY, confirmed: ["wind-unit"] })[0]!.windMs[0]).toBe(30);
  });

  it("leaves thunder unknown without a column, unless a person says there was none", () => {
    const [unknown] = stored(block([[at(2025, 0), 1]]), HISTORY);
    const [none] = stored(block([[at(2025, 0), 1]]), { ...HISTORY, withoutThunder: "none" });
    expect([unknown!.thunder[0], none!.thunder[0], none!.thunder[1]]).toEqual([Number.NaN, 0, Number.NaN]);
  });

  it("gives the block back", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 0, max: 8759 }), { minLength: 1, maxLength: 50 }),
        (hours) => {
          const b = block(hours.sort((x, y) => x - y).map((h) => [at(2025, h), h % 12] as const));
          const [series] = stored(b, HISTORY);
          expect(blockOfSeries("WX-1", series!)).toEqual(b);
          expect(previewWeather(b, [series!])).toMatchObject({
            newHours: 0,
            changedHours: 0,
            sameHours: hours.length,
          });
        },
      ),
    );
  });
});

describe("previewWeather", () => {
  it("counts hours by fate; a blank value changes nothing", () => {
    const [old] = stored(
      block([
        [at(2025, 0), 1],
        [at(2025, 1), 2],
        [at(2025, 2), 3],
      ]),
      HISTORY,
    );
    const b = block([
      [at(2025, 0), 1],
      [at(2025, 1), 9],
      [at(2025, 2), Number.NaN],
      [at(2025, 5), 4],
      [at(2026, 0), 4],
    ]);
    expect(previewWeather(b, [old!])).toEqual({
      placeCode: "WX-1",
      firstMillis: at(2025, 0),
      lastMillis: at(2026, 0),
      newHours: 2,
      changedHours: 1,
      sameHours: 2,
      missingHours: 8761 - 5,
    });
  });

  it("takes every hour of an unknown place for new", () => {
    expect(previewWeather(block([[at(2025, 0), 1]]), [])).toMatchObject({ newHours: 1, missingHours: 0 });
    expect(WEATHER_FIELDS).toHaveLength(6);
  });
});
