/** Small weather series and sites for the tests of this folder. */
import type { SiteProfile, WeatherPolicy, WeatherSeries } from "@/lib/weather";
import { DEFAULT_WEATHER_POLICY } from "@/lib/weather";

/** Monday 2 June 2025, 00:00 UTC. */
export const MONDAY = Date.UTC(2025, 5, 2);

export interface HourValues {
  wind?: number;
  gust?: number;
  rain?: number;
  temp?: number;
  humidity?: number;
  thunder?: number;
}

/** A fine series (3 m/s, gust 4 m/s, dry, 15 degC, no thunder) with some hours changed. */
export function seriesOf(
  hours: number,
  changed: (hour: number) => HourValues = () => ({}),
  startsAtMillis = MONDAY,
): WeatherSeries {
  const series: WeatherSeries = {
    placeId: "P1",
    kind: "forecast",
    source: "test",
    isMadeUp: true,
    issuedAtMillis: startsAtMillis,
    startsAtMillis,
    hours,
    windMs: new Float32Array(hours),
    gustMs: new Float32Array(hours),
    rainMmH: new Float32Array(hours),
    tempC: new Float32Array(hours),
    humidityPct: new Float32Array(hours),
    thunder: new Float32Array(hours),
  };
  for (let h = 0; h < hours; h++) {
    const v = { wind: 3, gust: 4, rain: 0, temp: 15, humidity: 70, thunder: 0, ...changed(h) };
    series.windMs[h] = v.wind;
    series.gustMs[h] = v.gust;
    series.rainMmH[h] = v.rain;
    series.tempC[h] = v.temp;
    series.humidityPct[h] = v.humidity;
    series.thunder[h] = v.thunder;
  }
  return series;
}

/** 10 m up in open country at 50 N 0 E, no dish, at its place's elevation: figures at the mount = figures at 10 m. */
export const SITE: SiteProfile = {
  heightM: 10,
  terrain: "II",
  latDeg: 50,
  lonDeg: 0,
  elevationM: 0,
  placeElevationM: 0,
  zone: "UTC",
  bandGhz: 18,
};

/** The default policy with some limits of one class changed. */
export function policyWith(
  changes: Partial<{ [C in keyof WeatherPolicy["limits"]]: Partial<WeatherPolicy["limits"][C]> }>,
  rest: Partial<WeatherPolicy> = {},
): WeatherPolicy {
  const limits = { ...DEFAULT_WEATHER_POLICY.limits };
  for (const [c, change] of Object.entries(changes)) {
    const key = c as keyof WeatherPolicy["limits"];
    limits[key] = { ...limits[key], ...change };
  }
  return { ...DEFAULT_WEATHER_POLICY, ...rest, limits };
}
