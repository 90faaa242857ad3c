import { UNITS } from "@/lib/site";
import type { ScarceItem } from "./types";

/** "1 day", "2 days": reasons are kept as English text, so the count is put into words where they are made. */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** Units of things, one and many of them; metres are written the same for any amount. */
export const UNIT_WORDS: readonly string[] = UNITS.filter((u) => u !== "m").flatMap((u) => [u, `${u}s`]);

/** How much of a scarce item. */
export function amountOf({ unit }: Pick<ScarceItem, "unit">, quantity: number): string {
  const n = Math.round(quantity * 100) / 100;
  if (!unit) return `${n}`;
  return unit === "m" ? `${n} m` : counted(n, unit);
}
