/** Amounts, days late and clock times whose words follow the reader's language. */
import { formatAmount, formatClock, NO_VALUE, TIED } from "../format";
import type { Words } from "./words";

type Say = Words["t"];
type Maybe<T> = T | null | undefined;

/** Units of stock that have a word. Metres are written as a sign in every language. */
const COUNTED: Readonly<Record<string, (t: Say, count: number) => string>> = {
  piece: (t, count) => t("{{count}} pieces", { count }),
  roll: (t, count) => t("{{count}} rolls", { count }),
  can: (t, count) => t("{{count}} cans", { count }),
  tube: (t, count) => t("{{count}} tubes", { count }),
  pack: (t, count) => t("{{count}} packs", { count }),
};

export function amountIn(t: Say, locale: string, quantity: Maybe<number>, unit: string): string {
  if (quantity === null || quantity === undefined || Number.isNaN(quantity)) return NO_VALUE;
  return COUNTED[unit]?.(t, quantity).replace(" ", TIED) ?? formatAmount(quantity, unit, locale);
}

/** The unit alone, as it stands behind the quantity: "pieces" behind 26, "piece" behind 1. */
export function unitIn(t: Say, quantity: number, unit: string): string {
  const said = COUNTED[unit]?.(t, quantity);
  return said === undefined ? t(unit) : said.slice(said.indexOf(" ") + 1);
}

export function daysLateIn(t: Say, days: number): string {
  if (days === 0) return t("on the day");
  const count = Math.abs(days);
  return days > 0 ? t("{{count}} days late", { count }) : t("{{count}} days early", { count });
}

const DAY_MIN = 1440;

export function clockIn(t: Say, minuteOfDay: Maybe<number>): string {
  if (minuteOfDay === null || minuteOfDay === undefined || Number.isNaN(minuteOfDay)) return NO_VALUE;
  const whole = Math.round(minuteOfDay);
  const day = Math.floor(whole / DAY_MIN);
  const clock = formatClock(whole - day * DAY_MIN);
  if (day === 0) return clock;
  return `${clock} (${day > 0 ? "+" : "-"}${t("{{count}} days", { count: Math.abs(day) })})`;
}
