import type { ScarceItem } from "./types";

/** "1 day", "2 days": reasons are kept as English text, so the count is put into words where they are made. */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** How much of a scarce item. */
export const amountOf = ({ unit }: Pick<ScarceItem, "unit">, quantity: number): string =>
  `${Math.round(quantity * 100) / 100}${unit ? ` ${unit}` : ""}`;
