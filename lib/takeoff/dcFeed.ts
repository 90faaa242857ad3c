/** DC feed of an ODU through the IF cable: constant power drawn through the cable's loop resistance. */

/** Temperature coefficient of copper resistance, 1/K, referred to 20 degC (from memory). */
export const COPPER_PER_K = 0.00393;

/**
 * Loop resistance of a run when its conductors are warm, ohm.
 *
 * @param loopOhmPer100M loop resistance at 20 degC, ohm per 100 m of route
 * @param lengthM one way, m
 * @param conductorTempC conductor temperature, degrees Celsius
 */
export function warmLoopOhm(loopOhmPer100M: number, lengthM: number, conductorTempC: number): number {
  return (loopOhmPer100M / 100) * lengthM * (1 + COPPER_PER_K * (conductorTempC - 20));
}

/**
 * Voltage at a load that draws constant power, V: `(Vs + sqrt(Vs^2 - 4 R P)) / 2`, the stable root.
 * undefined when `4 R P > Vs^2`: the cable cannot carry that power at any voltage.
 *
 * @param supplyV voltage at the IDU, V, > 0
 * @param loopOhm resistance there and back, ohm, >= 0
 * @param powerW power drawn by the ODU, W, >= 0
 */
export function voltageAtOdu(supplyV: number, loopOhm: number, powerW: number): number | undefined {
  const root = supplyV * supplyV - 4 * loopOhm * powerW;
  return root < 0 ? undefined : (supplyV + Math.sqrt(root)) / 2;
}
