"use client";

import { useRef, useState } from "react";
import { type CalendarDate, weekdayOf } from "@/lib/time";
import type { LimitingFactor } from "@/lib/weather";
import { formatDate, formatNumber } from "./format";
import { useWords } from "./language/LanguageProvider";
import type { Words } from "./language/words";
import { RowLink } from "./RowLink";
import { useGridCursor } from "./useGridCursor";
import { FACTOR_LOOK } from "./weather/factors";
import { WeatherKey } from "./weather/WeatherKey";

export interface DaySummary {
  /** Hours of the shift in which the limits are met, of how many. Beyond the forecast: the expected number. */
  metH: number;
  ofH: number;
  /** What takes most of the hours away. */
  factor: LimitingFactor;
  /** The figure and its limit. */
  text: string;
  /** From the climate, not from a forecast: shown dashed. */
  isClimate?: boolean;
}

export interface WeatherDaysProps {
  label: string;
  days: readonly CalendarDate[];
  rows: readonly {
    id: string;
    label: string;
    href?: string;
    note?: string;
    days: readonly (DaySummary | null)[];
  }[];
  source?: string;
}

/** Sites or work classes down, days across: hours in which the planning limits are met, and what takes the rest. */
export function WeatherDays({ label, days, rows, source }: WeatherDaysProps) {
  const words = useWords();
  const { t, locale } = words;
  const root = useRef<HTMLTableElement>(null);
  const cursor = useGridCursor(root, rows.length, days.length, 7);
  const [pointed, setPointed] = useState<{ row: number; column: number }>();
  const read = pointed ?? cursor;
  const readRow = rows[read.row];
  const readDay = days[read.column];
  const readSummary = readRow?.days[read.column];
  return (
    <div className="ui-strip">
      <div className="ui-strip-scroll">
        <table
          ref={root}
          // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: cells take the focus; such a table is a grid
          role="grid"
          className="ui-strip-table ui-days-table"
          aria-label={t("{{label}}. Arrow keys move by day and row.", { label })}
          onKeyDown={cursor.onKey}
          onPointerLeave={() => setPointed(undefined)}
        >
          <thead>
            <tr>
              <th scope="col" className="ui-strip-corner">
                {t("Hours met")}
              </th>
              {days.map((day) => (
                <th key={day} scope="col" className="ui-days-day" data-weekend={weekdayOf(day) > 5}>
                  {formatDate(day, "weekdayOnly", locale)}
                  <br />
                  {formatDate(day, "day", locale)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, r) => (
              <tr key={row.id}>
                <th scope="row">
                  {row.href ? <RowLink href={row.href}>{row.label}</RowLink> : row.label}
                  {row.note ? <small>{row.note}</small> : null}
                </th>
                {days.map((day, c) => {
                  const summary = row.days[c];
                  const said = summary ? summaryWords(summary, words) : t("closed");
                  return (
                    <td
                      key={day}
                      data-cell={`${r},${c}`}
                      data-look={lookOfDay(summary)}
                      data-climate={summary?.isClimate}
                      tabIndex={cursor.isAt(r, c) ? 0 : -1}
                      aria-label={said}
                      onFocus={() => cursor.set(r, c)}
                      onPointerEnter={() => setPointed({ row: r, column: c })}
                    >
                      {summary ? (
                        <>
                          <span className="ui-days-figure">{formatNumber(summary.metH, 0, locale)}</span>
                          <span className="ui-days-letter">
                            {summary.metH < summary.ofH ? FACTOR_LOOK[summary.factor].letter : ""}
                          </span>
                          <span
                            className="ui-days-bar"
                            style={{ width: `${summary.ofH > 0 ? (100 * summary.metH) / summary.ofH : 0}%` }}
                          />
                        </>
                      ) : (
                        "–"
                      )}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="ui-readout" data-look={lookOfDay(readSummary)}>
        {readRow && readDay ? (
          <>
            <strong>{formatDate(readDay, "full", locale)}</strong> {readRow.label}:{" "}
            {readSummary ? summaryWords(readSummary, words) : t("closed")}
          </>
        ) : null}
      </p>
      <WeatherKey source={source} />
    </div>
  );
}

function summaryWords(summary: DaySummary, { t, locale }: Words): string {
  const met = t("limits met in {{met}} of {{of}} h", {
    met: formatNumber(summary.metH, 1, locale),
    of: formatNumber(summary.ofH, 0, locale),
  });
  const why = summary.metH < summary.ofH && summary.text ? `, ${summary.text}` : "";
  return `${met}${why}${summary.isClimate ? t(" (from the climate, no forecast yet)") : ""}`;
}

function lookOfDay(summary: DaySummary | null | undefined): "met" | "part" | "stopped" | "unknown" | "dark" {
  if (!summary) return "dark";
  if (summary.factor === "no data" && summary.metH === 0) return "unknown";
  if (summary.metH <= 0) return "stopped";
  return summary.metH < summary.ofH * 0.6 ? "part" : "met";
}
