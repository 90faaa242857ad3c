/** Draws how long work takes from four quantiles. */
import type { WorkRange } from "./types";

/** Standard normal quantiles of 10, 80 and 90 % (tables; P50 is 0). */
const Z10 = -1.2815515655446004;
export const Z80 = 0.8416212335729143;
const Z90 = 1.2815515655446004;

/** No draw lies farther out: the tails beyond are nobody's estimate. */
const MOST_Z = 3;

/** Work never takes less than this share of what was planned. */
const LEAST_FACTOR = 0.05;

/**
 * Factor on the planned minutes for a standard normal draw: straight lines between the given quantiles on the normal
 * scale, so that P10, P50, P80 and P90 of many draws are exactly those given; the outer lines go on beyond P10 and P90
 * up to three standard deviations.
 *
 * @param z standard normal deviate
 */
export function workFactor({ p10, p50, p80, p90 }: WorkRange, z: number): number {
  const x = Math.max(-MOST_Z, Math.min(MOST_Z, z));
  const factor =
    x < 0
      ? p50 + ((p10 - p50) * x) / Z10
      : x < Z80
        ? p50 + ((p80 - p50) * x) / Z80
        : p80 + ((p90 - p80) * (x - Z80)) / (Z90 - Z80);
  return Math.max(LEAST_FACTOR, factor);
}

/** @throws RangeError when the quantiles are not in order or not finite */
export function checkRange(r: WorkRange, at: string): void {
  const isOrdered = r.p10 <= r.p50 && r.p50 <= r.p80 && r.p80 <= r.p90;
  if (!isOrdered || !Number.isFinite(r.p10 + r.p90) || r.p10 < 0)
    throw new RangeError(
      `${at}: quantiles ${r.p10}, ${r.p50}, ${r.p80}, ${r.p90} are not in order from 0 up`,
    );
}
