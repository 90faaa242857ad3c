/** Which warehouse serves what: where a kit is picked, how long a transfer takes, who keeps which safety stock. */
import { distanceKm } from "@/lib/geo";
import type { SparePolicy } from "./spares";

/** Figures of the store, kept as rule data. */
export interface StockPolicy extends SparePolicy {
  /** Which warehouse a kit is picked from: the one its crew starts from, or the one nearest its site. */
  kitsFrom: "crew depot" | "nearest warehouse";
  /** Whether anything is sent from one warehouse to another. */
  transfersAllowed: boolean;
  /** Days to pick, load and put away a transfer, whatever the way. */
  transferHandlingDays: number;
  /** Road distance that a transfer covers in a day. */
  transferKmPerDay: number;
  /** A transfer brings what is short within so many days. */
  transferCoverDays: number;
  /** What placing an order costs, in whole minor units of the item's currency, where the item has no figure of its own. */
  orderCostMinor: number;
  /** What a year on the shelf costs, as a share of the price, where the item has no figure of its own. */
  holdingSharePerYear: number;
  /** Probability of no shortage in a lead time that the measured safety stock aims at, 0.5 <= level < 1. */
  serviceLevel: number;
  /** Whole weeks of the ledger that use is measured over, at most. */
  useWeeks: number;
}

/** From memory, common practice: calibrate. */
export const DEFAULT_STOCK_POLICY: StockPolicy = {
  kitsFrom: "crew depot",
  transfersAllowed: true,
  transferHandlingDays: 1,
  transferKmPerDay: 300,
  transferCoverDays: 7,
  orderCostMinor: 4000,
  holdingSharePerYear: 0.2,
  serviceLevel: 0.95,
  useWeeks: 26,
  spareLevel: 0.95,
  repairDays: 42,
  deadShare: 0.02,
  failuresPerYear: 0.02,
};

export interface PlaceOnMap {
  code: string;
  latDeg: number | null;
  lonDeg: number | null;
}

const isOnMap = <T extends { latDeg: number | null; lonDeg: number | null }>(
  p: T,
): p is T & { latDeg: number; lonDeg: number } => p.latDeg !== null && p.lonDeg !== null;

/**
 * Working days from picking at one warehouse to being on the shelf of the other: handling, and a further day for every
 * `transferKmPerDay` of road beyond the first day's. A place without a coordinate counts as within the first day.
 *
 * @param circuity road length / great-circle length
 * @returns undefined when the policy allows no transfers
 */
export function transferDays(
  from: PlaceOnMap,
  to: PlaceOnMap,
  policy: StockPolicy,
  circuity: number,
): number | undefined {
  if (!policy.transfersAllowed) return undefined;
  const roadKm = isOnMap(from) && isOnMap(to) ? circuity * distanceKm(from, to) : 0;
  return policy.transferHandlingDays + Math.max(0, Math.ceil(roadKm / policy.transferKmPerDay) - 1);
}

/** The warehouse that a kit is picked from. Without coordinates nothing is nearest, and the crew's depot serves. */
export function kitPlace(
  policy: Pick<StockPolicy, "kitsFrom">,
  crewDepot: string,
  site: { latDeg: number; lonDeg: number } | undefined,
  warehouses: readonly PlaceOnMap[],
): string {
  if (policy.kitsFrom === "crew depot" || !site) return crewDepot;
  const byDistance = warehouses
    .filter(isOnMap)
    .map((w) => ({ code: w.code, km: distanceKm(site, w) }))
    .sort((a, b) => a.km - b.km || (a.code < b.code ? -1 : 1));
  return byDistance[0]?.code ?? crewDepot;
}

/**
 * An item's safety stock shared out among the warehouses as their needs are, in whole steps that add up to the whole.
 * Where nobody needs it, it stays where most of it lies.
 *
 * @param places needs and stock by warehouse; at least one
 * @param step   smallest part; undefined = any
 * @returns in the order of `places`
 */
export function shareSafetyStock(
  total: number,
  places: readonly { need: number; onHand: number }[],
  step?: number,
): number[] {
  const needed = places.reduce((sum, p) => sum + p.need, 0);
  const weights = places.map((p) => (needed > 0 ? p.need / needed : 0));
  if (needed === 0) {
    const most = places.reduce((best, p, i) => (p.onHand > places[best]!.onHand ? i : best), 0);
    weights[most] = 1;
  }
  if (step === undefined) return weights.map((w) => w * total);
  const steps = Math.ceil(total / step - 1e-9);
  const shares = weights.map((w) => Math.floor(w * steps + 1e-9));
  // Largest remainder, also known as Hamilton's method; of equals the first.
  const byRemainder = weights
    .map((w, i) => ({ i, rest: w * steps - shares[i]! }))
    .sort((a, b) => b.rest - a.rest || a.i - b.i);
  const left = steps - shares.reduce((sum, n) => sum + n, 0);
  for (const { i } of byRemainder.slice(0, left)) shares[i]! += 1;
  return shares.map((n) => n * step);
}
