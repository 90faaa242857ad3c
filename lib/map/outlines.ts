/** A company's own outlines of the ground, read from GeoJSON (RFC 7946) and held to what the map can draw. */
import { ok, type Problem, type Result, refused } from "@/lib/result";

export const OUTLINE_KINDS = ["land", "water", "built-up", "border", "river", "road", "place"] as const;
export type OutlineKind = (typeof OUTLINE_KINDS)[number];

export interface Outline {
  kind: OutlineKind;
  name: string;
  /** Areas are filled; their rings after the first of a polygon are holes. */
  isArea: boolean;
  /** Rings, lines, or one point: longitude and latitude in turn, degrees to five digits (about a metre). */
  lines: readonly (readonly number[])[];
}

export const MAX_OUTLINE_BYTES = 8_000_000;
export const MAX_POSITIONS = 250_000;
const MAX_FEATURES = 20_000;
const MAX_NAME = 80;
/** Enough to see what is wrong with a file; the rest is of the same make. */
const MOST_PROBLEMS = 12;

type Json = Record<string, unknown>;
const isObject = (value: unknown): value is Json =>
  typeof value === "object" && value !== null && !Array.isArray(value);

class Reader {
  readonly problems: Problem[] = [];
  positions = 0;

  say(path: string, rule: string, value: unknown, message: string, remedy: string): void {
    if (this.problems.length < MOST_PROBLEMS) this.problems.push({ path, rule, value, message, remedy });
  }
  get isFull(): boolean {
    return this.problems.length >= MOST_PROBLEMS;
  }
}

/** All outlines of a file, or what is wrong with it, each with the place in the file. */
export function parseOutlines(text: string): Result<Outline[]> {
  const reader = new Reader();
  let root: unknown;
  try {
    root = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (thrown) {
    return refused({
      path: "",
      rule: "not-json",
      message: `The file is no JSON: ${(thrown as Error).message}.`,
      remedy: "Export it as GeoJSON and send it as it comes.",
    });
  }
  const features = featuresOf(root, reader);
  const outlines = features.flatMap((feature, i) =>
    reader.isFull ? [] : outlinesOf(feature, `features[${i}]`, reader),
  );
  if (reader.problems.length === 0 && outlines.length === 0)
    reader.say("features", "empty", 0, "The file has nothing to draw.", "Export lines or areas into it.");
  if (reader.positions > MAX_POSITIONS)
    reader.say(
      "",
      "too-many-positions",
      reader.positions,
      `The file has ${reader.positions} positions; the map draws up to ${MAX_POSITIONS}.`,
      "Simplify the lines in the program that exported them (50 m is fine for a map of hops).",
    );
  return reader.problems.length > 0 ? refused(...reader.problems) : ok(outlines);
}

function featuresOf(root: unknown, reader: Reader): unknown[] {
  if (!isObject(root)) {
    reader.say(
      "",
      "not-geojson",
      typeof root,
      "The file is JSON, but no GeoJSON object.",
      "Export it as GeoJSON.",
    );
    return [];
  }
  // RFC 7946 dropped "crs"; older files still say it, and all but one of them lie elsewhere.
  const crs =
    isObject(root.crs) && isObject(root.crs.properties) ? String(root.crs.properties.name) : undefined;
  if (crs !== undefined && !/CRS84|EPSG:+4326$/i.test(crs))
    reader.say(
      "crs",
      "other-coordinates",
      crs,
      `The file says that its coordinates are ${crs}; the map reads longitude and latitude on WGS 84.`,
      "Export it again with WGS 84 (EPSG:4326) as its coordinate system.",
    );
  if (root.type === "FeatureCollection") {
    if (!Array.isArray(root.features)) {
      reader.say(
        "features",
        "no-features",
        root.features,
        "A FeatureCollection has a list of features.",
        "Export it again.",
      );
      return [];
    }
    if (root.features.length > MAX_FEATURES) {
      reader.say(
        "features",
        "too-many-features",
        root.features.length,
        `The file has ${root.features.length} features; the map takes up to ${MAX_FEATURES}.`,
        "Leave out what does not help to find a site.",
      );
      return [];
    }
    return root.features;
  }
  if (root.type === "Feature") return [root];
  return [{ type: "Feature", properties: {}, geometry: root }];
}

function outlinesOf(feature: unknown, path: string, reader: Reader): Outline[] {
  if (!isObject(feature) || feature.type !== "Feature") {
    const type = isObject(feature) ? feature.type : feature;
    reader.say(
      `${path}.type`,
      "not-a-feature",
      type,
      `Here stands ${JSON.stringify(type)}, no Feature.`,
      "Export it again.",
    );
    return [];
  }
  if (feature.geometry === null) return []; // RFC 7946 3.2: a feature without a place
  const properties = isObject(feature.properties) ? feature.properties : {};
  const name = typeof properties.name === "string" ? properties.name.trim().slice(0, MAX_NAME) : "";
  const kind = properties.kind;
  if (kind !== undefined && kind !== null && !OUTLINE_KINDS.includes(kind as OutlineKind)) {
    reader.say(
      `${path}.properties.kind`,
      "unknown-kind",
      kind,
      `${JSON.stringify(kind)} is no kind of outline.`,
      `Use one of ${OUTLINE_KINDS.join(", ")}, or leave kind out.`,
    );
    return [];
  }
  return shapesOf(feature.geometry, `${path}.geometry`, reader).map((shape) => ({
    kind: (kind as OutlineKind | undefined) ?? shape.kindByShape,
    name,
    isArea: shape.isArea,
    lines: shape.lines,
  }));
}

interface Shape {
  isArea: boolean;
  kindByShape: OutlineKind;
  lines: number[][];
}

function shapesOf(geometry: unknown, path: string, reader: Reader): Shape[] {
  if (!isObject(geometry)) {
    reader.say(path, "no-geometry", geometry, "The feature has no geometry.", "Export it again.");
    return [];
  }
  const at = `${path}.coordinates`;
  const { coordinates } = geometry;
  const list = Array.isArray(coordinates) ? coordinates : undefined;
  const line = (value: unknown, where: string): Shape => ({
    isArea: false,
    kindByShape: "border",
    lines: [positionsOf(value, where, 2, reader)],
  });
  const area = (rings: unknown, where: string): Shape => ({
    isArea: true,
    kindByShape: "land",
    lines: (Array.isArray(rings) ? rings : [rings]).map((ring, i) => ringOf(ring, `${where}[${i}]`, reader)),
  });
  const point = (value: unknown, where: string): Shape => ({
    isArea: false,
    kindByShape: "place",
    lines: [positionsOf([value], where, 1, reader)],
  });
  switch (geometry.type) {
    case "Point":
      return [point(coordinates, at)];
    case "MultiPoint":
      return (list ?? [undefined]).map((p, i) => point(p, `${at}[${i}]`));
    case "LineString":
      return [line(coordinates, at)];
    case "MultiLineString":
      return (list ?? [undefined]).map((l, i) => line(l, `${at}[${i}]`));
    case "Polygon":
      return [area(coordinates, at)];
    case "MultiPolygon":
      return (list ?? [undefined]).map((p, i) => area(p, `${at}[${i}]`));
    case "GeometryCollection":
      return (Array.isArray(geometry.geometries) ? geometry.geometries : []).flatMap((g, i) =>
        shapesOf(g, `${path}.geometries[${i}]`, reader),
      );
    default:
      reader.say(
        `${path}.type`,
        "unknown-geometry",
        geometry.type,
        `${JSON.stringify(geometry.type)} is no geometry of GeoJSON.`,
        "Use Point, LineString, Polygon, their Multi forms or GeometryCollection.",
      );
      return [];
  }
}

/** A linear ring (RFC 7946 3.1.6): four positions or more, the last equal to the first. */
function ringOf(value: unknown, path: string, reader: Reader): number[] {
  const flat = positionsOf(value, path, 4, reader);
  const n = flat.length;
  if (n >= 8 && (flat[0] !== flat[n - 2] || flat[1] !== flat[n - 1]))
    reader.say(
      path,
      "ring-open",
      `${flat[0]},${flat[1]} and ${flat[n - 2]},${flat[n - 1]}`,
      "The area's ring does not end where it began.",
      "Close it: its last position is its first once more.",
    );
  return flat;
}

function positionsOf(value: unknown, path: string, least: number, reader: Reader): number[] {
  if (!Array.isArray(value) || value.length < least) {
    const words = least === 1 ? "a position" : `${least} positions or more`;
    reader.say(
      path,
      "too-few-positions",
      Array.isArray(value) ? value.length : value,
      `Here stand ${words}.`,
      "Export it again.",
    );
    return [];
  }
  reader.positions += value.length;
  if (reader.positions > MAX_POSITIONS) return [];
  const flat: number[] = [];
  for (let i = 0; i < value.length; i++) {
    const position: unknown = value[i];
    const [lon, lat] = Array.isArray(position) ? (position as unknown[]) : [];
    if (!isDegree(lon, 180) || !isDegree(lat, 90)) {
      reader.say(
        `${path}[${i}]`,
        "not-a-position",
        JSON.stringify(position)?.slice(0, 60),
        wrongPosition(lon, lat),
        REMEDY,
      );
      return [];
    }
    flat.push(round5(lon), round5(lat));
  }
  return flat;
}

const REMEDY = "Give longitude first, then latitude, in degrees on WGS 84.";
const isDegree = (value: unknown, most: number): value is number =>
  typeof value === "number" && Math.abs(value) <= most;
const round5 = (deg: number) => Math.round(deg * 1e5) / 1e5;

function wrongPosition(lon: unknown, lat: unknown): string {
  if (typeof lon !== "number" || typeof lat !== "number")
    return "Here stand two numbers, longitude and latitude.";
  if (Math.abs(lon) <= 90 && Math.abs(lat) <= 180)
    return `Latitude ${lat} is beyond 90 degrees: longitude and latitude may have changed places.`;
  if (Math.abs(lon) > 1000 || Math.abs(lat) > 1000)
    return `${lon}, ${lat} are no degrees; they look like metres of a map grid.`;
  return `Longitude ${lon} or latitude ${lat} lies beyond 180 or 90 degrees.`;
}
