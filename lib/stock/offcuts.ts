/** What became of cable that no run used: metres and money by cable, month and reason; and what lies on the rack as remnants. */
import type { CalendarDate } from "@/lib/time";

/** Why a person scraps what is left of something. */
export const SCRAP_REASONS = [
  "too short",
  "damaged",
  "wet inside",
  "cut wrong",
  "past its day",
  "other",
] as const;
export type ScrapReason = (typeof SCRAP_REASONS)[number];

/** Besides: what every cut loses, what crews report as left of a run, and scrap of which nobody said why. */
export type OffcutReason =
  | ScrapReason
  | "saw allowance"
  | "left at the site"
  | "lost after the cut"
  | "no reason given";

export interface Offcut {
  itemCode: string;
  on: CalendarDate;
  reason: OffcutReason;
  lengthC: number;
  /** Of one metre, as the catalogue has it. */
  priceMinor: number;
  currency: string;
}

export interface OffcutSum {
  itemCode: string;
  /** `2026-03`; empty where months are summed up. */
  month: string;
  /** Empty where reasons are summed up. */
  reason: OffcutReason | "";
  pieces: number;
  lengthC: number;
  valueMinor: number;
  currency: string;
}

export type OffcutColumn = "itemCode" | "month" | "reason";

/**
 * Offcuts summed up by the columns that are named; a currency is always kept apart. The value of each is rounded to
 * whole minor units first, so that every way to sum gives the same total.
 */
export function sumOffcuts(offcuts: readonly Offcut[], by: readonly OffcutColumn[]): OffcutSum[] {
  const sums = new Map<string, OffcutSum>();
  for (const o of offcuts) {
    const head = {
      itemCode: by.includes("itemCode") ? o.itemCode : "",
      month: by.includes("month") ? o.on.slice(0, 7) : "",
      reason: by.includes("reason") ? o.reason : ("" as const),
      currency: o.currency,
    };
    const key = JSON.stringify([head.month, head.itemCode, head.reason, head.currency]);
    const known = sums.get(key) ?? { ...head, pieces: 0, lengthC: 0, valueMinor: 0 };
    sums.set(key, {
      ...known,
      pieces: known.pieces + 1,
      lengthC: known.lengthC + o.lengthC,
      valueMinor: known.valueMinor + valueMinorOf(o.lengthC, o.priceMinor),
    });
  }
  return [...sums].sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)).map(([, sum]) => sum);
}

const valueMinorOf = (lengthC: number, priceMinor: number): number =>
  Math.round((lengthC * priceMinor) / 100);

export interface Remnant {
  serial: string;
  itemCode: string;
  placeCode: string;
  remainingC: number;
  /** What the drum came with. */
  receivedC: number;
  priceMinor: number;
  currency: string;
}

export interface LengthClass {
  fromC: number;
  /** Up to, not including; null = no end. */
  toC: number | null;
  /** Below the length that the cutting rules still count as useful. */
  isScrap: boolean;
}

/** Upper ends of the classes above the useful length, metres (common practice). */
const CLASS_ENDS_M = [30, 60, 100, 200];

/** Classes of length: what is too short by the cutting rules first, then by steps. */
export function lengthClasses(minUsefulC: number): LengthClass[] {
  const ends = [minUsefulC, ...CLASS_ENDS_M.map((m) => m * 100).filter((c) => c > minUsefulC)];
  return [
    ...ends.map((toC, i) => ({ fromC: ends[i - 1] ?? 0, toC, isScrap: i === 0 })),
    { fromC: ends.at(-1)!, toC: null, isScrap: false },
  ].filter((c) => c.toC === null || c.toC > c.fromC);
}

export interface RemnantSum extends LengthClass {
  itemCode: string;
  drums: number;
  lengthC: number;
  valueMinor: number;
  currency: string;
}

/** Remnants by cable and length class; classes that hold none are left out. */
export function sumRemnants(remnants: readonly Remnant[], minUsefulC: number): RemnantSum[] {
  const classes = lengthClasses(minUsefulC);
  const sums = new Map<string, RemnantSum>();
  for (const r of remnants) {
    const at = classes.findIndex((c) => c.toC === null || r.remainingC < c.toC);
    const known = sums.get(`${r.itemCode} ${at}`) ?? {
      ...classes[at]!,
      itemCode: r.itemCode,
      drums: 0,
      lengthC: 0,
      valueMinor: 0,
      currency: r.currency,
    };
    sums.set(`${r.itemCode} ${at}`, {
      ...known,
      drums: known.drums + 1,
      lengthC: known.lengthC + r.remainingC,
      valueMinor: known.valueMinor + valueMinorOf(r.remainingC, r.priceMinor),
    });
  }
  return [...sums.values()].sort(
    (a, b) => (a.itemCode < b.itemCode ? -1 : a.itemCode > b.itemCode ? 1 : 0) || a.fromC - b.fromC,
  );
}
