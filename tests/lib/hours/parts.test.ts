/** Alignments too long for a day on site: cut where everybody is down, no shorter than need be. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEFAULT_NORMS, type EndEstimate, estimateAlignment, type HopWork, minutesOf } from "@/lib/hours";
import { visitParts } from "@/lib/hours/parts";

const CREW = {
  people: [
    ["climber", "rescue", "rigger", "technician"],
    ["climber", "rescue", "ground"],
    ["climber", "ground"],
    ["ground", "technician"],
  ],
} as const;

const work = (heightM: number, diameterM: number, scheme: HopWork["scheme"]): HopWork => {
  const end = { structure: "lattice", maxMountHeightM: heightM, largestDiameterM: diameterM } as const;
  return { hopId: "H", scheme, near: end, far: end };
};

const long = estimateAlignment(work(70, 1.8, "1+1 space diversity"), DEFAULT_NORMS, CREW);
const short = estimateAlignment(work(30, 0.6, "1+0"), DEFAULT_NORMS, CREW);

/** Minutes at which somebody is on the way up, aloft or on the way down, from the sequence alone. */
function aloftSpans(e: EndEstimate): { from: number; to: number }[] {
  const of = (id: string) => e.sequence.find((s) => s.taskId === id)!;
  return e.tasks
    .filter((t) => t.moves === "climb")
    .map((t) => ({
      from: of(t.id).startMin,
      to: of(e.tasks.find((u) => u.moves === "descent" && u.ascent === t.ascent)!.id).endMin,
    }));
}

describe("an alignment over several visits", () => {
  it("is one visit while it fits a day on site", () => {
    expect(short.durationMin).toBeLessThan(DEFAULT_NORMS.alignment.longestVisitMin);
    expect(short.parts).toBeUndefined();
  });

  it("is cut into two about equal visits when it does not, each with its set-up", () => {
    expect(long.durationMin).toBeGreaterThan(DEFAULT_NORMS.alignment.longestVisitMin);
    expect(long.parts!.length).toBe(2);
    for (const part of long.parts!) {
      expect(minutesOf(part)).toBeLessThanOrEqual(DEFAULT_NORMS.alignment.longestVisitMin);
      expect(part[0]!.workClass).toBe("indoor");
      expect(part[0]!.durationMin).toBeGreaterThanOrEqual(long.setupMin);
    }
    const all = long.parts!.reduce((sum, part) => sum + minutesOf(part), 0);
    expect(all).toBeCloseTo(long.durationMin + Math.ceil(long.setupMin), 6);
  });

  it("never cuts while anybody is aloft", () => {
    const spans = aloftSpans(long);
    expect(spans.length).toBeGreaterThan(1);
    const firstMin = minutesOf(long.parts![0]!);
    expect(spans.filter((s) => s.from < firstMin - 0.01 && s.to > firstMin + 0.01)).toEqual([]);
  });

  it("keeps the work whole whatever the limit, and a higher limit never asks for more visits", () => {
    fc.assert(
      fc.property(fc.integer({ min: 30, max: 900 }), fc.integer({ min: 0, max: 300 }), (limit, more) => {
        const parts = visitParts(long, limit);
        const again = (parts.length - 1) * Math.ceil(long.setupMin);
        expect(parts.reduce((sum, p) => sum + minutesOf(p), 0)).toBeCloseTo(long.durationMin + again, 6);
        expect(visitParts(long, limit + more).length).toBeLessThanOrEqual(parts.length);
      }),
    );
  });
});
