/** What takes a crew's hours, as codes for the walk and as words. */
import { LIMITING_FACTORS } from "@/lib/weather";
import type { LossCause } from "./types";

/** Codes 0 .. LIMITING_FACTORS.length - 1 are those of the weather ("none" takes nothing). */
const WEATHER = LIMITING_FACTORS.length;
export const DAYLIGHT = LIMITING_FACTORS.indexOf("daylight");
export const SPELL = WEATHER;
export const BY_MONTH = WEATHER + 1;
export const OTHER_END = WEATHER + 2;
export const EARLIER_WORK = WEATHER + 3;
export const SITE_TAKEN = WEATHER + 4;
export const CAUSE_COUNT = WEATHER + 5;

const OTHERS: readonly LossCause[] = [
  "spell too short",
  "past weather by month",
  "other end",
  "earlier work",
  "site taken",
];

/** Mean hours in a run by cause, most first. */
export function lostHours(lostMin: Float64Array, runs: number): { cause: LossCause; hours: number }[] {
  return Array.from(lostMin, (min, code) => ({
    cause: (LIMITING_FACTORS[code] ?? OTHERS[code - WEATHER]) as LossCause,
    hours: min / 60 / runs,
  }))
    .filter((l) => l.hours > 0)
    .sort((a, b) => b.hours - a.hours || (a.cause < b.cause ? -1 : 1));
}
