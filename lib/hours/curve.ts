import { type EstimateOptions, estimateHours } from "./hours";
import type { CrewComposition, EndWork, HourNorms } from "./types";

export interface HeightPoint {
  heightM: number;
  durationMin: number;
  p80Min: number;
  personHours: number;
  ascents: number;
}

/**
 * Hours of the same end at other mount heights: not a straight line, since rest on the climb starts above a threshold
 * and work aloft breaks into more ascents.
 *
 * The vertical route of every run grows or shrinks with the height, and its ties with it; everything else stays as
 * designed, the number of earthing points too.
 *
 * @param heightsM mount heights, m, >= 0; a route never gets shorter than nothing
 */
export function hoursAgainstHeight(
  work: EndWork,
  norms: HourNorms,
  crew: CrewComposition,
  heightsM: readonly number[],
  options: EstimateOptions = {},
): readonly HeightPoint[] {
  return heightsM.map((heightM) => {
    const { durationMin, p80Min, personHours, ascents } = estimateHours(
      atHeight(work, heightM),
      norms,
      crew,
      undefined,
      options,
    );
    return { heightM, durationMin, p80Min, personHours, ascents: ascents ?? 0 };
  });
}

/** The same end with its mount at another height. */
export function atHeight(work: EndWork, heightM: number): EndWork {
  const d = work.drivers;
  const addedM = Math.max(-d.outdoorM, (heightM - d.maxMountHeightM) * d.runCount);
  const outdoorM = d.outdoorM + addedM;
  const tieCount = d.outdoorM > 0 ? (d.tieCount * outdoorM) / d.outdoorM : d.tieCount;
  return {
    ...work,
    drivers: { ...d, maxMountHeightM: heightM, outdoorM, cableM: d.cableM + addedM, tieCount },
  };
}
