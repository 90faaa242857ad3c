import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dateTicks } from "@/app/_ui/charts/ticks";
import { markStepCm, stretchesOf } from "@/app/_ui/drawings/drumScale";
import { elevationOf, spreadLabels } from "@/app/_ui/drawings/elevation";
import { fitProjection, scaleBarKm } from "@/app/_ui/drawings/projection";
import type { DrumPlan } from "@/lib/drums";
import { distanceKm } from "@/lib/geo";
import { addDays, calendarDate, dayNumber, fromDayNumber, weekdayOf } from "@/lib/time";

const ON = calendarDate("2026-12-01");

/** A drum of 500 m of which 120 m are gone, with cuts and 20 cm of allowance behind each. */
function drumPlan(cutsCm: readonly number[], leftIs: DrumPlan["leftIs"]): DrumPlan {
  let at = 12_000;
  const cuts = cutsCm.map((lengthCm, i) => {
    const cut = { runId: `r${i}`, lengthCm, fromMarkCm: at, toMarkCm: at + lengthCm, cutOn: ON };
    at += lengthCm + 20;
    return cut;
  });
  return {
    drum: {
      id: "d1",
      serial: "D-1",
      cableCode: "IF-7",
      placeId: "p1",
      receivedCm: 50_000,
      remainingCm: 38_000,
      availableOn: ON,
      isNew: false,
    },
    cuts,
    allowanceCm: 20 * cuts.length,
    leftCm: 50_000 - at,
    leftIs,
  };
}

describe("a drum drawn to scale", () => {
  it("shows what is gone, each cut with its allowance, and what is left", () => {
    const kinds = stretchesOf(drumPlan([4_700, 5_200], "remnant")).map((s) => [s.kind, s.fromCm, s.toCm]);
    expect(kinds).toEqual([
      ["gone", 0, 12_000],
      ["cut", 12_000, 16_700],
      ["allowance", 16_700, 16_720],
      ["cut", 16_720, 21_920],
      ["allowance", 21_920, 21_940],
      ["remnant", 21_940, 50_000],
    ]);
  });
  it("leaves no gap and adds up to the length as received", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 500, max: 6_000 }), { maxLength: 6 }), (cuts) => {
        const stretches = stretchesOf(drumPlan(cuts, cuts.length > 0 ? "scrap" : "untouched"));
        let at = 0;
        for (const stretch of stretches) {
          expect(stretch.fromCm).toBe(at);
          at = stretch.toCm;
        }
        expect(at).toBe(50_000);
      }),
    );
  });
  it("marks metres in round steps", () => {
    expect(markStepCm(50_000, 10)).toBe(5_000);
    expect(markStepCm(30_000, 10)).toBe(5_000);
    expect(markStepCm(800, 10)).toBe(100);
  });
});

describe("the map's projection", () => {
  const sheet = { widthPx: 1000, heightPx: 500, marginPx: 40 };
  const a = { latDeg: 46.6, lonDeg: 7.2 };
  const b = { latDeg: 47.1, lonDeg: 8.4 };
  it("keeps every site inside the margin and fills one direction", () => {
    const p = fitProjection([a, b], sheet);
    const xs = [p.x(a.lonDeg), p.x(b.lonDeg)];
    const ys = [p.y(a.latDeg), p.y(b.latDeg)];
    expect(Math.min(...xs)).toBeGreaterThanOrEqual(40 - 1e-9);
    expect(Math.max(...xs)).toBeLessThanOrEqual(960 + 1e-9);
    expect(Math.min(...ys)).toBeGreaterThanOrEqual(40 - 1e-9);
    expect(ys[0]).toBeGreaterThan(ys[1]!); // north is up
    expect(xs[0]).toBeLessThan(xs[1]!);
  });
  it("agrees with the great circle to one per cent over a hundred kilometres", () => {
    const p = fitProjection([a, b], sheet);
    const px = Math.hypot(p.x(a.lonDeg) - p.x(b.lonDeg), p.y(a.latDeg) - p.y(b.latDeg));
    const km = distanceKm(a, b);
    expect(km).toBeGreaterThan(100);
    expect(Math.abs(px / p.pxPerKm / km - 1)).toBeLessThan(0.01);
  });
  it("draws one site, or none, in the middle of a sheet 20 km wide", () => {
    const p = fitProjection([a], sheet);
    expect(p.x(a.lonDeg)).toBe(500);
    expect(p.y(a.latDeg)).toBe(250);
    expect(920 / p.pxPerKm).toBeCloseTo(20, 9);
    expect(Number.isFinite(fitProjection([], sheet).pxPerKm)).toBe(true);
  });
  it("has a scale bar of a round length that fits", () => {
    expect(scaleBarKm(10, 160)).toBe(10);
    expect(scaleBarKm(2, 160)).toBe(50);
    expect(scaleBarKm(400, 160)).toBe(0.2);
  });
});

describe("the side view of an end", () => {
  it("puts the ground at the bottom and the highest mark at the top", () => {
    const scale = elevationOf(42, 30, 410);
    expect(scale.marks.at(-1)).toBe(50);
    expect(scale.y(0)).toBe(410);
    expect(scale.y(50)).toBe(30);
    expect(() => elevationOf(0, 30, 410)).toThrow(RangeError);
  });
  it("moves labels apart, keeps their order and stays above the floor", () => {
    expect(spreadLabels([100, 104, 300], 17)).toEqual([100, 117, 300]);
    expect(spreadLabels([390, 392], 17, 350)).toEqual([333, 350]);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 400 }), { maxLength: 12 }), (wanted) => {
        const out = [...spreadLabels(wanted, 17, 400)].sort((x, y) => x - y);
        for (let i = 1; i < out.length; i++) expect(out[i]! - out[i - 1]!).toBeGreaterThanOrEqual(17);
        for (const y of out) expect(y).toBeLessThanOrEqual(400);
      }),
    );
  });
});

describe("marks of a date axis", () => {
  const from = calendarDate("2026-11-25");
  it("are days for a week, Mondays for a month, firsts of months for a year", () => {
    expect(dateTicks(from, addDays(from, 6), 9)).toHaveLength(7);
    const mondays = dateTicks(from, addDays(from, 40), 9);
    expect(mondays.map((day) => weekdayOf(fromDayNumber(day)))).toEqual([1, 1, 1, 1, 1, 1]);
    const months = dateTicks(from, addDays(from, 240), 9).map((day) => fromDayNumber(day));
    expect(months[0]).toBe("2026-12-01");
    expect(months.every((day) => day.endsWith("-01"))).toBe(true);
  });
  it("never exceed the number asked for and stay inside the span", () => {
    fc.assert(
      fc.property(fc.nat(3000), fc.integer({ min: 1, max: 12 }), (days, most) => {
        const to = addDays(from, days);
        const ticks = dateTicks(from, to, most);
        expect(ticks.length).toBeLessThanOrEqual(most);
        for (const day of ticks) expect(day).toBeGreaterThanOrEqual(dayNumber(from));
        for (const day of ticks) expect(day).toBeLessThanOrEqual(dayNumber(to));
      }),
    );
  });
  it("are none for an empty span", () => expect(dateTicks(from, addDays(from, -1), 5)).toEqual([]));
});
