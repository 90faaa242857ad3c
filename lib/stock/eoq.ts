/** The economic order quantity, plain and with price breaks. */

/**
 * Quantity that balances order and holding cost at a steady use: `sqrt(2 A D / h)`, cost `sqrt(2 A D h)`.
 *
 * @param orderCost   A, per order
 * @param demand      D, units per period
 * @param holdingCost h, per unit and period, same currency and period
 * @throws RangeError on a figure that is not above 0
 *
 * Source: Harris 1913; check values in docs/methods/stock.md.
 */
export function economicOrder(
  orderCost: number,
  demand: number,
  holdingCost: number,
): { quantity: number; costPerPeriod: number } {
  for (const figure of [orderCost, demand, holdingCost]) {
    if (!(figure > 0)) throw new RangeError(`order cost, demand and holding cost must be > 0, got ${figure}`);
  }
  return {
    quantity: Math.sqrt((2 * orderCost * demand) / holdingCost),
    costPerPeriod: Math.sqrt(2 * orderCost * demand * holdingCost),
  };
}

export interface PriceBreak {
  /** The price holds for the whole order from this quantity on. */
  fromQuantity: number;
  price: number;
}

/**
 * Best order quantity when the price of the whole order falls at certain quantities. Holding costs a share of the price.
 *
 * @param holdingShare cost of holding per period as a share of the price, 0.2 = 20 %
 * @param breaks       at least one; the lowest `fromQuantity` is the least that can be ordered
 * @returns the quantity and its whole cost per period: purchase + orders + holding
 */
export function economicOrderWithBreaks(
  orderCost: number,
  demand: number,
  holdingShare: number,
  breaks: readonly PriceBreak[],
): { quantity: number; price: number; costPerPeriod: number } {
  if (breaks.length === 0) throw new RangeError("at least one price is needed");
  const rising = [...breaks].sort((a, b) => a.fromQuantity - b.fromQuantity);
  const candidates = rising.map(({ fromQuantity, price }, k) => {
    const below = rising[k + 1]?.fromQuantity ?? Number.POSITIVE_INFINITY;
    const free = economicOrder(orderCost, demand, holdingShare * price).quantity;
    // Above the next break that break's price holds, so this one is left to it.
    const quantity = Math.max(free, fromQuantity);
    const costPerPeriod =
      demand * price + (orderCost * demand) / quantity + (holdingShare * price * quantity) / 2;
    return { quantity, price, costPerPeriod, isValid: quantity < below };
  });
  const valid = candidates.filter((candidate) => candidate.isValid);
  const { quantity, price, costPerPeriod } = valid.reduce((a, b) =>
    b.costPerPeriod < a.costPerPeriod ? b : a,
  );
  return { quantity, price, costPerPeriod };
}
