import { describe, expect, it } from "vitest";
import { Random } from "@/lib/random";
import { makeOutlines } from "@/seed/outlines";
import { makeSites } from "@/seed/vellmark";

/** Is a position inside a ring? By counting the edges to its east. */
function isInside(lon: number, lat: number, ring: readonly number[]): boolean {
  let inside = false;
  for (let i = 0; i + 3 < ring.length; i += 2) {
    const [x1, y1, x2, y2] = ring.slice(i, i + 4) as [number, number, number, number];
    if (y1 > lat !== y2 > lat && lon < ((x2 - x1) * (lat - y1)) / (y2 - y1) + x1) inside = !inside;
  }
  return inside;
}

describe.each([60, 2000])("the made-up island for %i sites", (count) => {
  const outlines = makeOutlines("vellmark", Math.sqrt(count / 60));
  const land = outlines.find((o) => o.kind === "land")!;

  it("has every site on land", () => {
    const sites = makeSites(new Random("vellmark").fork("sites"), count);
    const wet = sites.filter((s) => !isInside(s.position!.lonDeg, s.position!.latDeg, land.lines[0]!));
    expect(wet.map((s) => s.code)).toEqual([]);
  });

  it("has rivers that end at the coast, borders and the names of the regions", () => {
    const kinds = new Set(outlines.map((o) => o.kind));
    expect([...kinds].sort()).toEqual(["border", "land", "place", "river", "water"]);
    expect(outlines.filter((o) => o.kind === "place").map((o) => o.name)).toContain("Salt Coast");
  });

  it("is the same for the same seed", () => {
    expect(makeOutlines("vellmark", Math.sqrt(count / 60))).toEqual(outlines);
  });
});
