/** The map's projection, tile numbers and lengths against published values. */
import { describe, expect, it } from "vitest";
import { distanceKm, fromMercator, toMercator, toWorld } from "@/lib/geo";
import { tileAt } from "@/lib/map";

const dms = (d: number, m: number, s: number) => Math.sign(d) * (Math.abs(d) + m / 60 + s / 3600);

describe("toMercator, fromMercator", () => {
  const EPSG =
    "IOGP guidance note 7-2 (method 1024, Popular Visualisation Pseudo Mercator), as shown at epsg.io (V)";

  it(`gives E and N of the worked example: ${EPSG}`, () => {
    const at = toMercator({ latDeg: dms(24, 22, 54.433), lonDeg: dms(-100, 20, 0) });
    expect(Math.abs(at.eastM - -11_169_055.58)).toBeLessThan(0.01);
    expect(Math.abs(at.northM - 2_800_000)).toBeLessThan(0.01);
  });

  it(`gives back the position 10 km further north on the grid: ${EPSG}`, () => {
    const at = fromMercator({ eastM: -11_169_055.58, northM: 2_810_000 });
    // Printed to a thousandth of a second, some 3 cm.
    expect(Math.abs(at.latDeg - dms(24, 27, 48.889))).toBeLessThan(0.001 / 3600);
    expect(Math.abs(at.lonDeg - dms(-100, 20, 0))).toBeLessThan(0.001 / 3600);
  });

  it("ends the square world at 85.0511 degrees, 20 037 508.34 m from the middle (V: bounds of EPSG:3857)", () => {
    const corner = fromMercator({ eastM: 20_037_508.342789, northM: 20_037_508.342789 });
    expect(corner.latDeg).toBeCloseTo(85.06, 1);
    expect(corner.latDeg).toBeCloseTo(85.051129, 5);
    expect(corner.lonDeg).toBeCloseTo(180, 8);
  });
});

describe("tileAt", () => {
  const rows = [
    // The whole world is one tile; four at zoom 1, from the north-west.
    { source: "definition of the web's tile numbering", mark: "C", lat: 40, lon: -100, z: 0, x: 0, y: 0 },
    { source: "definition of the web's tile numbering", mark: "C", lat: -40, lon: 100, z: 1, x: 1, y: 1 },
    {
      source: "wiki page on slippy map tile names, example",
      mark: "M",
      lat: 51.51202,
      lon: 0.02435,
      z: 17,
      x: 65544,
      y: 43582,
    },
  ];
  it.each(rows)("$lat, $lon at zoom $z is $x, $y ($source, $mark)", ({ lat, lon, z, x, y }) => {
    expect(tileAt(toWorld({ latDeg: lat, lonDeg: lon }), z)).toEqual({ x, y });
  });
});

describe("lengths beside the map", () => {
  it("differ from the ellipsoid's geodesic by less than 0.56 %, the most that a sphere of mean radius can be off", () => {
    // Flinders Peak to Buninyong: worked example of the Australian geodetic manual on GRS 80 (M).
    const a = { latDeg: dms(-37, 57, 3.7203), lonDeg: dms(144, 25, 29.5244) };
    const b = { latDeg: dms(-37, 39, 10.1561), lonDeg: dms(143, 55, 35.3839) };
    const off = Math.abs(distanceKm(a, b) / 54.972271 - 1);
    expect(off).toBeLessThan(0.0056);
    expect(off).toBeGreaterThan(0); // a sphere, not the ellipsoid
  });
});
