import { formatDate, formatHours } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { CalendarDate } from "@/lib/time";

export interface WeatherOnTop {
  visit: { startOn: CalendarDate | null; endOn: CalendarDate | null; riskMin: number };
  /** The last day of the visit that the forecast reaches; null = not even the first. */
  forecastUntil: CalendarDate | null;
}

/** What past weather adds: nothing on days inside the forecast, for their hours are planned by it. */
export function weatherOnTop(
  { visit: { startOn, endOn, riskMin }, forecastUntil }: WeatherOnTop,
  { t, locale }: Words,
): string {
  if (!startOn) return "–";
  const hours = formatHours(riskMin, locale);
  if (forecastUntil === null) return riskMin > 0 ? t("{{hours}}, by past years", { hours }) : t("none");
  const isWhole = endOn === null || forecastUntil >= endOn;
  if (isWhole) return riskMin > 0 ? t("{{hours}}, by past years", { hours }) : t("none: inside the forecast");
  const day = formatDate(forecastUntil, "weekday", locale);
  return riskMin > 0
    ? t("none up to {{day}}, inside the forecast; {{hours}} after it, by past years", { day, hours })
    : t("none up to {{day}}, inside the forecast; none after it, by past years", { day });
}
