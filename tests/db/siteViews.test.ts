import { beforeEach, describe, expect, test } from "vitest";
import { makeWords } from "@/app/_ui/language/words";
import { packRows, unpackRows } from "@/app/_ui/packRows";
import { type JudgedVisit, planAgainstForecast, withChange } from "@/app/(work)/weather/planAgainstForecast";
import {
  expectedDay,
  ForecastReader,
  isBeyond,
  placeOf,
  profileOf,
  shiftAtSite,
} from "@/app/(work)/weather/siteHours";
import { crewSheet } from "@/app/(work)/week/sheet/crewSheet";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { saveGate, saveHop, saveSite } from "@/db/queries/design";
import { addReport } from "@/db/queries/reports";
import { hopCodesAtSite, loadHopRows, loadReportsOfHops, loadSiteRows } from "@/db/queries/siteViews";
import { storeWeather } from "@/db/queries/storeRows";
import { saveWeatherPlace } from "@/db/queries/weather";
import {
  earlierForecasts,
  endWorkKey,
  type ForecastVisit,
  loadEndWork,
  loadPlaceForecasts,
  loadSiteWork,
} from "@/db/queries/weatherViews";
import { phrase } from "@/lib/phrase";
import type { Crew } from "@/lib/programme";
import { addDays, calendarDate, instantAt, localOf } from "@/lib/time";
import { DEFAULT_WEATHER_POLICY, type ShiftWeek, type WeatherSeries } from "@/lib/weather";
import { makeHop, makeSite } from "../helpers/hop";

const TODAY = calendarDate("2026-06-15"); // a Monday
const ZONE = "Europe/Berlin";

let db: Db;

beforeEach(() => {
  db = memoryDatabase();
  saveSite(db, makeSite({ zone: ZONE }));
  saveSite(db, makeSite({ id: "SITE-B", code: "SITE-B", zone: ZONE, hasEarthingBar: false }));
  saveSite(db, makeSite({ id: "SITE-C", code: "SITE-C", position: undefined, hasEarthingBar: undefined }));
});

const storeHop = () => saveHop(db, { ...makeHop(), promisedOn: calendarDate("2026-07-01") });

describe("the lists of sites and hops", () => {
  test("give an empty list without any hop, and each site as having none", () => {
    expect(loadHopRows(db, TODAY)).toEqual([]);
    expect(loadSiteRows(db, TODAY, []).map((s) => [s.code, s.state, s.endCount])).toEqual([
      ["SITE-A", "no hops", 0],
      ["SITE-B", "no hops", 0],
      ["SITE-C", "no hops", 0],
    ]);
  });

  test("tell a hop that nobody has estimated or planned from one without findings", () => {
    storeHop();
    const [row] = loadHopRows(db, TODAY);
    expect(row).toMatchObject({
      code: "HOP-1",
      nearSite: "SITE-A",
      farSite: "SITE-B",
      state: "not planned",
      failCount: null,
      cableM: null,
      plannedOn: null,
    });
    expect(row?.lengthKm).toBeGreaterThan(10);
    expect(row?.lengthKm).toBeLessThan(13);
  });

  test("hold a hop and its site by a gate without a date, at the gate's own end only", () => {
    storeHop();
    saveGate(db, { hopId: "HOP-1", side: "far", kind: "supply", owner: "grid company", state: "open" });
    const hops = loadHopRows(db, TODAY);
    expect(hops[0]).toMatchObject({
      state: "held",
      openGates: 1,
      heldBy: "open gate: supply (grid company), no date",
    });
    const sites = loadSiteRows(db, TODAY, hops);
    expect(sites.map((s) => [s.code, s.state, s.openGates])).toEqual([
      ["SITE-A", "held", 0],
      ["SITE-B", "held", 1],
      ["SITE-C", "no hops", 0],
    ]);
  });

  test("show a missing coordinate and a bar not surveyed as such", () => {
    const c = loadSiteRows(db, TODAY, []).find((s) => s.code === "SITE-C");
    expect(c).toMatchObject({ latDeg: null, lonDeg: null, hasEarthingBar: null });
  });

  test("keep a hop that lacks an end, and say so", () => {
    storeHop();
    db.$client.prepare("DELETE FROM link_end WHERE id = 'HOP-1/far'").run();
    expect(loadHopRows(db, TODAY)[0]).toMatchObject({
      farSite: null,
      lengthKm: null,
      state: "held",
      heldBy: "an end is missing in the design data",
    });
  });

  test("read only the hops that are named", () => {
    storeHop();
    expect(loadHopRows(db, TODAY, ["HOP-1"])).toEqual(loadHopRows(db, TODAY));
    expect(loadHopRows(db, TODAY, ["HOP-2"])).toEqual([]);
    expect(hopCodesAtSite(db, "SITE-B")).toEqual(["HOP-1"]);
    expect(hopCodesAtSite(db, "SITE-C")).toEqual([]);
  });

  test("hold a hop to accept when both alignments were reported, and list its reports newest first", () => {
    storeHop();
    for (const [i, side] of (["near", "far"] as const).entries()) {
      addReport(db, {
        key: `k${i}`,
        visitId: `HOP-1/${side}/alignment`,
        hopCode: "HOP-1",
        crewCode: "C1",
        workedOn: calendarDate(`2026-06-1${i}`),
        outcome: "done",
        workedMin: 200,
        note: "",
        reportedBy: "u",
        reportedAt: i,
        uses: [],
      });
    }
    expect(loadHopRows(db, TODAY)[0]).toMatchObject({
      state: "to accept",
      plannedOn: "2026-06-11",
      daysLate: -20,
    });
    expect(loadReportsOfHops(db, ["HOP-1"]).map((r) => r.visitId)).toEqual([
      "HOP-1/far/alignment",
      "HOP-1/near/alignment",
    ]);
  });
});

/** Ten days from Monday 00:00 UTC, mild and dry; `windMs` by hour from the begin. */
function storeForecast(
  windMs: (h: number) => number,
  part: Partial<Pick<WeatherSeries, "kind" | "memberNo" | "issuedAtMillis">> = {},
): void {
  const startsAt = Date.parse("2026-06-15T00:00:00Z");
  saveWeatherPlace(db, { code: "P1", name: "Hilltop", latDeg: 50.05, lonDeg: 10, elevationM: 200 });
  const hours = 240;
  const each = (value: (h: number) => number) => Float32Array.from({ length: hours }, (_, h) => value(h));
  const series: WeatherSeries = {
    placeId: "P1",
    kind: "forecast",
    source: "test",
    isMadeUp: true,
    issuedAtMillis: startsAt,
    startsAtMillis: startsAt,
    hours,
    windMs: each(windMs),
    gustMs: each((h) => windMs(h) * 1.2),
    rainMmH: each(() => 0),
    tempC: each(() => 15),
    humidityPct: each(() => 60),
    thunder: each(() => 0),
  };
  storeWeather(db, [{ ...series, ...part }]);
}

const SHIFT: ShiftWeek = [1, 2, 3, 4, 5, 6, 7].map((d) =>
  d <= 5 ? { fromMin: 8 * 60, toMin: 16 * 60 } : null,
);

describe("rows on their way to the browser", () => {
  test("come out as they went in, empty lists too", () => {
    storeHop();
    const rows = loadHopRows(db, TODAY);
    const sent = JSON.parse(JSON.stringify(packRows(rows)));
    expect(unpackRows(sent)).toEqual(rows);
    expect(unpackRows(packRows([]))).toEqual([]);
  });
});

describe("the work at a site and its days", () => {
  test("take the highest mount, the largest dish and the highest band of the site's ends", () => {
    storeHop();
    const [a, , c] = loadSiteWork(db);
    expect(a).toMatchObject({ heightM: 30, diameterM: 0.6, endCount: 1 });
    expect(a?.bandGhz).toBe(makeHop().bandGhz);
    expect(c).toMatchObject({ heightM: null, endCount: 0 });
  });

  test("count the hours of the shift inside the limits, name the wind that takes the rest, and close the weekend", () => {
    storeHop();
    // From 10:00 to 13:59 UTC on the first day, that is 12:00 to 15:59 in Berlin, a storm.
    storeForecast((h) => (h >= 10 && h < 14 ? 20 : 2));
    const [a] = loadSiteWork(db);
    const reader = new ForecastReader(DEFAULT_WEATHER_POLICY);
    const places = loadPlaceForecasts(db);
    const place = placeOf(a!.site, places, DEFAULT_WEATHER_POLICY)!.place;
    const days = ["2026-06-15", "2026-06-16", "2026-06-20"].map(calendarDate);
    const figures = reader.days(place.forecast!, profileOf(a!, place), "aloft", days, SHIFT);
    expect(figures[0]).toMatchObject({ metH: 4, ofH: 8, factor: "wind" });
    expect(figures[0]?.text).toMatch(/^wind \d+\.\d > 9\.9 m\/s$/);
    expect(figures[1]).toMatchObject({ metH: 8, ofH: 8, factor: "none" });
    expect(figures[2]).toBeNull();
  });

  test("count what the forecast does not reach as not known, never as fine", () => {
    storeHop();
    storeForecast(() => 2);
    const [a] = loadSiteWork(db);
    const reader = new ForecastReader(DEFAULT_WEATHER_POLICY);
    const place = loadPlaceForecasts(db)[0]!;
    const day = calendarDate("2026-06-29"); // a Monday beyond the ten days
    const [figure] = reader.days(place.forecast!, profileOf(a!, place), "climb", [day], SHIFT);
    expect(figure).toMatchObject({ metH: 0, ofH: 8, factor: "no data" });
  });

  test("expect of a day beyond the forecast the month's share of its daylight inside the shift, marked as climate", () => {
    storeHop();
    storeForecast(() => 2);
    const [a] = loadSiteWork(db);
    const place = loadPlaceForecasts(db)[0]!;
    const day = calendarDate("2026-06-29");
    const reader = new ForecastReader(DEFAULT_WEATHER_POLICY);
    const profile = profileOf(a!, place);
    const [unknown] = reader.days(place.forecast!, profile, "climb", [day], SHIFT);
    expect(isBeyond(unknown!)).toBe(true);
    // In June the whole shift from 08:00 to 16:00 is light.
    expect(expectedDay(profile, DEFAULT_WEATHER_POLICY, "climb", day, SHIFT, 0.75)).toMatchObject({
      metH: 6,
      ofH: 8,
      isClimate: true,
    });
    expect(expectedDay(profile, DEFAULT_WEATHER_POLICY, "climb", day, SHIFT, Number.NaN)).toMatchObject({
      metH: 0,
      factor: "no data",
    });
    expect(
      expectedDay(profile, DEFAULT_WEATHER_POLICY, "climb", calendarDate("2026-06-28"), SHIFT, 1),
    ).toBeNull();
  });

  test("give a site without a coordinate no place", () => {
    storeForecast(() => 2);
    const c = loadSiteWork(db)[2]!;
    expect(placeOf(c.site, loadPlaceForecasts(db), DEFAULT_WEATHER_POLICY)).toBeUndefined();
  });

  test("keep the shift inside the owner's hours", () => {
    const access = { ...makeSite().access, weekdays: [1, 2] as const, fromMin: 9 * 60, toMin: 12 * 60 };
    expect(shiftAtSite(SHIFT, access)).toEqual([
      { fromMin: 540, toMin: 720 },
      { fromMin: 540, toMin: 720 },
      null,
      null,
      null,
      null,
      null,
    ]);
  });
});

describe("the plan against the forecast", () => {
  const crew: Crew = {
    code: "C1",
    name: "One",
    depotPlace: "D",
    zone: ZONE,
    weekdays: [1, 2, 3, 4, 5],
    shiftFromMin: 480,
    shiftToMin: 960,
    overtimeMaxMin: 0,
    weeklyMaxMin: 2400,
    restMin: 660,
    nightsAwayMax: 0,
    payloadKg: 500,
    pace: 1,
    members: [],
  };
  const visit: ForecastVisit = {
    visitId: "HOP-1/near/install",
    hopCode: "HOP-1",
    side: "near",
    siteCode: "SITE-A",
    farSiteCode: "SITE-B",
    kind: "install",
    isJoint: false,
    crewCode: "C1",
    startOn: TODAY,
    startMin: 9 * 60,
    endOn: TODAY,
    endMin: 14 * 60,
    segments: [
      { workClass: "indoor", durationMin: 60, splittable: true },
      { workClass: "aloft", durationMin: 300, splittable: true },
    ],
    setupMin: 60,
  };
  const check = (v: JudgedVisit) =>
    planAgainstForecast(
      [v],
      new Map(loadSiteWork(db).map((w) => [w.site.code, w])),
      loadPlaceForecasts(db),
      new Map([[crew.code, crew]]),
      new ForecastReader(DEFAULT_WEATHER_POLICY),
    )[0]!;

  test("holds a visit whose hours stay within the limits, set-up not counted twice", () => {
    storeHop();
    storeForecast(() => 2);
    expect(check(visit)).toMatchObject({ state: "holds", finishOn: TODAY });
  });

  test("names a visit that began before today, and judges nothing of it: what is left of it is not known", () => {
    storeHop();
    storeForecast(() => 2);
    expect(check({ ...visit, startOn: calendarDate("2026-06-12"), isUnderWay: true })).toMatchObject({
      state: "not checked",
      why: { text: "under way: the board counts the hours of its days to come" },
    });
  });

  test("finds the visit that a storm pushes to the next day, with the figure", () => {
    storeHop();
    storeForecast((h) => (h >= 8 && h < 22 ? 20 : 2));
    const finding = check(visit);
    expect(finding).toMatchObject({ state: "lost", finishOn: "2026-06-16", daysLost: 1, workClass: "aloft" });
    expect(finding.day?.text).toContain("wind");
    expect(finding.siteCode).toBe("SITE-A");
  });

  test("stops an alignment by either end", () => {
    storeHop();
    storeForecast(() => 2);
    const alignment: ForecastVisit = {
      ...visit,
      kind: "alignment",
      isJoint: true,
      visitId: "HOP-1/near/alignment",
    };
    expect(check(alignment).state).toBe("holds");
    saveSite(db, makeSite({ id: "SITE-B", code: "SITE-B", zone: ZONE, position: undefined }));
    expect(check(alignment)).toMatchObject({
      state: "not checked",
      why: phrase("{{site}}: {{why}}", { site: "SITE-B", why: phrase("the site has no coordinate") }),
    });
  });

  test("says what it could not check", () => {
    storeHop();
    storeForecast(() => 2);
    expect(check({ ...visit, segments: null }).state).toBe("not checked");
    const late = { ...visit, startOn: calendarDate("2026-07-06"), endOn: calendarDate("2026-07-06") };
    expect(instantAt(late.startOn, late.startMin, ZONE)).toBeGreaterThan(Date.parse("2026-06-25T00:00:00Z"));
    expect(check(late)).toMatchObject({
      state: "not checked",
      why: phrase("its start lies outside the forecast"),
    });
  });

  test("does not call lost what may still end after the last hour of the forecast", () => {
    storeHop();
    storeForecast((h) => (h < 8 * 24 ? 2 : 20));
    const lastDay = loadPlaceForecasts(db)[0]!.forecast!;
    const endsOn = localOf(lastDay.startsAtMillis + lastDay.hours * 3_600_000, ZONE).date;
    const twoDays = { ...visit, startOn: addDays(endsOn, -1), endOn: addDays(endsOn, 1) };
    expect(check(twoDays)).toMatchObject({
      state: "not checked",
      why: phrase("its end lies outside the forecast"),
    });
    // Where its whole planned day is known, it is lost, though nobody knows to which day.
    const oneDay = { ...twoDays, endOn: twoDays.startOn };
    expect(check(oneDay)).toMatchObject({ state: "lost", finishOn: null });
  });

  test("counts no visit that is on hold as holding, however fair the weather", () => {
    storeHop();
    storeForecast(() => 2);
    expect(check(visit).state).toBe("holds");
    expect(check({ ...visit, onHold: "gate locked" })).toMatchObject({
      state: "on hold",
      why: phrase("reported on hold: {{reason}}", { reason: "gate locked" }),
    });
  });

  const checkAll = (places = loadPlaceForecasts(db)) =>
    planAgainstForecast(
      [visit],
      new Map(loadSiteWork(db).map((w) => [w.site.code, w])),
      places,
      new Map([[crew.code, crew]]),
      new ForecastReader(DEFAULT_WEATHER_POLICY),
    );

  test("counts the ensemble's members in which the visit ends on its day", () => {
    storeHop();
    storeForecast(() => 2);
    expect(checkAll()[0]!.members).toBeUndefined();
    for (const [i, windMs] of [2, 3, 25, 4].entries()) {
      storeForecast(() => windMs, { kind: "member", memberNo: i + 1 });
    }
    expect(checkAll()[0]).toMatchObject({ state: "holds", members: { holds: 3, of: 4 } });
    // A member that is brought in again replaces its own hours only.
    storeForecast(() => 25, { kind: "member", memberNo: 1 });
    expect(checkAll()[0]!.members).toEqual({ holds: 2, of: 4 });
  });

  test("leaves members of an issue older than the forecast alone", () => {
    storeHop();
    const issued = Date.parse("2026-06-15T00:00:00Z");
    storeForecast(() => 2, { kind: "member", memberNo: 1, issuedAtMillis: issued - 13 * 3_600_000 });
    storeForecast(() => 2);
    expect(loadPlaceForecasts(db)[0]!.members).toEqual([]);
    storeForecast(() => 2, { kind: "member", memberNo: 1, issuedAtMillis: issued - 6 * 3_600_000 });
    expect(loadPlaceForecasts(db)[0]!.members).toHaveLength(1);
  });

  test("says what a newer forecast changed since the plan was made", () => {
    storeHop();
    const planMade = Date.parse("2026-06-15T05:00:00Z");
    storeForecast(() => 2);
    expect(earlierForecasts(db, planMade).size).toBe(0);
    storeForecast(() => 25, { issuedAtMillis: planMade + 3_600_000 });
    const earlier = earlierForecasts(db, planMade);
    expect([...earlier.keys()]).toEqual(["P1"]);
    const then = loadPlaceForecasts(db).map((p) => ({ ...p, forecast: earlier.get(p.code), members: [] }));
    expect(withChange(checkAll(), checkAll(then))[0]).toMatchObject({ state: "lost", sincePlan: "lost" });
    expect(withChange(checkAll(then), checkAll())[0]).toMatchObject({
      state: "holds",
      sincePlan: "open again",
    });
    expect(withChange(checkAll(), checkAll())[0]!.sincePlan).toBe("as before");
  });

  test("prints each day of a crew's visits with the figure that closes most hours", () => {
    storeHop();
    storeForecast((h) => (h >= 10 && h < 14 ? 20 : 2));
    const sheet = (v: ForecastVisit, ends = loadEndWork(db), dayOff = "") =>
      crewSheet(
        [v],
        new Map(loadSiteWork(db).map((w) => [w.site.code, w])),
        ends,
        loadPlaceForecasts(db),
        new ForecastReader(DEFAULT_WEATHER_POLICY),
        TODAY,
        addDays(TODAY, 9),
        makeWords("en", {}),
        (on) => on !== dayOff,
      );
    const twoDays = sheet({ ...visit, endOn: addDays(TODAY, 1) });
    expect(twoDays.map((d) => [d.date, d.dayNo, d.ofDays])).toEqual([
      [TODAY, 1, 2],
      [addDays(TODAY, 1), 2, 2],
    ]);
    // A day off between them is no day of the visit.
    const over = sheet({ ...visit, endOn: addDays(TODAY, 2) }, undefined, addDays(TODAY, 1));
    expect(over.map((d) => [d.date, d.dayNo, d.ofDays])).toEqual([
      [TODAY, 1, 2],
      [addDays(TODAY, 2), 2, 2],
    ]);
    const aloft = twoDays[0]!.rows.find((r) => r.label === "Work aloft")!;
    expect(aloft.cells.map((c) => c.mark || ".").join("")).toMatch(/^N?\.+W{4}\.+N*$/);
    expect(aloft.worst).toMatch(/^wind \d+\.\d > 9\.9 m\/s$/);
    expect(twoDays[0]!.rows.find((r) => r.label === "Indoor")!.cells.every((c) => c.look === "met")).toBe(
      true,
    );
    // The crew's own mount counts, not the highest of all hops at the site.
    const own = loadEndWork(db).get(endWorkKey(visit.hopCode, visit.side))!;
    expect(own.heightM).toBeGreaterThan(0);
    expect(twoDays[0]!.heightM).toBe(own.heightM);
    const lower = new Map([[endWorkKey(visit.hopCode, visit.side), { ...own, heightM: 12 }]]);
    expect(sheet(visit, lower)[0]!.heightM).toBe(12);
    // Rows stand in one order, whatever the visit begins with.
    const turned = sheet({ ...visit, segments: [...(visit.segments ?? [])].reverse() })[0]!;
    expect(turned.rows.map((r) => r.label)).toEqual(twoDays[0]!.rows.map((r) => r.label));
    expect(turned.rows.length).toBeGreaterThan(1);
    const [joint] = sheet({ ...visit, isJoint: true });
    expect(joint!.rows.map((r) => r.label)).toContain("Work aloft, both ends");
    const [beyond] = sheet({ ...visit, startOn: addDays(TODAY, 12), endOn: addDays(TODAY, 12) });
    expect(beyond).toBeUndefined();
  });
});
