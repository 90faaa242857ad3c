/** Outlines of the island that does not exist: coast, a lake, rivers and region borders, made up around the sites. */
import { destination, type LatLon } from "@/lib/geo";
import { MAX_OUTLINE_BYTES, type Outline, parseOutlines } from "@/lib/map";
import { Random } from "@/lib/random";
import { ISLAND_CENTRE } from "./vellmark";

/** The sites lie in an ellipse of these half axes, km, and the inner regions in a circle (seed/vellmark.ts). */
const EAST_KM = 46;
const NORTH_KM = 30;
const INNER_KM = 30;

export const MADE_UP = "Vellmark, made up for the demonstration";

const at = (eastKm: number, northKm: number): LatLon =>
  destination(destination(ISLAND_CENTRE, 90, eastKm), 0, northKm);
const lonLat = ({ latDeg, lonDeg }: LatLon) => [lonDeg, latDeg];
const around = (count: number) => Array.from({ length: count }, (_, i) => (i / count) * 2 * Math.PI);

/** A closed curve of waves with random phases: large ones first, each finer one flatter. */
function waves(random: Random, count: number): (angle: number) => number {
  const parts = Array.from({ length: count }, (_, i) => ({
    turns: i + 2,
    height: random.between(0.4, 1) / (i + 2) ** 0.9,
    phase: random.between(0, 2 * Math.PI),
  }));
  return (angle) => parts.reduce((sum, p) => sum + p.height * Math.sin(p.turns * angle + p.phase), 0);
}

/** @param spread as of the sites: 1 for the demonstration's sixty */
export function makeOutlines(seed: string, spread = 1): Outline[] {
  const random = new Random(seed).fork("outlines");
  const coastWave = waves(random.fork("coast"), 40);
  // Every site lies inside: the coast stays 6 % of the half axes or more outside their ellipse.
  const coastAt = (angle: number) => 1.17 + 0.055 * Math.max(-2, Math.min(2, coastWave(angle)));
  const onCoast = (angle: number, share = 1): LatLon => {
    const r = coastAt(angle) * share * spread;
    return at(Math.cos(angle) * EAST_KM * r, Math.sin(angle) * NORTH_KM * r);
  };
  const closed = (points: LatLon[]) => [...points, points[0]!].map(lonLat);

  const features: object[] = [];
  const add = (kind: string, name: string, type: string, coordinates: unknown) =>
    features.push({ type: "Feature", properties: { kind, name }, geometry: { type, coordinates } });

  add("land", "Vellmark", "Polygon", [closed(around(720).map((a) => onCoast(a)))]);

  const shore = waves(random.fork("lake"), 9);
  const lake = around(60).map((a) => {
    const r = (3.1 + 0.5 * shore(a)) * spread;
    return at(-9 * spread + Math.cos(a) * 1.7 * r, 7 * spread + Math.sin(a) * 0.7 * r);
  });
  add("water", "Loam Water", "Polygon", [closed(lake)]);

  const mouths = [0.25, 1.2, 2.35, 3.6, 4.5, 5.6];
  const names = ["Arl", "Grenn", "Caldwater", "Mell", "Quern", "Teal"];
  for (const [i, mouth] of mouths.entries())
    add("river", names[i]!, "LineString", river(random.fork(`river ${i}`), mouth));

  function river(draw: Random, mouth: number): number[][] {
    const bends = waves(draw, 7);
    return Array.from({ length: 40 }, (_, step) => {
      const share = 0.22 + (0.78 * step) / 39;
      // Straight at its mouth, so that it ends on the coast.
      const angle = mouth + 0.07 * bends(share * 6) * (1 - share) * 2;
      return lonLat(onCoast(angle, share));
    });
  }

  const inner = INNER_KM * spread;
  add(
    "border",
    "Salt Coast, inner edge",
    "LineString",
    closed(around(120).map((a) => at(Math.cos(a) * inner, Math.sin(a) * inner))),
  );
  add("border", "North Fells, south edge", "LineString", [at(-inner, 0), at(inner, 0)].map(lonLat));
  add("border", "Inner Moor and Teal Vale", "LineString", [at(0, 0), at(0, -inner)].map(lonLat));

  const regions: [string, number, number][] = [
    ["North Fells", -3, 17],
    ["Inner Moor", -14, -12],
    ["Teal Vale", 14, -13],
    ["Salt Coast", 39, -2],
  ];
  for (const [name, east, north] of regions)
    add("place", name, "Point", lonLat(at(east * spread, north * spread)));

  const text = JSON.stringify({ type: "FeatureCollection", features });
  const read = parseOutlines(text);
  if (!read.ok || text.length > MAX_OUTLINE_BYTES) throw new Error("the made-up outlines do not read");
  return read.value;
}
