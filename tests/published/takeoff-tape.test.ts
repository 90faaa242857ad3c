/** Tape helix geometry against the recomputed derivation and the standard continuum result. */
import { describe, expect, it } from "vitest";
import { tapeHelix } from "@/lib/takeoff";

const SOURCE = "helix on the unrolled cylinder, laid length = area / advance (derivation, R)";
const ROWS = [
  {
    D: 28,
    w: 19,
    o: 0.5,
    L: 300,
    stretch: 1,
    alpha: 6.1999,
    pitch: 9.5559,
    turns: 31.3942,
    laid: 2777.83,
    roll: 2777.83,
  },
  {
    D: 28,
    w: 38,
    o: 0.5,
    L: 300,
    stretch: 1,
    alpha: 12.474,
    pitch: 19.4594,
    turns: 15.4168,
    laid: 1388.91,
    roll: 1388.91,
  },
  {
    D: 28,
    w: 50,
    o: 0.5,
    L: 400,
    stretch: 1,
    alpha: 16.5113,
    pitch: 26.0753,
    turns: 15.3402,
    laid: 1407.43,
    roll: 1407.43,
  },
  {
    D: 16,
    w: 50,
    o: 0.5,
    L: 250,
    stretch: 2,
    alpha: 20.5905,
    pitch: 18.884,
    turns: 13.2387,
    laid: 710.86,
    roll: 355.43,
  },
] as const;
const TOLERANCE = 0.01;

describe("tape helix", () => {
  for (const row of ROWS) {
    it(`${SOURCE}: D ${row.D} mm, w ${row.w} mm, L ${row.L} mm, stretch ${row.stretch}`, () => {
      // An incompressible tape stretched to lambda has the width ratio 1 / sqrt(lambda).
      const helix = tapeHelix(row.D, row.L, row.w, row.o, 1 / Math.sqrt(row.stretch))!;
      expect(Math.abs(helix.alphaDeg - row.alpha), SOURCE).toBeLessThanOrEqual(TOLERANCE);
      expect(Math.abs(helix.pitchMm - row.pitch), SOURCE).toBeLessThanOrEqual(TOLERANCE);
      expect(Math.abs(helix.turns - row.turns), SOURCE).toBeLessThanOrEqual(TOLERANCE);
      expect(Math.abs(helix.laidMm - row.laid), SOURCE).toBeLessThanOrEqual(TOLERANCE);
      expect(Math.abs(helix.fromRollMm - row.roll), SOURCE).toBeLessThanOrEqual(TOLERANCE);
    });
  }

  const TRELOAR = "Treloar, Physics of Rubber Elasticity (M): width ratio 1 / sqrt(stretch), values R";
  for (const [stretch, ratio] of [
    [1.25, 0.89443],
    [1.5, 0.8165],
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: kept as the table prints it
    [2, 0.70711],
    [3, 0.57735],
    [4, 0.5],
  ] as const) {
    it(`${TRELOAR}: width ratio ${ratio} takes 1/${stretch} of the laid length from the roll`, () => {
      const helix = tapeHelix(28, 300, 38, 0.5, ratio)!;
      expect(Math.abs(helix.laidMm / helix.fromRollMm - stretch), TRELOAR).toBeLessThanOrEqual(1e-4);
    });
  }

  it("takes the same tape at any angle, less than the shortcut p = (1 - o) w would say", () => {
    const circumferenceMm = Math.PI * 28;
    const helix = tapeHelix(28, 400, 50, 0.5, 1)!;
    expect(helix.turns * Math.hypot(circumferenceMm, helix.pitchMm)).toBeCloseTo(helix.laidMm, 6);
    const shortcutMm = (400 / 25) * Math.hypot(circumferenceMm, 25);
    expect(Math.abs(shortcutMm - 1463.17), SOURCE).toBeLessThanOrEqual(TOLERANCE);
    expect(shortcutMm).toBeGreaterThan(helix.laidMm);
  });

  it("is refused when the advance is wider than the circumference", () => {
    expect(tapeHelix(7, 100, 50, 0.5, 1)).toBeUndefined(); // advance 25 mm, circumference 21.99 mm
    expect(tapeHelix(8, 100, 50, 0.5, 1)).toBeDefined(); // circumference 25.13 mm
  });
});
