import type { StructureKind } from "@/lib/site";
import type { ClimbModel, ThreePoint } from "./types";

/** Likely minutes to get up to `heightM`: climbing speed, and rest on the way above the model's threshold. */
export function ascentMin(heightM: number, structure: StructureKind, model: ClimbModel): number {
  checkHeight(heightM);
  const restMin = Math.max(0, heightM - model.restAboveM) * model.restMinPerM;
  return heightM / model.ascentMPerMin[structure] + restMin;
}

/** Likely minutes to get down from `heightM`; going down needs no rest in this model. */
export function descentMin(heightM: number, structure: StructureKind, model: ClimbModel): number {
  checkHeight(heightM);
  return heightM / model.descentMPerMin[structure];
}

/** The likely climb time as a range. */
export function climbRange(likelyMin: number, model: ClimbModel): ThreePoint {
  return {
    aMin: likelyMin * model.optimisticShare,
    mMin: likelyMin,
    bMin: likelyMin * model.pessimisticShare,
  };
}

/**
 * Minutes of work that one ascent leaves at `heightM`: the longest spell aloft less the way up and down.
 * Never below `minWorkPerAscentMin`: very high mounts are still worked at, at the price of more ascents.
 */
export function workPerAscentMin(heightM: number, structure: StructureKind, model: ClimbModel): number {
  const way = ascentMin(heightM, structure, model) + descentMin(heightM, structure, model);
  return Math.max(model.minWorkPerAscentMin, model.longestSpellMin - way);
}

/** Ascents for so many minutes of work aloft, at least one when there is any. */
export function ascentsFor(
  workAloftMin: number,
  heightM: number,
  structure: StructureKind,
  model: ClimbModel,
): number {
  return Math.ceil(workAloftMin / workPerAscentMin(heightM, structure, model));
}

/**
 * Minutes lost when work aloft pauses and goes on another hour or day: down, kit-up, up again (likely figures).
 */
export function pauseMin(heightM: number, structure: StructureKind, model: ClimbModel): number {
  return descentMin(heightM, structure, model) + model.kitUp.mMin + ascentMin(heightM, structure, model);
}

function checkHeight(heightM: number): void {
  if (!(heightM >= 0)) throw new RangeError(`heightM must be >= 0, got ${heightM} m`);
}
