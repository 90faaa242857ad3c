/** Mean wind and gust at mount height from the value at 10 m. */
import type { TerrainCategory } from "@/lib/site";
import type { WeatherPolicy } from "./types";

export const REFERENCE_HEIGHT_M = 10;

/** EN 1991-1-4:2005 Table 4.1, recommended values; a national annex may set others. V (secondary). */
export const TERRAIN: Readonly<Record<TerrainCategory, { z0M: number; zMinM: number }>> = {
  "0": { z0M: 0.003, zMinM: 1 },
  I: { z0M: 0.01, zMinM: 1 },
  II: { z0M: 0.05, zMinM: 2 },
  III: { z0M: 0.3, zMinM: 5 },
  IV: { z0M: 1.0, zMinM: 10 },
};

/** `v(z) = v_ref (z / z_ref)^a`, as a factor on v_ref. */
export function powerLawFactor(heightM: number, exponent: number, refM = REFERENCE_HEIGHT_M): number {
  return (heightM / refM) ** exponent;
}

/** `v(z) = v_ref ln(z / z0) / ln(z_ref / z0)`, as a factor on v_ref. Both heights must exceed z0. */
export function logLawFactor(heightM: number, z0M: number, refM = REFERENCE_HEIGHT_M): number {
  return Math.log(heightM / z0M) / Math.log(refM / z0M);
}

/** Roughness factor cr(z) of EN 1991-1-4 4.3.2, constant under zMin. Stated up to 200 m; not cut off above. */
export function roughnessFactor(heightM: number, terrain: TerrainCategory): number {
  const { z0M, zMinM } = TERRAIN[terrain];
  const kr = 0.19 * (z0M / 0.05) ** 0.07;
  return kr * Math.log(Math.max(heightM, zMinM) / z0M);
}

/** Turbulence intensity Iv(z) of EN 1991-1-4 4.4 with kI = co = 1. */
export function turbulenceIntensity(heightM: number, terrain: TerrainCategory): number {
  const { z0M, zMinM } = TERRAIN[terrain];
  return 1 / Math.log(Math.max(heightM, zMinM) / z0M);
}

/** Exposure factor ce(z) = qp / qb of EN 1991-1-4 4.5 with co = 1. */
export function exposureFactor(heightM: number, terrain: TerrainCategory): number {
  return (1 + 7 * turbulenceIntensity(heightM, terrain)) * roughnessFactor(heightM, terrain) ** 2;
}

/** Peak gust over mean wind, `sqrt(1 + 7 Iv)`: derived from the peak pressure, not printed in the standard. */
export function gustFactor(heightM: number, terrain: TerrainCategory): number {
  return Math.sqrt(1 + 7 * turbulenceIntensity(heightM, terrain));
}

export type WindProfile = Pick<WeatherPolicy, "windProfile" | "powerExponent">;

/**
 * Factor from the mean wind at 10 m to the mean wind at `heightM`.
 *
 * The 10 m value is taken as measured over the site's own roughness: in rough terrain this gives more wind
 * at height than the standard's cr(z), which starts from open country, so it errs on the careful side.
 * Heights under the category's zMin are read at zMin.
 */
export function windHeightFactor(heightM: number, terrain: TerrainCategory, policy: WindProfile): number {
  if (!(heightM >= 0)) throw new RangeError(`heightM must be >= 0, got ${heightM} m`);
  const { z0M, zMinM } = TERRAIN[terrain];
  const z = Math.max(heightM, zMinM);
  return policy.windProfile === "log" ? logLawFactor(z, z0M) : powerLawFactor(z, policy.powerExponent);
}

/** Mean wind at `heightM` above ground, m/s, from the mean at 10 m. */
export function windAtHeight(
  windMs10: number,
  heightM: number,
  terrain: TerrainCategory,
  policy: WindProfile,
): number {
  return windMs10 * windHeightFactor(heightM, terrain, policy);
}

/**
 * Factors that bring a gust to mount height.
 * `onGust`: from a gust at 10 m (gusts grow more slowly with height than the mean).
 * `onMean`: from the mean at 10 m, for series that carry no gust.
 */
export function gustHeightFactors(
  heightM: number,
  terrain: TerrainCategory,
  policy: WindProfile,
): { onGust: number; onMean: number } {
  const onMean = windHeightFactor(heightM, terrain, policy) * gustFactor(heightM, terrain);
  return { onGust: onMean / gustFactor(REFERENCE_HEIGHT_M, terrain), onMean };
}

/** Gust at `heightM`, m/s. A missing gust (NaN) is derived from the mean; a gust is never under the mean. */
export function gustAtHeight(
  windMs10: number,
  gustMs10: number,
  heightM: number,
  terrain: TerrainCategory,
  policy: WindProfile,
): number {
  const { onGust, onMean } = gustHeightFactors(heightM, terrain, policy);
  if (Number.isNaN(gustMs10)) return windMs10 * onMean;
  return Math.max(gustMs10 * onGust, windAtHeight(windMs10, heightM, terrain, policy));
}
