/** Date, time of day and hour cells. */

import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import { type CellContext, type CellReading, type PlainCell, textOf, wrong } from "./cellReading";
import { dateOfSerial, readDate, readInstant, readTimeOfDay, wallInstant } from "./dates";
import type { Fault } from "./problems";
import type { Column, Question } from "./types";

const DAY_MILLIS = 86_400_000;
const SERIAL_OF_EPOCH = 25_569;

export function readDateCell(column: Column, cell: PlainCell, context: CellContext): CellReading {
  if (cell instanceof Date) {
    if (cell.getTime() % DAY_MILLIS !== 0) return hasTime(column, textOf(cell));
    const reading = readDate(cell.toISOString().slice(0, 10), undefined);
    return reading.state === "date" ? { ok: true, value: reading.value } : notADate(column, textOf(cell));
  }
  const serial = dateOfSerial(Number(cell));
  if (serial && typeof cell !== "boolean") return { ok: true, value: serial };
  const text = String(cell);
  const reading = readDate(text, context.dateOrder);
  switch (reading.state) {
    case "date":
      return { ok: true, value: reading.value };
    case "ambiguous":
      return {
        ...wrong(
          "date-ambiguous",
          text,
          `${column.label}: "${text}" can be ${reading.dayFirst} or ${reading.monthFirst}, and nothing in the column decides.`,
          "Say whether the day or the month comes first in this file, or write dates as YYYY-MM-DD.",
        ),
        question: {
          option: "dateOrder",
          choices: [
            { answer: "day first", readsAs: reading.dayFirst },
            { answer: "month first", readsAs: reading.monthFirst },
          ],
        },
      };
    case "mixed":
      return wrong(
        "date-mixed-orders",
        text,
        `${column.label}: some dates of the column have the day first and some the month, so "${text}" can be both.`,
        "Write all dates as YYYY-MM-DD.",
      );
    case "two-digit year":
      return wrong(
        "date-short-year",
        text,
        `${column.label}: "${text}" has a year of two digits.`,
        "Write the year with four digits.",
      );
    case "has a time":
      return hasTime(column, text);
    case "not a date":
      return notADate(column, text);
  }
}

function hasTime(column: Column, text: string) {
  return wrong(
    "date-with-time",
    text,
    `${column.label}: "${text}" has a time of day.`,
    "Give the date alone, since a time may belong to another day in the site's zone.",
  );
}

/** @param text of the whole cell, which may hold more than the day */
export function noSuchDay(column: Column, text: string, day: string) {
  return wrong(
    "not-a-date",
    text,
    phrase('{{label}}: there is no day "{{day}}".', { label: phrase(column.label), day }),
    phrase("Look at month and day: they are written as YYYY-MM-DD."),
  );
}

function notADate(column: Column, text: string) {
  if (/^\d{4}-\d{2}-\d{2}$/.test(text)) return noSuchDay(column, text, text);
  return wrong(
    "not-a-date",
    text,
    phrase('{{label}}: "{{value}}" is not a date.', { label: phrase(column.label), value: text }),
    phrase("Write dates as YYYY-MM-DD."),
  );
}

export function readTimeCell(column: Column, cell: PlainCell): CellReading {
  let minutes: number | undefined;
  if (cell instanceof Date) {
    const ofDay = ((cell.getTime() % DAY_MILLIS) + DAY_MILLIS) % DAY_MILLIS;
    minutes = cell.getUTCFullYear() < 1901 ? Math.round(ofDay / 60_000) : undefined;
  } else if (typeof cell === "number") {
    minutes = cell >= 0 && cell <= 1 ? Math.round(cell * 1440) : undefined;
  } else minutes = readTimeOfDay(String(cell));
  if (minutes !== undefined) return { ok: true, value: minutes };
  return wrong(
    "not-a-time",
    textOf(cell),
    phrase('{{label}}: "{{value}}" is not a time of day.', {
      label: phrase(column.label),
      value: textOf(cell),
    }),
    phrase("Write it as 07:30; 24:00 is the end of the day."),
  );
}

export function readInstantCell(column: Column, cell: PlainCell, zone: string | undefined): CellReading {
  let value: number | "zone unknown" | undefined;
  if (typeof cell === "string") value = readInstant(cell, zone);
  else if (cell instanceof Date) value = wallClock(cell.getTime(), zone);
  else if (typeof cell === "number" && dateOfSerial(Math.floor(cell))) {
    // A day's fraction is not exact: 13:00 comes as 0.541666...; whole seconds are meant.
    value = wallClock(Math.round((cell - SERIAL_OF_EPOCH) * 86_400) * 1000, zone);
  }
  if (typeof value === "number") return { ok: true, value };
  if (value === "zone unknown") {
    return { ok: false, fault: zoneUnknown(column.label, textOf(cell)), question: ZONE_QUESTION };
  }
  return wrong(
    "not-a-time",
    textOf(cell),
    `${column.label}: "${textOf(cell)}" is not a date and time.`,
    "Write it as 2026-01-01T13:00Z (UTC), or with an offset as 2026-01-01T14:00+01:00.",
  );
}

export const ZONE_QUESTION: Pick<Question, "option" | "choices"> = {
  option: "zone",
  choices: [{ answer: "UTC", readsAs: "hours of UTC" }],
};

/** An hour without an offset in a file of which nobody said the zone. */
export function zoneUnknown(label: string, text: string): Fault {
  return {
    rule: "hour-without-zone",
    value: text,
    ...sentences(
      phrase('{{label}}: "{{text}}" does not say in which time zone it is.', { label, text }),
      phrase(
        "Say the time zone of the file's hours (UTC or an IANA name), or write them as 2026-01-01T13:00Z.",
      ),
    ),
  };
}

/** `millis` shows a wall clock as if it were UTC. */
function wallClock(millis: number, zone: string | undefined): number | "zone unknown" {
  if (zone === undefined) return "zone unknown";
  const minute = Math.floor((millis % DAY_MILLIS) / 60_000);
  const date = new Date(millis).toISOString().slice(0, 10) as CalendarDate;
  return wallInstant(date, minute, zone);
}
