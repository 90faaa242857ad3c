/** Safety stock and reorder point from what was really used and how suppliers really delivered. */
import { addDays, type CalendarDate, daysBetween, weekdayOf } from "@/lib/time";
import {
  type Delivery,
  leadTimeStatistics,
  meanAndSd,
  normalQuantile,
  safetyStockBothVary,
} from "./safetyStock";

/** With fewer complete deliveries the catalogue's lead time is taken as certain. Our choice. */
export const LEAST_DELIVERIES = 3;
/** With fewer whole weeks of records the measured figure says little. Our choice. */
export const LEAST_WEEKS = 8;

/**
 * Use in whole weeks (Monday to Sunday) before the week of `today`, the oldest first. Weeks before `recordedFrom` are no
 * weeks without use but weeks without records, and are left out.
 *
 * @param uses quantities that left the warehouses for work; what came back unused counts below zero
 */
export function weeklyUse(
  uses: readonly { on: CalendarDate; quantity: number }[],
  today: CalendarDate,
  mostWeeks: number,
  recordedFrom: CalendarDate,
): number[] {
  const thisMonday = addDays(today, 1 - weekdayOf(today));
  const firstWhole = addDays(recordedFrom, (8 - weekdayOf(recordedFrom)) % 7);
  const recorded = Math.max(0, Math.floor(daysBetween(firstWhole, thisMonday) / 7));
  const weeks = Math.min(mostWeeks, recorded);
  const from = addDays(thisMonday, -7 * weeks);
  const sums = new Array<number>(weeks).fill(0);
  for (const { on, quantity } of uses) {
    const week = Math.floor(daysBetween(from, on) / 7);
    if (week >= 0 && week < weeks) sums[week]! += quantity;
  }
  return sums;
}

export interface MeasuredInput {
  usePerWeek: readonly number[];
  /** Complete deliveries of the supplier that the item comes from. */
  deliveries: readonly Delivery[];
  catalogueLeadDays: number;
  /** Probability of no shortage in a lead time, 0.5 <= level < 1. */
  serviceLevel: number;
  shelfLifeDays?: number;
}

export interface MeasuredStock {
  weeks: number;
  useMean: number;
  useSd: number;
  /** Weeks. */
  leadMean: number;
  leadSd: number;
  leadFrom: "deliveries" | "catalogue";
  deliveries: number;
  z: number;
  /** By the formula, before the shelf life. */
  wanted: number;
  /** What is used up within the shelf life at the mean use; undefined = keeps. */
  usedInShelfLife?: number;
  /** `wanted`, at most what the shelf life lets be used. */
  safetyStock: number;
  reorderPoint: number;
  /** Too few records to lean on. */
  isThin: boolean;
}

/**
 * `z sqrt(L s_d^2 + d^2 s_L^2)` with weekly use d, s_d from the ledger and lead time L, s_L in weeks from the supplier's
 * deliveries. Stock beyond what is used within the shelf life would be thrown away, so that caps it.
 */
export function measuredStock(input: MeasuredInput): MeasuredStock {
  const { mean: useMean, sd: useSd } = meanAndSd(input.usePerWeek);
  const lead = leadTimeStatistics(input.deliveries);
  const isMeasured = lead.count >= LEAST_DELIVERIES;
  const leadMean = (isMeasured ? lead.meanDays : input.catalogueLeadDays) / 7;
  const leadSd = isMeasured ? lead.sdDays / 7 : 0;
  const use = Math.max(0, useMean);
  const wanted = safetyStockBothVary(input.serviceLevel, {
    useMean: use,
    useSd,
    leadTimeMean: leadMean,
    leadTimeSd: leadSd,
  });
  const usedInShelfLife = input.shelfLifeDays === undefined ? undefined : (use * input.shelfLifeDays) / 7;
  const safetyStock = Math.min(wanted, usedInShelfLife ?? Number.POSITIVE_INFINITY);
  return {
    weeks: input.usePerWeek.length,
    useMean: use,
    useSd,
    leadMean,
    leadSd,
    leadFrom: isMeasured ? "deliveries" : "catalogue",
    deliveries: lead.count,
    z: normalQuantile(input.serviceLevel),
    wanted,
    usedInShelfLife,
    safetyStock,
    reorderPoint: use * leadMean + safetyStock,
    isThin: input.usePerWeek.length < LEAST_WEEKS,
  };
}
