/** Sun rise, set and twilight against almanac rows and an independent library. */
import * as SunCalc from "suncalc";
import { describe, expect, it } from "vitest";
import { Random } from "@/lib/random";
import { calendarDate, fromDayNumber } from "@/lib/time";
import { type SunTimes, sunTimes } from "@/lib/weather";

const USNO = "US Naval Observatory one-day data quoted on a stored page, converted from UT+1 (V)";
const NOAA = "own implementation of the NOAA algorithm iterated per event, and suncalc 2.0.2 (R)";

type Event = "rise" | "set" | "noon" | "dawn" | "dusk";
interface Row {
  source: string;
  place: [number, number];
  date: string;
  /** null = the event does not happen. */
  events: Partial<Record<Event, string | null>>;
  polar?: SunTimes["polar"];
  toleranceS: number;
}

const rows: Row[] = [
  {
    source: USNO,
    place: [69.5, 19],
    date: "2014-04-01",
    events: {
      dawn: "2014-04-01T02:46Z",
      rise: "2014-04-01T03:50Z",
      noon: "2014-04-01T10:48Z",
      set: "2014-04-01T17:49Z",
      dusk: "2014-04-01T18:53Z",
    },
    toleranceS: 60,
  },
  {
    source: NOAA,
    place: [69.5, 19],
    date: "2014-04-01",
    events: {
      dawn: "2014-04-01T02:45:44Z",
      rise: "2014-04-01T03:49:42Z",
      noon: "2014-04-01T10:47:54Z",
      set: "2014-04-01T17:48:37Z",
      dusk: "2014-04-01T18:53:22Z",
    },
    toleranceS: 5,
  },
  {
    source: USNO,
    place: [69.5, 19],
    date: "2014-04-30",
    events: {
      rise: "2014-04-30T01:29Z",
      noon: "2014-04-30T10:41Z",
      set: "2014-04-30T19:58Z",
      dawn: null,
      dusk: null,
    },
    toleranceS: 60,
  },
  {
    source: USNO,
    place: [69.5, 19],
    date: "2014-05-17",
    events: { rise: "2014-05-16T23:29Z", set: "2014-05-17T22:06Z" },
    toleranceS: 90,
  },
  {
    source: `${USNO}; next set on 25 July`,
    place: [69.5, 19],
    date: "2014-05-18",
    events: { rise: "2014-05-17T23:13Z", set: null },
    toleranceS: 60,
  },
  {
    source: USNO,
    place: [69.5, 19],
    date: "2014-06-21",
    events: { rise: null, set: null, noon: "2014-06-21T10:45:46Z" },
    polar: "day",
    toleranceS: 60,
  },
  {
    source: NOAA,
    place: [69.5, 19],
    date: "2014-12-21",
    events: {
      rise: null,
      set: null,
      dawn: "2014-12-21T08:28:00Z",
      dusk: "2014-12-21T12:56:01Z",
      noon: "2014-12-21T10:42:01Z",
    },
    polar: "night",
    toleranceS: 60,
  },
  {
    source: NOAA,
    place: [50.5, 30.5],
    date: "2013-03-05",
    events: {
      rise: "2013-03-05T04:33:31Z",
      noon: "2013-03-05T10:09:28Z",
      set: "2013-03-05T15:46:19Z",
      dawn: "2013-03-05T04:00:55Z",
      dusk: "2013-03-05T16:18:59Z",
    },
    toleranceS: 5,
  },
  {
    source: NOAA,
    place: [60, 10],
    date: "2024-06-21",
    events: {
      rise: "2024-06-21T01:55:50Z",
      set: "2024-06-21T20:47:57Z",
      dawn: "2024-06-21T00:09:07Z",
      dusk: "2024-06-21T22:34:32Z",
    },
    toleranceS: 5,
  },
  {
    source: NOAA,
    place: [51.5, -0.1167],
    date: "2024-12-21",
    events: {
      rise: "2024-12-21T08:03:54Z",
      set: "2024-12-21T15:53:38Z",
      dawn: "2024-12-21T07:23:34Z",
      dusk: "2024-12-21T16:33:58Z",
    },
    toleranceS: 5,
  },
  {
    source: NOAA,
    place: [0, 0],
    date: "2024-03-20",
    events: { rise: "2024-03-20T06:04:03Z", set: "2024-03-20T18:10:34Z" },
    toleranceS: 5,
  },
  {
    source: NOAA,
    place: [-33.87, 151.21],
    date: "2024-06-21",
    events: { rise: "2024-06-20T21:00:03Z", set: "2024-06-21T06:53:55Z" },
    toleranceS: 5,
  },
];

describe("sunTimes", () => {
  it.each(rows)("$place on $date ($source)", (row) => {
    const sun = sunTimes(calendarDate(row.date), row.place[0], row.place[1]);
    for (const [event, expected] of Object.entries(row.events) as [Event, string | null][]) {
      if (expected === null) expect(sun[event], `${event}: ${row.source}`).toBeUndefined();
      else {
        const offS = Math.abs(sun[event]! - Date.parse(expected)) / 1000;
        expect(offS, `${event} ${new Date(sun[event]!).toISOString()}: ${row.source}`).toBeLessThanOrEqual(
          row.toleranceS,
        );
      }
    }
    expect(sun.polar, row.source).toBe(row.polar);
  });

  it("reads the day on the site's clock where clock and longitude disagree", () => {
    // Apia keeps UTC+13 at 171.8 W: its noon of 21 June falls on 20 June in UTC
    const sun = sunTimes(calendarDate("2024-06-21"), -13.83, -171.77, "Pacific/Apia");
    expect(new Date(sun.noon).toISOString().slice(0, 10)).toBe("2024-06-20");
  });

  it("agrees with an independent library at 10,000 random places and dates away from grazing", () => {
    const random = new Random("sun");
    let compared = 0;
    let worstS = 0;
    for (let i = 0; i < 10_000; i++) {
      const latDeg = random.between(-65, 65);
      const lonDeg = random.between(-180, 180);
      const date = fromDayNumber(14610 + random.below(9000)); // 2010 to 2034
      const ours = sunTimes(date, latDeg, lonDeg);
      const theirs = SunCalc.getTimes(new Date(ours.noon), latDeg, lonDeg);
      const pairs = [
        [ours.noon, theirs.solarNoon],
        [ours.rise, theirs.sunrise],
        [ours.set, theirs.sunset],
        [ours.dawn, theirs.dawn],
        [ours.dusk, theirs.dusk],
      ] as const;
      const half = ((ours.dusk ?? 0) - (ours.dawn ?? 0)) / 3_600_000;
      if (ours.dawn === undefined || ours.dusk === undefined || half > 22.5 || half < 1.5) continue; // grazing
      for (const [a, b] of pairs) {
        if (a === undefined || b === null || b === undefined) continue;
        compared++;
        worstS = Math.max(worstS, Math.abs(a - b.getTime()) / 1000);
      }
    }
    expect(compared).toBeGreaterThan(40_000);
    expect(worstS, "suncalc 2.0.2, seconds").toBeLessThanOrEqual(10);
  });
});
