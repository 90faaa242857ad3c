import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeSeries, encodeSeries, spanOfBlock } from "@/lib/weather";
import { seriesOf } from "./weather-fixtures";

const hundredths = (min: number, max: number) =>
  fc.option(
    fc.integer({ min: min * 100, max: max * 100 }).map((n) => n / 100),
    { nil: Number.NaN, freq: 10 },
  );

describe("encodeSeries and decodeSeries", () => {
  it("give back values of two decimals and gaps exactly", () => {
    const hour = fc.record({
      wind: hundredths(0, 60),
      gust: hundredths(0, 90),
      rain: hundredths(0, 200),
      temp: hundredths(-60, 50),
      humidity: hundredths(0, 100),
      thunder: fc.constantFrom(0, 1, Number.NaN),
    });
    fc.assert(
      fc.property(fc.array(hour, { maxLength: 50 }), (hours) => {
        const series = seriesOf(hours.length, (h) => hours[h]!);
        series.source = 'Größe "ü"';
        expect(decodeSeries(encodeSeries(series))).toEqual(series);
      }),
      { seed: 1 },
    );
  });

  it("take 11 bytes an hour beside the head", () => {
    const one = encodeSeries(seriesOf(1000)).length;
    const two = encodeSeries(seriesOf(2000)).length;
    expect(two - one).toBe(11_000);
  });

  it("read a block that lies inside a larger buffer", () => {
    const bytes = encodeSeries(seriesOf(5));
    const larger = new Uint8Array(bytes.length + 7);
    larger.set(bytes, 7);
    expect(decodeSeries(larger.subarray(7))).toEqual(seriesOf(5));
  });

  it("refuse bytes that are no block, or a cut one", () => {
    expect(() => decodeSeries(new Uint8Array(100))).toThrow("not a weather block");
    expect(() => decodeSeries(encodeSeries(seriesOf(5)).subarray(0, -1))).toThrow("expected");
  });
});

it("the span of a block is read from its head", () => {
  const series = seriesOf(30, () => ({}));
  const { startsAtMillis, hours } = spanOfBlock(encodeSeries(series));
  expect({ startsAtMillis, hours }).toEqual({ startsAtMillis: series.startsAtMillis, hours: 30 });
  expect(() => spanOfBlock(new Uint8Array(20))).toThrow(RangeError);
});
