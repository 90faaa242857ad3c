import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEFAULT_POLICY } from "@/lib/takeoff";
import { tapeHelix, wrapTape } from "@/lib/takeoff/tape";

const PVC = { widthMm: 19, thicknessMm: 0.18 };
const SA = { widthMm: 38, thicknessMm: 0.75 };

describe("tapeHelix", () => {
  it("takes pi D L r / ((1 - o) w) from the roll", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 60, noNaN: true }),
        fc.double({ min: 20, max: 600, noNaN: true }),
        fc.double({ min: 10, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 0.8, noNaN: true }),
        fc.double({ min: 0.5, max: 1, noNaN: true }),
        (D, L, w, o, r) => {
          const helix = tapeHelix(D, L, w, o, r);
          if ((1 - o) * w * r > Math.PI * D) expect(helix).toBeUndefined();
          else expect(helix!.fromRollMm / ((Math.PI * D * L * r) / ((1 - o) * w))).toBeCloseTo(1, 9);
        },
      ),
    );
  });
});

describe("wrapTape", () => {
  it("lays a PVC base, three self-amalgamating passes and three PVC passes, the last of each upward", () => {
    const { passes } = wrapTape(22, PVC, SA, DEFAULT_POLICY)!;
    expect(passes.map((p) => `${p.tape} ${p.direction}`)).toEqual([
      "PVC up",
      "self-amalgamating up",
      "self-amalgamating down",
      "self-amalgamating up",
      "PVC up",
      "PVC down",
      "PVC up",
    ]);
  });

  it("grows by four times the thickness as laid with each half-lapped pass", () => {
    const { passes } = wrapTape(22, PVC, SA, DEFAULT_POLICY)!;
    expect(passes[0]!.aboveMm - passes[0]!.beneathMm).toBeCloseTo(4 * 0.18, 12);
    expect(passes[1]!.aboveMm - passes[1]!.beneathMm).toBeCloseTo(4 * 0.75 * 0.75, 12);
    for (let i = 1; i < passes.length; i++) expect(passes[i]!.beneathMm).toBe(passes[i - 1]!.aboveMm);
  });

  it("works each pass on the diameter beneath plus half its growth, and adds one end loss a tape", () => {
    const wrap = wrapTape(22, PVC, SA, DEFAULT_POLICY)!;
    const lengthMm = 150 + 2 * 50;
    const base = (Math.PI * (22 + 0.36) * lengthMm) / (0.5 * 19);
    expect(wrap.passes[0]!.fromRollMm).toBeCloseTo(base, 6);
    const of = (tape: string) =>
      wrap.passes.filter((p) => p.tape === tape).reduce((sum, p) => sum + p.fromRollMm, 0);
    expect(wrap.pvcMm).toBeCloseTo(of("PVC") + 100, 9);
    expect(wrap.selfAmalgamatingMm).toBeCloseTo(of("self-amalgamating") + 100, 9);
  });

  it("takes more tape the less it is stretched", () => {
    const at = (tapeWidthRatio: number) =>
      wrapTape(22, PVC, SA, { ...DEFAULT_POLICY, tapeWidthRatio })!.selfAmalgamatingMm;
    expect(at(0.5)).toBeLessThan(at(0.6));
    expect(at(0.6)).toBeLessThan(at(0.75));
  });

  it("leaves out a tape that nobody asks for", () => {
    const wrap = wrapTape(22, undefined, SA, DEFAULT_POLICY)!;
    expect(wrap.pvcMm).toBe(0);
    expect(wrap.passes).toHaveLength(3);
  });

  it("is refused where a pass cannot lie", () => {
    expect(wrapTape(3, PVC, { widthMm: 50, thicknessMm: 0.75 }, DEFAULT_POLICY)).toBeUndefined();
  });
});
