"use client";

import { memo, useEffect, useMemo, useRef, useState } from "react";
import { localOf } from "@/lib/time";
import type { HourVerdict, WorkClass } from "@/lib/weather";
import { formatClock, formatDate, formatInstant, zoneName } from "./format";
import { useWords } from "./language/LanguageProvider";
import { useGridCursor } from "./useGridCursor";
import { CLASS_WORDS, lookOf } from "./weather/factors";
import { WeatherKey } from "./weather/WeatherKey";

export interface StripRow {
  workClass: WorkClass;
  /** Instead of the class's own word, for example "Hoist, 1.2 m dish". */
  label?: string;
  /** One per hour of `hours`. */
  verdicts: readonly HourVerdict[];
}

export interface WeatherStripProps {
  /** Spoken name: "Hours for site S-104". */
  label: string;
  /** Starts of the hours, epoch milliseconds, in order. */
  hours: readonly number[];
  rows: readonly StripRow[];
  /** IANA zone of the site. */
  zone: string;
  /** Current instant: marks the hour. */
  now?: number;
  /** Opens at this hour instead of the current one: the beginning of a visit. */
  opensAt?: number;
  /** Where the figures come from and how old they are; "made up" must be said here. */
  source?: string;
}

/**
 * Hours across, work classes down: planning limits met or not, with the letter of the figure that stops it.
 * The figure and its limit stand under the strip for the cell under the pointer, the focus or the finger.
 * Arrow keys move, Page up and down skip a day.
 */
export function WeatherStrip(props: WeatherStripProps) {
  const { t, locale } = useWords();
  const { label, hours, rows, zone, now, opensAt, source } = props;
  const root = useRef<HTMLTableElement>(null);
  const nowAt = now === undefined ? -1 : hours.findIndex((at) => now >= at && now < at + 3_600_000);
  const openAt =
    opensAt === undefined ? -1 : hours.findIndex((at) => opensAt >= at && opensAt < at + 3_600_000);
  const startAt = openAt >= 0 ? openAt : nowAt;
  const cursor = useGridCursor(root, rows.length, hours.length, 24, { row: 0, column: Math.max(0, startAt) });
  const [pointed, setPointed] = useState<{ row: number; column: number }>();
  const read = pointed ?? cursor;
  const local = useMemo(() => hours.map((at) => localOf(at, zone)), [hours, zone]);
  const days = useMemo(() => {
    const out: { date: (typeof local)[number]["date"]; count: number }[] = [];
    for (const { date } of local) {
      const last = out.at(-1);
      if (last?.date === date) last.count++;
      else out.push({ date, count: 1 });
    }
    return out;
  }, [local]);

  // Open at this hour, or where the visit begins: what lies behind is there, but nobody looks for it first.
  useEffect(() => {
    const frame = root.current?.parentElement;
    const hour = root.current?.querySelector<HTMLElement>('[data-opens="true"]');
    if (frame && hour) frame.scrollLeft = hour.offsetLeft - frame.clientWidth / 3;
  }, []);

  const readRow = rows[read.row];
  const readAt = hours[read.column];
  const readVerdict = readRow?.verdicts[read.column];
  return (
    <div className="ui-strip">
      <div className="ui-strip-scroll">
        <table
          ref={root}
          // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: cells take the focus; such a table is a grid
          role="grid"
          className="ui-strip-table"
          aria-label={t("{{label}}. Arrow keys move by hour and work class.", { label })}
          onKeyDown={cursor.onKey}
          onPointerLeave={() => setPointed(undefined)}
        >
          <thead>
            <tr>
              <th scope="col" rowSpan={2} className="ui-strip-corner">
                {readAt === undefined ? "" : zoneName(readAt, zone, locale)}
              </th>
              {days.map((day) => (
                <th key={day.date} scope="colgroup" colSpan={day.count} className="ui-strip-day">
                  <span>{formatDate(day.date, "weekday", locale)}</span>
                </th>
              ))}
            </tr>
            <tr>
              {local.map(({ minuteOfDay }, at) => (
                <th
                  // biome-ignore lint/suspicious/noArrayIndexKey: hours are dense and never move
                  key={at}
                  scope="col"
                  className="ui-strip-hour"
                  data-midnight={minuteOfDay === 0}
                  data-now={at === nowAt}
                  data-opens={at === startAt || undefined}
                >
                  {minuteOfDay % 180 === 0 ? (
                    formatClock(minuteOfDay).slice(0, 2)
                  ) : (
                    <span className="sr-only">{formatClock(minuteOfDay)}</span>
                  )}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, r) => (
              <tr key={row.label ?? row.workClass}>
                <th scope="row">
                  {row.label ?? t(CLASS_WORDS[row.workClass])}
                  <small>
                    {t("{{hours}} h met", { hours: row.verdicts.filter((v) => v.workable).length })}
                  </small>
                </th>
                {row.verdicts.map((verdict, c) => (
                  <StripCell
                    // biome-ignore lint/suspicious/noArrayIndexKey: hours are dense and never move
                    key={c}
                    row={r}
                    column={c}
                    verdict={verdict}
                    isMidnight={local[c]?.minuteOfDay === 0}
                    isCursor={cursor.isAt(r, c)}
                    onFocus={cursor.set}
                    onPoint={setPointed}
                  />
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="ui-readout" data-look={readVerdict ? lookOf(readVerdict).look : undefined}>
        {readRow && readVerdict && readAt !== undefined ? (
          <>
            <strong>{formatInstant(readAt, zone, locale)}</strong>{" "}
            {readRow.label ?? t(CLASS_WORDS[readRow.workClass])}: {t(lookOf(readVerdict).words)}
            {readVerdict.text ? `, ${readVerdict.text}` : ""}
          </>
        ) : (
          t("Point at an hour to see the figure nearest to its limit.")
        )}
      </p>
      <WeatherKey source={source} />
    </div>
  );
}

interface StripCellProps {
  row: number;
  column: number;
  verdict: HourVerdict;
  isMidnight: boolean;
  isCursor: boolean;
  onFocus: (row: number, column: number) => void;
  onPoint: (at: { row: number; column: number }) => void;
}

// Two hundred hours by seven classes: a cell is only drawn again when its own state changes.
const StripCell = memo(function StripCell(props: StripCellProps) {
  const { row, column, verdict, isMidnight, isCursor, onFocus, onPoint } = props;
  const { t } = useWords();
  const { letter, look, words } = lookOf(verdict);
  return (
    <td
      data-cell={`${row},${column}`}
      data-look={look}
      data-midnight={isMidnight}
      tabIndex={isCursor ? 0 : -1}
      aria-label={`${t(words)}${verdict.text ? `, ${verdict.text}` : ""}`}
      onFocus={() => onFocus(row, column)}
      onPointerEnter={() => onPoint({ row, column })}
      onPointerDown={() => onFocus(row, column)}
    >
      {letter}
    </td>
  );
}, sameCell);

function sameCell(a: StripCellProps, b: StripCellProps): boolean {
  return (
    a.verdict === b.verdict && a.isCursor === b.isCursor && a.isMidnight === b.isMidnight && a.row === b.row
  );
}
