import { describe, expect, it } from "vitest";
import { parseOutlines } from "@/lib/map";

const SQUARE = [
  [10, 50],
  [11, 50],
  [11, 51],
  [10, 50],
];
const feature = (geometry: unknown, properties: unknown = {}) => ({ type: "Feature", properties, geometry });
const collection = (...features: unknown[]) => JSON.stringify({ type: "FeatureCollection", features });
const polygon = (ring: unknown) => ({ type: "Polygon", coordinates: [ring] });

/** The one problem of a file: where, by which rule. */
function problemOf(text: string) {
  const read = parseOutlines(text);
  if (read.ok) throw new Error("read without a problem");
  expect(read.problems.length).toBeGreaterThan(0);
  for (const p of read.problems) expect(p.remedy).not.toBe("");
  return [read.problems[0]!.path, read.problems[0]!.rule];
}

describe("parseOutlines", () => {
  it("reads every geometry of RFC 7946, and takes the kind from the property or the shape", () => {
    const read = parseOutlines(
      collection(
        feature(polygon(SQUARE), { name: "Mainland" }),
        feature({ type: "MultiPolygon", coordinates: [[SQUARE], [SQUARE]] }, { kind: "water" }),
        feature({ type: "LineString", coordinates: SQUARE }, { kind: "river", name: "Arl" }),
        feature({ type: "MultiLineString", coordinates: [SQUARE] }),
        feature({ type: "Point", coordinates: [10.123456789, 50, 400] }, { name: "Town" }),
        feature({ type: "MultiPoint", coordinates: [[10, 50]] }),
        feature({
          type: "GeometryCollection",
          geometries: [{ type: "Point", coordinates: [1, 2] }, polygon(SQUARE)],
        }),
        feature(null),
      ),
    );
    expect(read.ok && read.value.map((o) => [o.kind, o.name, o.isArea])).toEqual([
      ["land", "Mainland", true],
      ["water", "", true],
      ["water", "", true],
      ["river", "Arl", false],
      ["border", "", false],
      ["place", "Town", false],
      ["place", "", false],
      ["place", "", false],
      ["land", "", true],
    ]);
    expect(read.ok && read.value[5]?.lines).toEqual([[10.12346, 50]]);
  });

  it("reads a bare geometry and a bare feature, and a file that begins with a byte order mark", () => {
    expect(parseOutlines(`\uFEFF${JSON.stringify(polygon(SQUARE))}`).ok).toBe(true);
    expect(parseOutlines(JSON.stringify(feature(polygon(SQUARE)))).ok).toBe(true);
  });

  it.each([
    ["no JSON", "{", ["", "not-json"]],
    ["a list", "[]", ["", "not-geojson"]],
    ["no features", '{"type":"FeatureCollection"}', ["features", "no-features"]],
    ["an empty collection", collection(), ["features", "empty"]],
    ["no feature", collection({ type: "Thing" }), ["features[0].type", "not-a-feature"]],
    [
      "an unknown kind",
      collection(feature(polygon(SQUARE), { kind: "swamp" })),
      ["features[0].properties.kind", "unknown-kind"],
    ],
    [
      "an unknown geometry",
      collection(feature({ type: "Circle" })),
      ["features[0].geometry.type", "unknown-geometry"],
    ],
    [
      "a ring of three",
      collection(feature(polygon(SQUARE.slice(1)))),
      ["features[0].geometry.coordinates[0]", "too-few-positions"],
    ],
    [
      "an open ring",
      collection(feature(polygon([...SQUARE.slice(0, 3), [10, 51]]))),
      ["features[0].geometry.coordinates[0]", "ring-open"],
    ],
    [
      "a text for a number",
      collection(feature({ type: "Point", coordinates: ["10", 50] })),
      ["features[0].geometry.coordinates[0]", "not-a-position"],
    ],
    [
      "no coordinates",
      collection(feature({ type: "LineString" })),
      ["features[0].geometry.coordinates", "too-few-positions"],
    ],
  ])("says where and why it refuses %s", (_, text, expected) => {
    expect(problemOf(text)).toEqual(expected);
  });

  it("tells swapped axes and metres of a grid from degrees", () => {
    const said = (lon: number, lat: number) => {
      const read = parseOutlines(collection(feature({ type: "Point", coordinates: [lon, lat] })));
      return read.ok ? "" : read.problems[0]!.message;
    };
    expect(said(46, -127)).toContain("changed places");
    expect(said(500_000, 5_500_000)).toContain("metres of a map grid");
    expect(said(190, 95)).toContain("beyond 180 or 90");
    expect(said(180, 90)).toBe("");
  });

  it("refuses another coordinate system and takes WGS 84 by its old names", () => {
    const withCrs = (name: string) =>
      JSON.stringify({
        type: "FeatureCollection",
        crs: { type: "name", properties: { name } },
        features: [feature(polygon(SQUARE))],
      });
    expect(problemOf(withCrs("urn:ogc:def:crs:EPSG::25832"))).toEqual(["crs", "other-coordinates"]);
    expect(parseOutlines(withCrs("urn:ogc:def:crs:OGC:1.3:CRS84")).ok).toBe(true);
    expect(parseOutlines(withCrs("EPSG:4326")).ok).toBe(true);
  });

  it("stops counting problems and positions where a person would", () => {
    const bad = Array.from({ length: 50 }, () => feature({ type: "Circle" }));
    const many = parseOutlines(collection(...bad));
    expect(!many.ok && many.problems).toHaveLength(12);
    const line = Array.from({ length: 260_000 }, (_, i) => [i % 180, 0]);
    const large = parseOutlines(collection(feature({ type: "LineString", coordinates: line })));
    expect(!large.ok && large.problems[0]?.rule).toBe("too-many-positions");
  });
});
