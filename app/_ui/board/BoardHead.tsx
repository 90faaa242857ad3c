// biome-ignore-all lint/a11y/useSemanticElements: cells are placed freely on a sheet, which a table cannot do
// biome-ignore-all lint/a11y/useFocusableInteractive: of a grid only the cells take the focus
"use client";

import { memo } from "react";
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import { formatClock, formatDate, formatNumber, formatWeek } from "../format";
import { Glyph } from "../Glyph";
import { useWords } from "../language/LanguageProvider";
import type { DaySpan } from "./geometry";
import type { Zoom } from "./types";

export interface BoardHeadProps {
  firstDay: CalendarDate;
  dayCount: number;
  /** Days drawn: [from, to). */
  from: number;
  to: number;
  dayPx: number;
  zoom: Zoom;
  span: DaySpan;
  todayDay?: number;
  frozenUntilDay: number;
  /** Per day: hours in which the limits for work aloft are met somewhere in the region, and what takes the rest. */
  dayHours?: readonly ({ metH: number; ofH: number; lost?: string } | null)[];
  locale: string;
}

/** Weeks and days across the top of the board; each is drawn once, however it scrolls. */
export const BoardHead = memo(function BoardHead(props: BoardHeadProps) {
  const { t } = useWords();
  const { firstDay, dayCount, from, to, dayPx, zoom, span, todayDay, frozenUntilDay, dayHours, locale } =
    props;
  const days = Array.from({ length: to - from }, (_, i) => from + i);
  const mondayOf = (day: number): number => day + 1 - weekdayOf(addDays(firstDay, day));
  const weeks = [...new Set(days.map(mondayOf))];
  return (
    <div role="row" aria-rowindex={1} className="ui-board-head">
      <div role="columnheader" className="ui-board-corner" aria-colindex={1}>
        {t("Crew")}
      </div>
      {weeks.map((monday) => {
        const day = Math.max(0, monday);
        return (
          <HeadWeek
            key={monday}
            date={addDays(firstDay, day)}
            leftPx={day * dayPx}
            widthPx={(Math.min(monday + 7, dayCount) - day) * dayPx}
            isNarrow={zoom === "12 weeks"}
            locale={locale}
          />
        );
      })}
      {days.map((day) => (
        <HeadDay
          key={day}
          day={day}
          date={addDays(firstDay, day)}
          hours={dayHours?.[day] ?? undefined}
          isToday={day === todayDay}
          isFrozen={day < frozenUntilDay}
          {...{ dayPx, zoom, span, locale }}
        />
      ))}
    </div>
  );
});

interface HeadWeekProps {
  date: CalendarDate;
  leftPx: number;
  widthPx: number;
  isNarrow: boolean;
  locale: string;
}

const HeadWeek = memo(function HeadWeek({ date, leftPx, widthPx, isNarrow, locale }: HeadWeekProps) {
  return (
    <div className="ui-board-week" aria-hidden="true" style={{ left: leftPx, width: widthPx }}>
      <span>
        {formatWeek(date, false, locale)}{" "}
        <small>{formatDate(date, isNarrow ? "day" : "month", locale)}</small>
      </span>
    </div>
  );
});

interface HeadDayProps {
  day: number;
  date: CalendarDate;
  hours?: { metH: number; ofH: number; lost?: string };
  isToday: boolean;
  isFrozen: boolean;
  dayPx: number;
  zoom: Zoom;
  span: DaySpan;
  locale: string;
}

const HeadDay = memo(function HeadDay(props: HeadDayProps) {
  const { t } = useWords();
  const { day, date, hours, isToday, isFrozen, dayPx, zoom, span, locale } = props;
  return (
    <div
      role="columnheader"
      aria-colindex={day + 2}
      aria-label={[
        formatDate(date, "full", locale),
        isToday ? t(", today") : "",
        hours ? t(", limits aloft met in {{hours}} h", { hours: formatNumber(hours.metH, 0, locale) }) : "",
      ].join("")}
      title={
        hours
          ? `${t(
              "{{met}} of {{of}} h of the shift within the limits for work aloft, mean over the sites with work",
              {
                met: formatNumber(hours.metH, 0, locale),
                of: formatNumber(hours.ofH, 0, locale),
              },
            )}${hours.lost ? t("; {{factor}} takes most of the others", { factor: hours.lost }) : ""}`
          : undefined
      }
      className="ui-board-day"
      data-weekend={weekdayOf(date) > 5}
      data-today={isToday}
      data-frozen={isFrozen}
      style={{ left: day * dayPx, width: dayPx }}
    >
      <span>{dayWords(date, zoom, locale)}</span>
      {isFrozen && (zoom === "week" || zoom === "day") ? <Glyph name="locked" /> : null}
      {hours && zoom !== "12 weeks" ? (
        <span className="ui-board-hours">
          <span style={{ width: `${hours.ofH > 0 ? (100 * hours.metH) / hours.ofH : 0}%` }} />
          {zoom === "week" ? <em>{formatNumber(hours.metH, 0, locale)} h</em> : null}
        </span>
      ) : null}
      {zoom === "day" ? (
        <span className="ui-board-clock" aria-hidden="true">
          {clockMarks(span).map((minute) => (
            <i
              key={minute}
              style={{ left: `${(100 * (minute - span.fromMin)) / (span.toMin - span.fromMin)}%` }}
            >
              {formatClock(minute).slice(0, 2)}
            </i>
          ))}
        </span>
      ) : null}
    </div>
  );
});

/** As much of the date as the column holds. */
function dayWords(date: CalendarDate, zoom: Zoom, locale: string): string {
  if (zoom === "12 weeks") return formatDate(date, "initial", locale);
  return zoom === "4 weeks" ? date.slice(8).replace(/^0/, "") : formatDate(date, "weekday", locale);
}

/** Every second hour inside the span. */
export function clockMarks(span: DaySpan): readonly number[] {
  const marks: number[] = [];
  for (let minute = span.fromMin; minute < span.toMin; minute += 120) marks.push(minute);
  return marks;
}
