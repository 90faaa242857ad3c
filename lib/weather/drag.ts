/** Wind pressure and the drag on a dish while it hangs on the rope. For handling judgement, not for design loads. */
import type { WeatherPolicy } from "./types";

export type DragPolicy = Pick<WeatherPolicy, "tagLineForceN" | "dragCoefficient" | "airDensityKgM3">;

/** ISO 2533 sea level, kg/m3 (M). */
export const SEA_LEVEL_DENSITY_KG_M3 = 1.225;

/** Flat disc square to the flow, Re > 1000: 1.17, V (page citing Hoerner, Fluid-Dynamic Drag); others print 1.12. */
export const FLAT_DISC_DRAG = 1.17;

/** `q = rho v^2 / 2`, Pa. */
export function dynamicPressurePa(windMs: number, airDensityKgM3 = SEA_LEVEL_DENSITY_KG_M3): number {
  return 0.5 * airDensityKgM3 * windMs * windMs;
}

/** Drag of a flat disc square to the wind, N. */
export function discDragN(
  diameterM: number,
  windMs: number,
  { dragCoefficient, airDensityKgM3 }: Pick<DragPolicy, "dragCoefficient" | "airDensityKgM3"> = {
    dragCoefficient: FLAT_DISC_DRAG,
    airDensityKgM3: SEA_LEVEL_DENSITY_KG_M3,
  },
): number {
  return dynamicPressurePa(windMs, airDensityKgM3) * dragCoefficient * ((Math.PI * diameterM ** 2) / 4);
}

/**
 * Wind at which the drag of a dish equals the force that the tag line may carry, m/s.
 * @param diameterM dish diameter, m, > 0
 * @throws RangeError on a diameter that is not positive
 */
export function hoistLimitMs(diameterM: number, policy: DragPolicy): number {
  if (!(diameterM > 0)) throw new RangeError(`diameterM must be > 0, got ${diameterM} m`);
  return Math.sqrt(policy.tagLineForceN / discDragN(diameterM, 1, policy));
}
