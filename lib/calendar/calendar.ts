/**
 * Appointments as an iCalendar stream (RFC 5545), for calendar programs that read an address again and again.
 *
 * All moments are written in UTC, so that no time zone's rules have to travel along; a calendar shows them in its own
 * zone. Method and limits: docs/methods/calendar.md.
 */
import type { InstantMillis } from "@/lib/time";
import { escapeText, foldLine, utcMoment } from "./text";

export interface CalendarEvent {
  /** The same for the same appointment for ever, whatever its times. */
  uid: string;
  /** How often its times or its people changed; never falls. */
  sequence: number;
  /** When what is said of it last changed. */
  changedAt: InstantMillis;
  startsAt: InstantMillis;
  /** After the start. */
  endsAt: InstantMillis;
  summary: string;
  location?: string;
  position?: { latDeg: number; lonDeg: number };
  description: string;
  /** Not sure yet: calendars show it as tentative (3.8.1.11). */
  isTentative?: boolean;
}

export interface CalendarContent {
  name: string;
  /** How long a calendar program may keep it, minutes; it asks when it likes. */
  refreshMin: number;
  events: readonly CalendarEvent[];
}

const PRODUCT = "-//Bothends//Crew calendar//EN";

/** @throws RangeError when an event ends before it begins, or its sequence is no whole number from 0 on */
export function writeCalendar({ name, refreshMin, events }: CalendarContent): string {
  const lines = [
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    `PRODID:${PRODUCT}`,
    "CALSCALE:GREGORIAN",
    `NAME:${escapeText(name)}`, // RFC 7986
    `X-WR-CALNAME:${escapeText(name)}`, // what most programs read instead
    `REFRESH-INTERVAL;VALUE=DURATION:PT${refreshMin}M`, // RFC 7986
    ...events.flatMap(eventLines),
    "END:VCALENDAR",
  ];
  return lines.map((line) => `${foldLine(line)}\r\n`).join("");
}

function eventLines(event: CalendarEvent): string[] {
  const { uid, sequence, changedAt, startsAt, endsAt, position } = event;
  if (!(endsAt > startsAt))
    throw new RangeError(`${uid} must end after its start ${startsAt}, got ${endsAt}`);
  if (!Number.isInteger(sequence) || sequence < 0)
    throw new RangeError(`${uid}: sequence must be a whole number from 0 on, got ${sequence}`);
  return [
    "BEGIN:VEVENT",
    `UID:${escapeText(uid)}`,
    `SEQUENCE:${sequence}`,
    // Without a METHOD the stamp is when the information was last revised (3.8.7.2), as LAST-MODIFIED is.
    `DTSTAMP:${utcMoment(changedAt)}`,
    `LAST-MODIFIED:${utcMoment(changedAt)}`,
    `DTSTART:${utcMoment(startsAt)}`,
    `DTEND:${utcMoment(endsAt)}`,
    `SUMMARY:${escapeText(event.summary)}`,
    ...(event.location ? [`LOCATION:${escapeText(event.location)}`] : []),
    ...(position ? [`GEO:${position.latDeg.toFixed(6)};${position.lonDeg.toFixed(6)}`] : []),
    `DESCRIPTION:${escapeText(event.description)}`,
    `STATUS:${event.isTentative ? "TENTATIVE" : "CONFIRMED"}`,
    "TRANSP:OPAQUE",
    "END:VEVENT",
  ];
}
