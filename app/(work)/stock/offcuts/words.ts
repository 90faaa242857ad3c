/** Words and the chosen days of the offcut report: the page and its files share them. */

import { formatCm } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { LengthClass } from "@/lib/stock";
import { addDays, type CalendarDate } from "@/lib/time";

const DAY = /^\d{4}-\d{2}-\d{2}$/;

/** A year back, unless days are asked for; what cannot be read counts as not asked for. */
export function daysOf(
  params: { from?: string; to?: string },
  today: CalendarDate,
): { from: CalendarDate; to: CalendarDate } {
  const read = (text: string | undefined) => (text && DAY.test(text) ? (text as CalendarDate) : undefined);
  const to = read(params.to) ?? today;
  return { from: read(params.from) ?? addDays(to, -365), to };
}

/** "15 m to 30 m", "200 m and more". */
export function classWords({ fromC, toC, isScrap }: LengthClass, { t, locale }: Words): string {
  if (toC === null) return t("{{from}} and more", { from: formatCm(fromC, locale) });
  return isScrap
    ? t("below {{to}}, too short", { to: formatCm(toC, locale) })
    : t("{{from}} to {{to}}", { from: formatCm(fromC, locale), to: formatCm(toC, locale) });
}
