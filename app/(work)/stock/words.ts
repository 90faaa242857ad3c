import { formatAmount, formatDate, formatMoney } from "@/app/_ui/format";
import type { NettingStamp } from "@/db/queries/stockViews";
import type { CalendarDate } from "@/lib/time";

export const STOCK_ROLES = ["logistics", "manager", "administrator"] as const;

export const itemPath = (code: string): string => `/stock/items/${encodeURIComponent(code)}`;
export const orderPath = (code: string): string => `/stock/orders/${encodeURIComponent(code)}`;
export const faultPath = (id: number): string => `/stock/faults/${id}`;
export const kitPath = (visitId: string): string =>
  `/kits/${visitId.split("/").map(encodeURIComponent).join("/")}`;
export const ledgerPath = (filter: { item?: string; drum?: string; visit?: string }): string =>
  `/stock?${new URLSearchParams({ tab: "ledger", ...filter })}`;

/** `H-012/near/install` -> `H-012 near`. */
export const visitWords = (visitId: string): string => visitId.split("/").slice(0, 2).join(" ");

/** A warehouse's code; cable is netted for all of them together. */
export const placeWords = (placeCode: string): string => placeCode || "all warehouses";

/** Hundredths of a unit in words. */
export const amountC = (quantityC: number, unit: string): string => formatAmount(quantityC / 100, unit);

/** Sums of money by currency: amounts of two currencies are never added. */
export function moneyWords(rows: readonly { minor: number; currency: string }[]): string {
  const sums = new Map<string, number>();
  for (const r of rows) sums.set(r.currency, (sums.get(r.currency) ?? 0) + r.minor);
  return [...sums].map(([currency, minor]) => formatMoney(minor, currency)).join(" + ") || "nothing";
}

const MINUTE = 60_000;

/** When the netting was made, by the programme's day and by how long ago the machine did it. */
export function nettingWords(stamp: NettingStamp, today: CalendarDate, machineNow: number): string {
  if (!stamp.firstOn) return "Needs have not been netted against stock yet.";
  const day = stamp.firstOn === today ? "today" : formatDate(stamp.firstOn);
  if (stamp.endedAt === null) return `Needs netted against stock with the plan, for ${day}.`;
  const minutes = Math.max(0, Math.floor((machineNow - stamp.endedAt) / MINUTE));
  const ago =
    minutes < 1
      ? "just now"
      : minutes < 90
        ? `${minutes} min ago`
        : minutes < 48 * 60
          ? `${Math.round(minutes / 60)} h ago`
          : `${Math.round(minutes / 1440)} days ago`;
  return `Needs netted against stock for ${day}, ${ago}.`;
}
