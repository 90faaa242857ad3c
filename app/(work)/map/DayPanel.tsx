"use client";

import Link from "next/link";
import { Button } from "@/app/_ui/Button";
import { DateInput } from "@/app/_ui/Field";
import { formatClock, formatCount, formatDate, formatNumber } from "@/app/_ui/format";
import { Glyph } from "@/app/_ui/Glyph";
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
  const { value, problems } = state;
  return (
    <Panel
      title={`${crewName}: the day's way`}
      note="By the plan in force. Lines are straight, roads are longer."
    >
      <div className="mb-3 flex flex-wrap items-end gap-2">
        <Button glyph="back" label="The day before" onClick={() => onDay(addDays(day, -1))} />
        <DateInput
          label="Day"
          value={day}
          min={firstDay}
          max={lastDay}
          onChange={(event) => {
            const date = parseCalendarDate(event.target.value);
            if (date) onDay(date);
          }}
        />
        <Button glyph="next" label="The day after" onClick={() => onDay(addDays(day, 1))} />
      </div>
      <ProblemList problems={problems ?? []} />
      {value ? (
        <div role="status">
          {value.stops.length === 0 ? (
            <p>
              {value.hiddenStops > 0
                ? `${formatCount(value.hiddenStops, "visit")} outside your regions on ${formatDate(day)}.`
                : `No visit on ${formatDate(day)}.`}
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
                      ? `From a night away at ${value.nightBefore.siteCode} ${value.nightBefore.siteName}`
                      : `From the depot, ${value.depot.name}`}
                  </span>
                </li>
                {value.stops.map((stop) => (
                  <li key={stop.visitId}>
                    <span>{stop.no}</span>
                    <span>
                      <button type="button" className="ui-link" onClick={() => onSite(stop.siteCode)}>
                        {stop.siteCode} {stop.siteName}
                      </button>
                      {", hop "}
                      <Link href={hopPath(stop.hopCode)}>{stop.hopCode}</Link>
                      <br />
                      {stop.isBegun ? "begun on a day before" : `from ${formatClock(stop.startMin)}`}
                      {stop.goesOn ? ", goes on the day after" : ` to ${formatClock(stop.endMin)}`}
                      {stop.position ? "" : ". No coordinate: not on the map"}
                    </span>
                  </li>
                ))}
                <li data-kind="place">
                  <span>
                    <Glyph name={value.nightAfter ? "dark" : "kits"} />
                  </span>
                  <span>
                    {value.nightAfter
                      ? `Night away at ${value.nightAfter.siteCode} ${value.nightAfter.siteName}`
                      : `Home to the depot, ${value.depot.name}`}
                  </span>
                </li>
              </ol>
              <p className="mt-2 text-quiet">
                {value.hiddenStops > 0
                  ? `${formatCount(value.hiddenStops, "visit")} of the day outside your regions not shown.`
                  : value.straightKm === undefined
                    ? "A coordinate on the way is missing: no length."
                    : `${formatNumber(value.straightKm, 1)} km in straight lines.`}
              </p>
            </>
          )}
        </div>
      ) : null}
    </Panel>
  );
}
