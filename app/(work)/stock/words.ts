import { formatDate, formatMoney } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { NettingStamp } from "@/db/queries/runsOut";
import type { CalendarDate } from "@/lib/time";

export const STOCK_ROLES = ["logistics", "manager", "administrator"] as const;

export const itemPath = (code: string): string => `/stock/items/${encodeURIComponent(code)}`;
export const orderPath = (code: string): string => `/stock/orders/${encodeURIComponent(code)}`;
/** Every movement of a serial, and where it hung. */
export const serialPath = (serial: string): string =>
  `/stock?${new URLSearchParams({ tab: "ledger", serial })}`;
export const faultPath = (id: number): string => `/stock/faults/${id}`;
export const kitPath = (visitId: string): string =>
  `/kits/${visitId.split("/").map(encodeURIComponent).join("/")}`;
/** Where a run stands in the list of cuts. */
export const cutAnchor = (runId: string): string => `cut-${runId.replaceAll("/", "-")}`;
export const cutPath = (runId: string): string => `/stock?tab=drums#${cutAnchor(runId)}`;
export const ledgerPath = (filter: {
  item?: string;
  drum?: string;
  serial?: string;
  visit?: string;
}): string => `/stock?${new URLSearchParams({ tab: "ledger", ...filter })}`;

/** `H-012/near/R1` -> `H-012 near R1`. */
export const runWords = (runId: string): string => runId.replaceAll("/", " ");

/** How a piece came on hold: found faulty, doubted at the door, or the wrong one. */
export function foundWords(
  f: { orderCode: string | null; isWrongItem: boolean; cause: string },
  t: Words["t"],
): string {
  if (!f.orderCode) return t(f.cause);
  return f.isWrongItem
    ? t("wrong item, came with {{order}}", { order: f.orderCode })
    : t("on hold at receipt of {{order}}", { order: f.orderCode });
}

/** "WH-EAST Sallow Quay": where a place is named first on a page, by its code and its name. */
export const namedPlace = (placeCode: string, names: ReadonlyMap<string, string>, words: Words): string =>
  [placeWords(placeCode, words), names.get(placeCode)].filter(Boolean).join(" ");

/** A warehouse's code; cable is netted for all of them together. */
export const placeWords = (placeCode: string, { t }: Words): string => placeCode || t("all warehouses");

/** Hundredths of a unit in words. */
export const amountC = (quantityC: number, unit: string, { amount }: Words): string =>
  amount(quantityC / 100, unit);

/** Sums of money by currency: amounts of two currencies are never added. */
export function moneyWords(
  rows: readonly { minor: number; currency: string }[],
  { t, locale }: Words,
): string {
  const sums = new Map<string, number>();
  for (const r of rows) sums.set(r.currency, (sums.get(r.currency) ?? 0) + r.minor);
  return (
    [...sums].map(([currency, minor]) => formatMoney(minor, currency, locale)).join(" + ") || t("nothing")
  );
}

const MINUTE = 60_000;

/** When the netting was made, by the programme's day and by how long ago the machine did it. */
export function nettingWords(
  stamp: NettingStamp,
  today: CalendarDate,
  machineNow: number,
  { t, locale }: Words,
): string {
  if (!stamp.firstOn) return t("Needs have not been netted against stock yet.");
  const day = stamp.firstOn === today ? t("today") : formatDate(stamp.firstOn, "full", locale);
  if (stamp.endedAt === null) return t("Needs netted against stock with the plan, for {{day}}.", { day });
  const minutes = Math.max(0, Math.floor((machineNow - stamp.endedAt) / MINUTE));
  const ago =
    minutes < 1
      ? t("just now")
      : minutes < 90
        ? t("{{minutes}} min ago", { minutes })
        : minutes < 48 * 60
          ? t("{{hours}} h ago", { hours: Math.round(minutes / 60) })
          : t("{{count}} days ago", { count: Math.round(minutes / 1440) });
  return t("Needs netted against stock for {{day}}, {{ago}}.", { day, ago });
}
