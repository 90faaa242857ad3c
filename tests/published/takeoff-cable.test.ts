/** Coax loss, copper resistance and constant-power feed against published and recomputed values. */
import { describe, expect, it } from "vitest";
import { cableLossDb, voltageAtOdu, warmLoopOhm } from "@/lib/takeoff";
import { COPPER_PER_K } from "@/lib/takeoff/dcFeed";

/** 1 dB per 100 ft = 100/30.48 dB per 100 m, exact. */
const PER_100FT = 100 / 30.48;

const LOSS = [
  {
    source: "ARRL class-manual erratum, RG-8 and RG-213; k1, k2 from its two points",
    k1: 0.189581,
    k2: 0.00138747,
    rows: [
      { mhz: 30, db: 1.08, mark: "V", tolerance: 0.001 },
      { mhz: 150, db: 2.53, mark: "V", tolerance: 0.001 },
      { mhz: 50, db: 1.41, mark: "R", tolerance: 0.001 },
      { mhz: 100, db: 2.035, mark: "R", tolerance: 0.001 },
      { mhz: 400, db: 4.347, mark: "R", tolerance: 0.001 },
      { mhz: 1000, db: 7.383, mark: "R", tolerance: 0.001 },
    ],
  },
  {
    source: "RG-8/RG-213 handbook-style typical values (from memory), relative least-squares fit",
    k1: 0.163246,
    k2: 0.00249317,
    rows: [
      { mhz: 10, db: 0.541, mark: "R", tolerance: 0.001 },
      { mhz: 50, db: 1.279, mark: "R", tolerance: 0.001 },
      { mhz: 100, db: 1.882, mark: "R", tolerance: 0.001 },
      { mhz: 200, db: 2.807, mark: "R", tolerance: 0.001 },
      { mhz: 400, db: 4.262, mark: "R", tolerance: 0.001 },
      { mhz: 1000, db: 7.655, mark: "R", tolerance: 0.001 },
      { mhz: 10, db: 0.55, mark: "M", tolerance: 0.55 * 0.05 },
      { mhz: 50, db: 1.3, mark: "M", tolerance: 1.3 * 0.05 },
      { mhz: 100, db: 1.9, mark: "M", tolerance: 1.9 * 0.05 },
      { mhz: 200, db: 2.7, mark: "M", tolerance: 2.7 * 0.05 },
      { mhz: 400, db: 4.1, mark: "M", tolerance: 4.1 * 0.05 },
      { mhz: 1000, db: 8.0, mark: "M", tolerance: 8.0 * 0.05 },
    ],
  },
] as const;

describe("coax loss A(f) = k1 sqrt(f) + k2 f", () => {
  for (const { source, k1, k2, rows } of LOSS) {
    for (const { mhz, db, mark, tolerance } of rows) {
      it(`${source}: ${mhz} MHz (${mark})`, () => {
        const per100Ft = cableLossDb(k1 * PER_100FT, k2 * PER_100FT, mhz, 30.48);
        expect(Math.abs(per100Ft - db), `${source}, ${mark}: ${per100Ft}`).toBeLessThanOrEqual(tolerance);
      });
    }
  }

  it("is additive with length and grows with frequency", () => {
    const k1 = 0.189581 * PER_100FT;
    const k2 = 0.00138747 * PER_100FT;
    expect(cableLossDb(k1, k2, 350, 42) + cableLossDb(k1, k2, 350, 18)).toBeCloseTo(
      cableLossDb(k1, k2, 350, 60),
      12,
    );
    const losses = [10, 50, 140, 350, 1000].map((mhz) => cableLossDb(k1, k2, mhz, 100));
    expect(losses).toEqual([...losses].sort((a, b) => a - b));
  });
});

const IEC_60228 = "IEC 60228 Table 2, class 2 plain copper, maximum at 20 degC (V secondary)";
const COPPER = [
  { mm2: 6, ohmPerKm: 3.08, loopOhmPer100M: 0.616, at50OhmPerKm: 3.4431 },
  { mm2: 10, ohmPerKm: 1.83, loopOhmPer100M: 0.366, at50OhmPerKm: 2.0458 },
  { mm2: 16, ohmPerKm: 1.15, loopOhmPer100M: 0.23, at50OhmPerKm: 1.2856 },
  { mm2: 25, ohmPerKm: 0.727, loopOhmPer100M: 0.1454, at50OhmPerKm: 0.8127 },
  { mm2: 35, ohmPerKm: 0.524, loopOhmPer100M: 0.1048, at50OhmPerKm: 0.5858 },
] as const;

describe("copper resistance", () => {
  it("has the temperature coefficient 0.00393/K (from memory)", () => {
    expect(COPPER_PER_K).toBe(0.00393);
  });

  for (const row of COPPER) {
    it(`${IEC_60228}: ${row.mm2} mm2, loop per 100 m at 20 degC and at 50 degC`, () => {
      const loop20 = warmLoopOhm((2 * row.ohmPerKm) / 10, 100, 20);
      const loop50 = warmLoopOhm((2 * row.ohmPerKm) / 10, 100, 50);
      expect(Math.abs(loop20 - row.loopOhmPer100M), IEC_60228).toBeLessThanOrEqual(1e-4);
      expect(Math.abs((loop50 / 2) * 10 - row.at50OhmPerKm), IEC_60228).toBeLessThanOrEqual(1e-4);
    });
  }
});

const FEED = "10 mm2 class 2, 60 m one way, 300 W, V = (Vs + sqrt(Vs^2 - 4 R P))/2 (R)";
const FEED_ROWS = [
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: the drop in volts, near sqrt 2 by chance
  { supplyV: 48, expectedV: 46.5858, dropV: 1.4142 },
  { supplyV: 54, expectedV: 52.7511, dropV: 1.2489 },
  { supplyV: 43.2, expectedV: 41.617, dropV: 1.583 },
] as const;

describe("constant-power DC feed", () => {
  const loopOhm = warmLoopOhm(0.366, 60, 20);

  it("has the worked loop resistance", () => {
    expect(Math.abs(loopOhm - 0.2196), FEED).toBeLessThanOrEqual(1e-3);
  });

  for (const { supplyV, expectedV, dropV } of FEED_ROWS) {
    it(`${FEED}: ${supplyV} V`, () => {
      const voltageV = voltageAtOdu(supplyV, loopOhm, 300)!;
      expect(Math.abs(voltageV - expectedV), FEED).toBeLessThanOrEqual(1e-3);
      expect(Math.abs(supplyV - voltageV - dropV), FEED).toBeLessThanOrEqual(1e-3);
    });
  }

  it("draws the worked current at 48 V and stays above 40.5 V at 43.2 V", () => {
    expect(Math.abs(300 / voltageAtOdu(48, loopOhm, 300)! - 6.4397), FEED).toBeLessThanOrEqual(1e-3);
    expect(voltageAtOdu(43.2, loopOhm, 300)!).toBeGreaterThan(40.5);
  });

  it("has no solution once 4 R P exceeds Vs^2, and one exactly at it", () => {
    expect(voltageAtOdu(48, 48 ** 2 / (4 * 300), 300)).toBeCloseTo(24, 9);
    expect(voltageAtOdu(48, 48 ** 2 / (4 * 300) + 1e-6, 300)).toBeUndefined();
  });
});
