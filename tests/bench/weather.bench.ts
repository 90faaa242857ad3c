/**
 * Work windows at full size: a year of hours for 2,000 sites on 200 places, all classes; earliest-finish queries;
 * the stretch of a plan from six past years. Made-up weather, fixed seed.
 * npx tsx tests/bench/weather.bench.ts -- --sites N --places N
 */
import { parseArgs } from "node:util";
import { Random } from "@/lib/random";
import { calendarDate } from "@/lib/time";
import {
  bandedProfile,
  clockOfMask,
  DEFAULT_WEATHER_POLICY,
  decodeSeries,
  earliestFinish,
  encodeSeries,
  finishTables,
  hourMask,
  joinSeries,
  planWindow,
  prepareHistory,
  prepareSeries,
  type ShiftWeek,
  type SiteProfile,
  type SpellSegment,
  stretchOfYear,
  stretchOnDays,
  type WeatherPlace,
  WORK_CLASSES,
  type WorkClass,
} from "@/lib/weather";
import { makeWeather } from "@/seed/weather";

const { values } = parseArgs({
  args: process.argv.slice(2).filter((a) => a !== "--"),
  options: {
    sites: { type: "string", default: "2000" },
    places: { type: "string", default: "200" },
  },
});
const siteCount = Number(values.sites);
const placeCount = Number(values.places);
const random = new Random("weather bench");

const places: WeatherPlace[] = Array.from({ length: placeCount }, (_, i) => ({
  id: `W${i}`,
  name: `W${i}`,
  latDeg: random.between(44, 52),
  lonDeg: random.between(-30, -20),
  elevationM: random.between(0, 300),
}));
const ZONE = "Atlantic/Azores";
const siteAt = (place: WeatherPlace): SiteProfile => ({
  heightM: random.between(15, 80),
  terrain: random.pick(["I", "II", "III"]),
  latDeg: place.latDeg + random.between(-0.2, 0.2),
  lonDeg: place.lonDeg + random.between(-0.2, 0.2),
  elevationM: place.elevationM + random.between(0, 200),
  placeElevationM: place.elevationM,
  zone: ZONE,
  diameterM: random.pick([0.3, 0.6, 1.2, 1.8]),
  bandGhz: random.pick([7, 18, 38]),
});

function timed<T>(run: () => T): { ms: number; value: T } {
  const began = performance.now();
  const value = run();
  return { ms: performance.now() - began, value };
}

/* a year of masks */
const year = makeWeather(random.fork("year"), places, {
  firstHistoryYear: 2025,
  years: 1,
  forecastDays: 0,
  nowMillis: Date.UTC(2026, 0, 1),
});
const sites = Array.from({ length: siteCount }, (_, i) => ({
  series: year[i % placeCount]!,
  place: i % placeCount,
  site: siteAt(places[i % placeCount]!),
}));
const masks = (): number => {
  const prepared = year.map(prepareSeries);
  let open = 0;
  for (const { series, place, site } of sites) {
    const mask = hourMask(series, site, DEFAULT_WEATHER_POLICY, prepared[place]);
    open += mask.workable[4380]!;
  }
  return open;
};
masks();
const cpuBefore = process.cpuUsage().user;
const runs = [timed(masks), timed(masks), timed(masks)].map((r) => r.ms).sort((a, b) => a - b);
const cpuMs = (process.cpuUsage().user - cpuBefore) / 3000;
console.log(
  `year of masks, ${siteCount} sites on ${placeCount} places, ${WORK_CLASSES.length} classes: ` +
    `median ${runs[1]!.toFixed(0)} ms (${runs.map((r) => r.toFixed(0)).join(", ")}), ` +
    `processor ${cpuMs.toFixed(0)} ms; bar 2000 ms`,
);

/* earliest finish */
const SHIFT: ShiftWeek = [...Array.from({ length: 5 }, () => ({ fromMin: 450, toMin: 1020 })), null, null];
const SEGMENTS: SpellSegment[] = [
  { workClass: "ground", durationMin: 60, splittable: true },
  { workClass: "climb", durationMin: 30, splittable: false },
  { workClass: "hoist", durationMin: 90, splittable: false },
  { workClass: "aloft", durationMin: 300, splittable: true },
  { workClass: "open connection", durationMin: 120, splittable: false },
  { workClass: "indoor", durationMin: 60, splittable: true },
];
const sample = sites[0]!;
const mask = hourMask(sample.series, sample.site, DEFAULT_WEATHER_POLICY);
const clock = clockOfMask(mask, ZONE);
const built = timed(() => finishTables(mask, SHIFT, clock));
const QUERIES = 200_000;
const batches: number[] = [];
for (let batch = 0; batch < 21; batch++) {
  const { ms } = timed(() => {
    let sum = 0;
    for (let q = 0; q < QUERIES / 20; q++) {
      sum += earliestFinish(built.value, SEGMENTS, ((q * 7919) % 320) * 1440)?.finishMin ?? 0;
    }
    return sum;
  });
  if (batch > 0) batches.push((ms * 1000) / (QUERIES / 20));
}
batches.sort((a, b) => a - b);
console.log(
  `earliest finish of ${SEGMENTS.length} segments over a year: median ${batches[10]!.toFixed(2)} us, ` +
    `slowest batch ${batches.at(-1)!.toFixed(2)} us; bar 50 us; tables ${built.ms.toFixed(1)} ms`,
);

/* stretch of a plan of 26 weeks from six past years */
const six = joinSeries(
  makeWeather(random.fork("six"), places.slice(0, 1), {
    firstHistoryYear: 2020,
    years: 6,
    forecastDays: 0,
    nowMillis: Date.UTC(2026, 0, 1),
  }),
);
const prepared = prepareSeries(six);
const classes = [...new Set(SEGMENTS.map((s) => s.workClass))] as WorkClass[];
const keys = Array.from({ length: 20 }, () => bandedProfile(siteAt(places[0]!), places[0]!));
const histories = timed(() =>
  keys.map((k) => prepareHistory(six, k, DEFAULT_WEATHER_POLICY, SHIFT, classes, prepared)),
);
const stretched = timed(() =>
  histories.value.map((h) => stretchOnDays(stretchOfYear(h, SEGMENTS), calendarDate("2026-03-02"), 182)),
);
console.log(
  `26 weeks of stretch and risk from six years, for one key of place, band and classes: tables ` +
    `${(histories.ms / keys.length).toFixed(1)} ms, runs ${(stretched.ms / keys.length).toFixed(1)} ms`,
);
const windows = timed(() =>
  stretched.value.map((history, i) =>
    planWindow(keys[i]!, DEFAULT_WEATHER_POLICY, SEGMENTS, calendarDate("2026-03-02"), 182, { history }),
  ),
);
console.log(`plan window of 26 weeks from a known stretch: ${(windows.ms / keys.length).toFixed(2)} ms`);

/* storage */
const encoded = timed(() => year.map(encodeSeries));
const decoded = timed(() => encoded.value.map(decodeSeries));
const bytes = encoded.value.reduce((sum, b) => sum + b.length, 0);
console.log(
  `a year of one place as a block: ${(bytes / year.length / 1024).toFixed(0)} KiB, ` +
    `written in ${(encoded.ms / year.length).toFixed(2)} ms, read in ${(decoded.ms / year.length).toFixed(2)} ms`,
);
