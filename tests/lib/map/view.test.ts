import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { distanceKm, toWorld } from "@/lib/geo";
import {
  fitView,
  panBy,
  parseView,
  pxPerKm,
  viewText,
  worldPx,
  ZOOM_LEAST,
  ZOOM_MOST,
  zoomAbout,
} from "@/lib/map";

const SIZE = { widthPx: 800, heightPx: 600 };
const view = fc.record({
  x: fc.double({ min: 0.2, max: 0.8, noNaN: true }),
  y: fc.double({ min: 0.2, max: 0.8, noNaN: true }),
  zoom: fc.double({ min: 6, max: 15, noNaN: true }),
});

describe("fitView", () => {
  it("shows every point, with room for its mark", () => {
    const points = [
      toWorld({ latDeg: 46.2, lonDeg: -28 }),
      toWorld({ latDeg: 46.9, lonDeg: -26.8 }),
      toWorld({ latDeg: 46.5, lonDeg: -27.5 }),
    ];
    const fitted = fitView(points, SIZE);
    for (const p of points) {
      expect(Math.abs(p.x - fitted.x) * worldPx(fitted.zoom)).toBeLessThanOrEqual(400 - 47);
      expect(Math.abs(p.y - fitted.y) * worldPx(fitted.zoom)).toBeLessThanOrEqual(300 - 47);
    }
  });
  it("shows a point alone with some 20 km around it, and the world without points", () => {
    const alone = fitView([toWorld({ latDeg: 46, lonDeg: -27 })], SIZE);
    expect(800 / pxPerKm(alone)).toBeGreaterThan(15);
    expect(800 / pxPerKm(alone)).toBeLessThan(30);
    expect(fitView([], SIZE)).toEqual({ x: 0.5, y: 0.5, zoom: ZOOM_LEAST });
  });
});

describe("zoomAbout", () => {
  it("keeps the point under the pointer where it is", () => {
    const px = fc.integer({ min: -300, max: 300 });
    fc.assert(
      fc.property(view, px, px, fc.double({ min: -2, max: 2, noNaN: true }), (before, xPx, yPx, steps) => {
        const after = zoomAbout(before, steps, { xPx, yPx });
        expect(after.x + xPx / worldPx(after.zoom)).toBeCloseTo(before.x + xPx / worldPx(before.zoom), 9);
        expect(after.y + yPx / worldPx(after.zoom)).toBeCloseTo(before.y + yPx / worldPx(before.zoom), 9);
      }),
    );
  });
  it("stops at the closest and the furthest", () => {
    expect(zoomAbout({ x: 0.5, y: 0.5, zoom: 18 }, 9, { xPx: 0, yPx: 0 }).zoom).toBe(ZOOM_MOST);
    expect(zoomAbout({ x: 0.5, y: 0.5, zoom: 3 }, -9, { xPx: 0, yPx: 0 }).zoom).toBe(ZOOM_LEAST);
  });
});

describe("panBy", () => {
  it("there and back is where it was, and the world's edge holds", () => {
    fc.assert(
      fc.property(view, fc.integer({ min: -500, max: 500 }), (before, px) => {
        const back = panBy(panBy(before, px, -px), -px, px);
        expect(back.x).toBeCloseTo(before.x, 9);
        expect(back.y).toBeCloseTo(before.y, 9);
      }),
    );
    expect(panBy({ x: 0.1, y: 0.1, zoom: 2 }, 5000, 5000)).toEqual({ x: 0, y: 0, zoom: 2 });
  });
});

describe("pxPerKm", () => {
  it("agrees with the great circle between two points near the middle to one part in a thousand", () => {
    const here = { ...toWorld({ latDeg: 46.6, lonDeg: -27.4 }), zoom: 11 };
    const east = { latDeg: 46.6, lonDeg: -27.35 };
    const km = distanceKm({ latDeg: 46.6, lonDeg: -27.4 }, east);
    const px = (toWorld(east).x - here.x) * worldPx(here.zoom);
    // The web's sphere has the equator's radius, lib/geo the mean one: 0.11 % apart.
    expect(px / km / pxPerKm(here)).toBeCloseTo(6378.137 / 6371.0088, 3);
  });
});

describe("an address's view", () => {
  it("comes back within a metre", () => {
    fc.assert(
      fc.property(view, (before) => {
        const after = parseView(viewText(before));
        expect(after?.x).toBeCloseTo(before.x, 6);
        expect(after?.y).toBeCloseTo(before.y, 6);
        expect(after?.zoom).toBeCloseTo(before.zoom, 2);
      }),
    );
  });
  it.each(["", "1,2", "a,b,c", "91,0,5", "0,181,5", ",,", "1,2,Infinity"])("%s is none", (text) => {
    expect(parseView(text)).toBeUndefined();
  });
  it("holds the zoom within what can be drawn", () => {
    expect(parseView("46,-27,40")?.zoom).toBe(ZOOM_MOST);
  });
});
