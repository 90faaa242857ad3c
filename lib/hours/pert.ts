import type { ThreePoint } from "./types";

/** PERT mean `te = (a + 4m + b) / 6`, minutes (Malcolm, Roseboom, Clark and Fazar 1959). */
export function pertMeanMin(t: ThreePoint): number {
  return (t.aMin + 4 * t.mMin + t.bMin) / 6;
}

/** PERT variance `((b - a) / 6)^2`, minutes squared. */
export function pertVarianceMin2(t: ThreePoint): number {
  return ((t.bMin - t.aMin) / 6) ** 2;
}

/** @throws RangeError unless 0 <= a <= m <= b, all finite */
export function checkThreePoint(t: ThreePoint, of: string): void {
  const isOrdered = t.aMin >= 0 && t.aMin <= t.mMin && t.mMin <= t.bMin && Number.isFinite(t.bMin);
  if (!isOrdered)
    throw new RangeError(`${of}: 0 <= a <= m <= b min expected, got ${t.aMin}/${t.mMin}/${t.bMin}`);
}

/** Sum of three-point figures that stretch together (fixed part and parts per driver). */
export function addThreePoints(x: ThreePoint, y: ThreePoint, factor = 1): ThreePoint {
  return {
    aMin: x.aMin + factor * y.aMin,
    mMin: x.mMin + factor * y.mMin,
    bMin: x.bMin + factor * y.bMin,
  };
}
