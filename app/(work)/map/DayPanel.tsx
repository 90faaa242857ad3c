"use client";

import Link from "next/link";
import { Button } from "@/app/_ui/Button";
import { DateInput } from "@/app/_ui/Field";
import { formatClock, formatDate, formatNumber } from "@/app/_ui/format";
import { Glyph } from "@/app/_ui/Glyph";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { addDays, type CalendarDate, parseCalendarDate } from "@/lib/time";
import { hopPath } from "../hops/hopStates";
import type { DayState } from "./useCrewDay";

interface DayPanelProps {
  crewName: string;
  day: CalendarDate;
  firstDay?: CalendarDate;
  lastDay?: CalendarDate;
  state: DayState;
  onDay: (day: CalendarDate) => void;
  onSite: (code: string) => void;
}

/** A crew's day in words: from where, the visits in order, to where. */
export function DayPanel({ crewName, day, firstDay, lastDay, state, onDay, onSite }: DayPanelProps) {
  const { t, locale } = useWords();
  const { value, problems } = state;
  return (
    <Panel
      title={t("{{crew}}: the day's way", { crew: crewName })}
      note={t("By the plan in force. Lines are straight, roads are longer.")}
    >
      <div className="mb-3 flex flex-wrap items-end gap-2">
        <Button glyph="back" label={t("The day before")} onClick={() => onDay(addDays(day, -1))} />
        <DateInput
          label={t("Day")}
          value={day}
          min={firstDay}
          max={lastDay}
          onChange={(event) => {
            const date = parseCalendarDate(event.target.value);
            if (date) onDay(date);
          }}
        />
        <Button glyph="next" label={t("The day after")} onClick={() => onDay(addDays(day, 1))} />
      </div>
      <ProblemList problems={problems ?? []} />
      {value ? (
        <div role="status">
          {value.stops.length === 0 ? (
            <p>
              {value.hiddenStops > 0
                ? t("{{count}} visits outside your regions on {{day}}.", {
                    count: value.hiddenStops,
                    day: formatDate(day, "full", locale),
                  })
                : t("No visit on {{day}}.", { day: formatDate(day, "full", locale) })}
            </p>
          ) : (
            <>
              <ol className="ui-atlas-stops">
                <li data-kind="place">
                  <span>
                    <Glyph name={value.nightBefore ? "dark" : "kits"} />
                  </span>
                  <span>
                    {value.nightBefore
                      ? t("From a night away at {{site}}", {
                          site: `${value.nightBefore.siteCode} ${value.nightBefore.siteName}`,
                        })
                      : t("From the depot, {{place}}", { place: value.depot.name })}
                  </span>
                </li>
                {value.stops.map((stop) => (
                  <li key={stop.visitId}>
                    <span>{stop.no}</span>
                    <span>
                      <button type="button" className="ui-link" onClick={() => onSite(stop.siteCode)}>
                        {stop.siteCode} {stop.siteName}
                      </button>
                      {t(", hop ")}
                      <Link href={hopPath(stop.hopCode)}>{stop.hopCode}</Link>
                      <br />
                      {stop.isBegun
                        ? t("begun on a day before")
                        : t("from {{clock}}", { clock: formatClock(stop.startMin) })}
                      {stop.goesOn
                        ? t(", goes on the day after")
                        : t(" to {{clock}}", { clock: formatClock(stop.endMin) })}
                      {stop.position ? "" : t(". No coordinate: not on the map")}
                    </span>
                  </li>
                ))}
                <li data-kind="place">
                  <span>
                    <Glyph name={value.nightAfter ? "dark" : "kits"} />
                  </span>
                  <span>
                    {value.nightAfter
                      ? t("Night away at {{site}}", {
                          site: `${value.nightAfter.siteCode} ${value.nightAfter.siteName}`,
                        })
                      : t("Home to the depot, {{place}}", { place: value.depot.name })}
                  </span>
                </li>
              </ol>
              <p className="mt-2 text-quiet">
                {value.hiddenStops > 0
                  ? t("{{count}} visits of the day outside your regions not shown.", {
                      count: value.hiddenStops,
                    })
                  : value.straightKm === undefined
                    ? t("A coordinate on the way is missing: no length.")
                    : t("{{km}} km in straight lines.", { km: formatNumber(value.straightKm, 1, locale) })}
              </p>
            </>
          )}
        </div>
      ) : null}
    </Panel>
  );
}
