/** Wind profile, turbulence, exposure and drag against published and recomputed values. */
import { describe, expect, it } from "vitest";
import { discDragN, dynamicPressurePa } from "../../lib/weather/drag";
import {
  exposureFactor,
  gustFactor,
  logLawFactor,
  powerLawFactor,
  roughnessFactor,
  TERRAIN,
  turbulenceIntensity,
} from "../../lib/weather/wind";

const FORMULA = "formula of the law, recomputed";
const TEACHING = "teaching page on wind profiles, printed value";

describe("power law", () => {
  const rows = [
    { source: FORMULA, mark: "R", exponent: 0.2, heightM: 20, expected: 9.1896, tolerance: 1e-3 },
    { source: FORMULA, mark: "R", exponent: 0.2, heightM: 50, expected: 11.0378, tolerance: 1e-3 },
    { source: FORMULA, mark: "R", exponent: 0.2, heightM: 100, expected: 12.6791, tolerance: 1e-3 },
    { source: FORMULA, mark: "R", exponent: 0.14, heightM: 20, expected: 8.8152, tolerance: 1e-3 },
    { source: FORMULA, mark: "R", exponent: 0.14, heightM: 50, expected: 10.0218, tolerance: 1e-3 },
    { source: FORMULA, mark: "R", exponent: 0.14, heightM: 100, expected: 11.0431, tolerance: 1e-3 },
    { source: TEACHING, mark: "V", exponent: 0.143, heightM: 100, expected: 11.1, tolerance: 0.05 },
  ];
  it.each(rows)("8 m/s at 10 m, a = $exponent, at $heightM m: $expected m/s", (row) => {
    const windMs = 8 * powerLawFactor(row.heightM, row.exponent);
    expect(Math.abs(windMs - row.expected), `${row.source} (${row.mark})`).toBeLessThanOrEqual(row.tolerance);
  });
});

describe("log law", () => {
  const rows = [
    { source: TEACHING, mark: "V", z0M: 0.03, heightM: 100, expected: 11.2, tolerance: 0.05 },
    { source: FORMULA, mark: "R", z0M: 0.05, heightM: 20, expected: 9.0466, tolerance: 1e-3 },
    { source: FORMULA, mark: "R", z0M: 0.05, heightM: 50, expected: 10.4301, tolerance: 1e-3 },
    { source: FORMULA, mark: "R", z0M: 0.3, heightM: 20, expected: 9.5814, tolerance: 1e-3 },
    { source: FORMULA, mark: "R", z0M: 0.3, heightM: 50, expected: 11.6718, tolerance: 1e-3 },
  ];
  it.each(rows)("8 m/s at 10 m, z0 = $z0M m, at $heightM m: $expected m/s", (row) => {
    const windMs = 8 * logLawFactor(row.heightM, row.z0M);
    expect(Math.abs(windMs - row.expected), `${row.source} (${row.mark})`).toBeLessThanOrEqual(row.tolerance);
  });
});

describe("EN 1991-1-4 terrain categories", () => {
  const TABLE = "EN 1991-1-4:2005 Table 4.1, pages reproducing it";
  const FORMULAS = "EN 1991-1-4:2005 4.3 to 4.5, formulas V (secondary), numbers recomputed";
  const heights = [10, 20, 50] as const;
  const rows = [
    {
      terrain: "0",
      z0M: 0.003,
      zMinM: 1,
      cr: [1.2657, 1.3739, 1.5168],
      iv: [0.1233, 0.1136, 0.1029],
      ce: [2.9845, 3.3882, 3.9576],
    },
    {
      terrain: "I",
      z0M: 0.01,
      zMinM: 1,
      cr: [1.1726, 1.2903, 1.4458],
      iv: [0.1448, 0.1316, 0.1174],
      ce: [2.7685, 3.1981, 3.8086],
    },
    {
      terrain: "II",
      z0M: 0.05,
      zMinM: 2,
      cr: [1.0067, 1.1384, 1.3125],
      iv: [0.1887, 0.1669, 0.1448],
      ce: [2.3523, 2.8099, 3.4682],
    },
    {
      terrain: "III",
      z0M: 0.3,
      zMinM: 5,
      cr: [0.7553, 0.9046, 1.1019],
      iv: [0.2852, 0.2381, 0.1955],
      ce: [1.7092, 2.1821, 2.8757],
    },
    {
      terrain: "IV",
      z0M: 1.0,
      zMinM: 10,
      cr: [0.5396, 0.702, 0.9167],
      // biome-ignore lint/suspicious/noApproximativeNumericConstant: 1 / ln(10 m / 1 m), a table cell
      iv: [0.4343, 0.3338, 0.2556],
      ce: [1.1762, 1.6443, 2.344],
    },
  ] as const;
  const tolerance = 1e-3;

  it.each(rows)("category $terrain: z0, zmin, cr, Iv and ce at 10, 20 and 50 m", (row) => {
    expect(TERRAIN[row.terrain], `${TABLE} (V, secondary)`).toEqual({ z0M: row.z0M, zMinM: row.zMinM });
    for (const [i, heightM] of heights.entries()) {
      const where = `${FORMULAS} (R), ${row.terrain} at ${heightM} m`;
      expect(
        Math.abs(roughnessFactor(heightM, row.terrain) - row.cr[i]!),
        `cr: ${where}`,
      ).toBeLessThanOrEqual(tolerance);
      expect(
        Math.abs(turbulenceIntensity(heightM, row.terrain) - row.iv[i]!),
        `Iv: ${where}`,
      ).toBeLessThanOrEqual(tolerance);
      expect(Math.abs(exposureFactor(heightM, row.terrain) - row.ce[i]!), `ce: ${where}`).toBeLessThanOrEqual(
        tolerance,
      );
    }
  });

  it("keeps cr constant under zmin", () => {
    expect(roughnessFactor(0.5, "III")).toBe(roughnessFactor(5, "III"));
  });

  it("gives the peak gust factor 1.5235, 1.4725 and 1.4189 in category II (R)", () => {
    for (const [heightM, expected] of [
      [10, 1.5235],
      [20, 1.4725],
      [50, 1.4189],
    ] as const) {
      expect(Math.abs(gustFactor(heightM, "II") - expected)).toBeLessThanOrEqual(tolerance);
    }
  });
});

describe("GB 50009-2012 Table 8.2.1, wind pressure factor", () => {
  const SOURCE = "GB 50009-2012 Table 8.2.1, stored text of the code; exponents M";
  const rows = [
    { category: "A", at10: 1.284, exponent: 0.24, heightM: 20, expected: 1.52 },
    { category: "A", at10: 1.284, exponent: 0.24, heightM: 50, expected: 1.89 },
    { category: "B", at10: 1, exponent: 0.3, heightM: 10, expected: 1.0 },
    { category: "B", at10: 1, exponent: 0.3, heightM: 20, expected: 1.23 },
    { category: "B", at10: 1, exponent: 0.3, heightM: 50, expected: 1.62 },
    { category: "C", at10: 0.544, exponent: 0.44, heightM: 20, expected: 0.74 },
    { category: "C", at10: 0.544, exponent: 0.44, heightM: 50, expected: 1.1 },
    { category: "D", at10: 0.262, exponent: 0.6, heightM: 50, expected: 0.69 },
  ];
  it.each(rows)("category $category at $heightM m: $expected", (row) => {
    // pressure goes with the square of speed, so the speed exponent is half of the table's
    const factor = row.at10 * powerLawFactor(row.heightM, row.exponent / 2) ** 2;
    expect(Math.abs(factor - row.expected), `${SOURCE} (V)`).toBeLessThanOrEqual(0.01);
  });
});

describe("wind pressure and drag of a disc", () => {
  const pressure = [
    { densityKgM3: 1.225, windMs: 10, expected: 61.25, tolerance: 0.01, mark: "R" },
    { densityKgM3: 1.225, windMs: 15, expected: 137.81, tolerance: 0.01, mark: "R" },
    { densityKgM3: 1.225, windMs: 20, expected: 245.0, tolerance: 0.01, mark: "R" },
    { densityKgM3: 1.225, windMs: 30, expected: 551.25, tolerance: 0.01, mark: "R" },
    { densityKgM3: 1.226, windMs: 10, expected: 61.3, tolerance: 0.1, mark: "R" },
    { densityKgM3: 1.226, windMs: 20, expected: 245.2, tolerance: 0.1, mark: "R" },
    { densityKgM3: 1.226, windMs: 40, expected: 980.8, tolerance: 0.1, mark: "R" },
  ];
  it.each(pressure)("q at $windMs m/s and $densityKgM3 kg/m3: $expected Pa", (row) => {
    const q = dynamicPressurePa(row.windMs, row.densityKgM3);
    expect(Math.abs(q - row.expected), `q = rho v^2 / 2 (${row.mark})`).toBeLessThanOrEqual(row.tolerance);
  });

  it("agrees with 0.00256 V^2 psf at 100 mph within 0.1 %", () => {
    const psf = 0.00256 * 100 ** 2;
    expect(psf).toBeCloseTo(25.6, 6);
    const pa = psf * 47.880259; // Pa in a psf
    expect(Math.abs(dynamicPressurePa(44.704, 1.226) / pa - 1)).toBeLessThan(1e-3);
  });

  it("keeps the psf constant of the stored derivation, with the mile at 5280 ft", () => {
    expect(Math.abs(0.5 * (0.0765 / 32.174) * (5280 / 3600) ** 2 - 0.002557)).toBeLessThanOrEqual(1e-5);
  });

  const drag = [
    { diameterM: 0.6, windMs: 10, expected: 20.26 },
    { diameterM: 0.6, windMs: 15, expected: 45.59 },
    { diameterM: 0.6, windMs: 20, expected: 81.05 },
    { diameterM: 1.2, windMs: 10, expected: 81.05 },
    { diameterM: 1.2, windMs: 15, expected: 182.36 },
    { diameterM: 1.2, windMs: 20, expected: 324.19 },
    { diameterM: 1.8, windMs: 10, expected: 182.36 },
    { diameterM: 1.8, windMs: 20, expected: 729.44 },
  ];
  it.each(drag)("$diameterM m dish at $windMs m/s: $expected N", (row) => {
    const dragN = discDragN(row.diameterM, row.windMs);
    expect(Math.abs(dragN - row.expected), "F = q Cd A, Cd 1.17, rho 1.225 (R)").toBeLessThanOrEqual(0.1);
  });

  it("grows fourfold with twice the diameter or twice the wind", () => {
    expect(discDragN(1.2, 10) / discDragN(0.6, 10)).toBeCloseTo(4, 9);
    expect(discDragN(0.6, 20) / discDragN(0.6, 10)).toBeCloseTo(4, 9);
  });
});
