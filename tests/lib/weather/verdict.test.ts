import { describe, expect, it } from "vitest";
import { DEFAULT_WEATHER_POLICY, verdictAt, type WorkClass } from "@/lib/weather";
import { type HourValues, policyWith, SITE, seriesOf } from "./weather-fixtures";

const NOON = 36;
const textOf = (values: HourValues, workClass: WorkClass = "aloft", hour = NOON) =>
  verdictAt(
    seriesOf(72, (h) => (h === NOON ? values : {})),
    SITE,
    DEFAULT_WEATHER_POLICY,
    workClass,
    hour,
  ).text;

describe("verdictAt", () => {
  it("shows the figure and the limit that it met", () => {
    expect(textOf({ wind: 6, gust: 14.2 })).toBe("gust 14.2 > 13.0 m/s");
    expect(textOf({ rain: 1.2 })).toBe("rain 1.2 > 0.5 mm/h");
    expect(textOf({ temp: 3 }, "open connection")).toBe("temperature 3.0 < 5.0 degC");
    expect(textOf({ thunder: 1 })).toBe("thunder within reach");
    expect(textOf({ wind: Number.NaN, rain: Number.NaN })).toBe("no data: wind, gust, rain");
    expect(textOf({ temp: -1, rain: 0.1 })).toBe("icing: wet at -1.0 degC");
  });

  it("shows enough decimals to tell the figure from the limit", () => {
    expect(textOf({ wind: 6, gust: 13.01 })).toBe("gust 13.01 > 13.00 m/s");
  });

  it("says how long to wait", () => {
    expect(textOf({ thunder: 1 }, "aloft", NOON + 1)).toBe("thunder 1 h ago: wait 0.5 h after the last");
    expect(textOf({ rain: 1 }, "open connection", NOON + 2)).toBe("dry for 1 of 2 h");
  });

  it("says when daylight is", () => {
    expect(textOf({}, "aloft", 48)).toBe("outside daylight, 03:21 to 20:36");
  });

  it("names the figure closest to its limit in a workable hour", () => {
    expect(textOf({ wind: 6, gust: 11.8 })).toBe("gust 11.8 of 13.0 m/s");
    expect(textOf({ temp: 5.5 }, "open connection")).toBe("temperature 5.5, limit 5.0 degC");
    expect(textOf({}, "indoor")).toBe("no limit from the weather");
  });

  it("knows nothing outside the series", () => {
    const verdict = verdictAt(seriesOf(24), SITE, policyWith({}), "aloft", 24);
    expect(verdict).toEqual({ workable: false, factor: "no data", text: "no data: outside the series" });
  });
});
