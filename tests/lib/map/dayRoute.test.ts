import { describe, expect, it } from "vitest";
import { distanceKm } from "@/lib/geo";
import { dayRoute, type RouteVisit } from "@/lib/map";
import { calendarDate } from "@/lib/time";

const DEPOT = { latDeg: 46, lonDeg: -27 };
const MONDAY = calendarDate("2026-03-16");
const TUESDAY = calendarDate("2026-03-17");
const WEDNESDAY = calendarDate("2026-03-18");

const visit = (no: number, over: Partial<RouteVisit> = {}): RouteVisit => ({
  visitId: `H${no}/near/install`,
  hopCode: `H${no}`,
  siteCode: `S${no}`,
  siteName: `Site ${no}`,
  position: { latDeg: 46 + no / 10, lonDeg: -27 },
  startOn: MONDAY,
  startMin: 480 + no * 100,
  endOn: MONDAY,
  endMin: 540 + no * 100,
  ...over,
});

describe("dayRoute", () => {
  it("goes from the depot over the visits in order and home", () => {
    const route = dayRoute(MONDAY, DEPOT, [visit(2), visit(1)], []);
    expect(route.stops.map((s) => [s.no, s.siteCode])).toEqual([
      [1, "S1"],
      [2, "S2"],
    ]);
    expect(route.path.map((p) => p.latDeg)).toEqual([46, 46.1, 46.2, 46]);
    const leg = (a: number, b: number) => distanceKm({ latDeg: a, lonDeg: -27 }, { latDeg: b, lonDeg: -27 });
    expect(route.straightKm).toBeCloseTo(leg(46, 46.1) + leg(46.1, 46.2) + leg(46.2, 46), 9);
  });

  it("ends at the site of its work when the crew sleeps away, and begins there on the next day", () => {
    const visits = [visit(1, { endOn: TUESDAY }), visit(3, { startOn: TUESDAY, endOn: TUESDAY })];
    const monday = dayRoute(MONDAY, DEPOT, visits, [MONDAY]);
    expect(monday.nightAfter?.siteCode).toBe("S1");
    expect(monday.stops[0]).toMatchObject({ isBegun: false, goesOn: true });
    expect(monday.path.map((p) => p.latDeg)).toEqual([46, 46.1, 46.1]);
    const tuesday = dayRoute(TUESDAY, DEPOT, visits, [MONDAY]);
    expect(tuesday.nightBefore?.siteCode).toBe("S1");
    expect(tuesday.nightAfter).toBeUndefined();
    expect(tuesday.stops.map((s) => [s.siteCode, s.isBegun])).toEqual([
      ["S1", true],
      ["S3", false],
    ]);
    expect(tuesday.path.map((p) => p.latDeg)).toEqual([46.1, 46.1, 46.3, 46]);
  });

  it("draws what it can and gives no length when a coordinate on the way is missing", () => {
    const route = dayRoute(MONDAY, DEPOT, [visit(1), visit(2, { position: undefined })], []);
    expect(route.stops).toHaveLength(2);
    expect(route.path.map((p) => p.latDeg)).toEqual([46, 46.1, 46]);
    expect(route.straightKm).toBeUndefined();
    expect(dayRoute(MONDAY, undefined, [visit(1)], []).straightKm).toBeUndefined();
  });

  it("draws nothing on a day without visits", () => {
    expect(dayRoute(WEDNESDAY, DEPOT, [visit(1)], [])).toEqual({
      stops: [],
      nightBefore: undefined,
      nightAfter: undefined,
      path: [],
    });
  });
});
