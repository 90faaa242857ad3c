/** What goes into the box of a kit: whole units, less what its vehicle has opened already. */

/** Below this a quantity is nothing: what adding up fractions leaves over. */
const NOTHING = 1e-9;

interface Need {
  itemCode: string;
  quantity: number;
  unit: string;
}

/** What a vehicle holds that none of its kits counts on yet, by item, in units; below zero it owes. */
export type VehicleRest = Map<string, number>;

/** Used up bit by bit, or with an allowance for waste: several visits share one unit. Metres are cut to length. */
const isShared = ({ quantity, unit }: Need): boolean =>
  unit !== "m" && Math.abs(quantity - Math.round(quantity)) >= NOTHING;

/**
 * What is left on a vehicle for the kits that it loads next: what it holds, less what the kits already issued to it will
 * still use, whole pieces too, for the vehicle holds those as well. Where they use more than it holds (issued short, or
 * past its day), the vehicle owes: the next unit that it opens is for them first.
 *
 * @param held By item, in units.
 * @param issued What issued kits whose visits are not reported done will still use.
 */
export function vehicleRest(
  held: ReadonlyMap<string, number> | undefined,
  issued: readonly Need[],
): VehicleRest {
  const rest: VehicleRest = new Map(held);
  for (const line of issued)
    if (line.unit !== "m") rest.set(line.itemCode, (rest.get(line.itemCode) ?? 0) - line.quantity);
  return rest;
}

/**
 * Units that go into the box for a need; lowers and raises the vehicle's rest. A whole need goes in as it is. Of what is
 * used up bit by bit (0.04 of a tube a visit) a unit is opened and stays on the vehicle for the visits after (common
 * practice), so the box takes a new one only when the rest does not reach.
 */
export function boxQuantity(need: Need, rest: VehicleRest): number {
  const { itemCode, quantity } = need;
  if (!isShared(need)) return quantity;
  const left = rest.get(itemCode) ?? 0;
  const box = Math.max(0, Math.ceil(quantity - left - NOTHING));
  rest.set(itemCode, left + box - quantity);
  return box;
}

/**
 * What a visit probably uses up of a planned need: of metres and of what is opened the planned share; of pieces whole
 * ones, for the allowance in their need is for the one in many that is spoilt.
 */
export function usedAsPlanned(quantity: number, unit: string): number {
  return unit === "piece" && quantity > 0 ? Math.max(1, Math.round(quantity)) : quantity;
}
