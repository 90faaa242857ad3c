/** Read back with a parser that is not ours, and held to the rules of RFC 5545. */
import fc from "fast-check";
import ICAL from "ical.js";
import { describe, expect, test } from "vitest";
import { type CalendarEvent, writeCalendar } from "@/lib/calendar";
import { escapeText, foldLine } from "@/lib/calendar/text";
import type { InstantMillis } from "@/lib/time";

const at = (iso: string) => Date.parse(iso) as InstantMillis;

const visit: CalendarEvent = {
  uid: "MW-0012/near/install@bothends",
  sequence: 2,
  changedAt: at("2026-03-13T16:05:09.750Z"),
  startsAt: at("2026-03-29T06:30:00Z"),
  endsAt: at("2026-03-29T11:00:00Z"),
  summary: "Install MW-0012 near end",
  location: "NORD-07 Øvre Håmo; north, by the lake",
  position: { latDeg: 60.1234567, lonDeg: -3.5 },
  description: "Line one\nLine two; with, marks and a \\ too",
};
const calendar = (events: readonly CalendarEvent[]) =>
  writeCalendar({ name: "Crew C1, North", refreshMin: 60, events });

const parse = (text: string) => new ICAL.Component(ICAL.parse(text));

/** Every rule that holds for the stream as bytes. */
function expectWellFormed(text: string): void {
  expect(text.endsWith("END:VCALENDAR\r\n")).toBe(true);
  expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  for (const line of text.split("\r\n")) expect(Buffer.byteLength(line, "utf8")).toBeLessThanOrEqual(75);
}

describe("writeCalendar", () => {
  test("the worked example: one visit as it goes over the line", () => {
    expect(calendar([visit]).split("\r\n")).toEqual([
      "BEGIN:VCALENDAR",
      "VERSION:2.0",
      "PRODID:-//Bothends//Crew calendar//EN",
      "CALSCALE:GREGORIAN",
      "NAME:Crew C1\\, North",
      "X-WR-CALNAME:Crew C1\\, North",
      "REFRESH-INTERVAL;VALUE=DURATION:PT60M",
      "BEGIN:VEVENT",
      "UID:MW-0012/near/install@bothends",
      "SEQUENCE:2",
      "DTSTAMP:20260313T160509Z",
      "LAST-MODIFIED:20260313T160509Z",
      "DTSTART:20260329T063000Z",
      "DTEND:20260329T110000Z",
      "SUMMARY:Install MW-0012 near end",
      "LOCATION:NORD-07 Øvre Håmo\\; north\\, by the lake",
      "GEO:60.123457;-3.500000",
      "DESCRIPTION:Line one\\nLine two\\; with\\, marks and a \\\\ too",
      "STATUS:CONFIRMED",
      "TRANSP:OPAQUE",
      "END:VEVENT",
      "END:VCALENDAR",
      "",
    ]);
  });

  test("a general-purpose parser reads back what was meant", () => {
    const read = parse(calendar([visit]));
    expect(read.getFirstPropertyValue("version")).toBe("2.0");
    const [component] = read.getAllSubcomponents("vevent");
    const event = new ICAL.Event(component);
    expect(event.uid).toBe(visit.uid);
    expect(event.sequence).toBe(2);
    expect(event.startDate.toJSDate().getTime()).toBe(visit.startsAt);
    expect(event.endDate.toJSDate().getTime()).toBe(visit.endsAt);
    expect(event.location).toBe(visit.location);
    expect(event.description).toBe(visit.description);
    expect(component?.getFirstPropertyValue("geo")).toEqual([60.123457, -3.5]);
    expect(component?.getFirstPropertyValue("dtstamp")?.toString()).toBe("2026-03-13T16:05:09Z");
  });

  test("an appointment is confirmed unless it is tentative, said in one STATUS (RFC 5545, 3.8.1.11)", () => {
    const events = [visit, { ...visit, uid: "b@bothends", isTentative: true }];
    const read = parse(calendar(events)).getAllSubcomponents("vevent");
    expect(read.map((c) => c.getAllProperties("status").map((p) => p.getFirstValue()))).toEqual([
      ["CONFIRMED"],
      ["TENTATIVE"],
    ]);
  });

  test("every required property stands once, and no event has two", () => {
    const events = [visit, { ...visit, uid: "b@bothends", location: undefined, position: undefined }];
    for (const component of parse(calendar(events)).getAllSubcomponents("vevent"))
      for (const name of ["uid", "dtstamp", "dtstart", "dtend", "sequence", "summary"])
        expect(component.getAllProperties(name), name).toHaveLength(1);
  });

  test("no visits is a calendar still", () => {
    expect(parse(calendar([])).getAllSubcomponents("vevent")).toEqual([]);
  });

  test("any text comes back as it went in, in lines of at most 75 octets", () => {
    const texts = fc.string({ unit: "binary", maxLength: 300 }).map((t) => t.replace(/[^\P{Cc}\n\t]/gu, ""));
    fc.assert(
      fc.property(texts, texts, (summary, description) => {
        const text = calendar([{ ...visit, summary, description }]);
        expectWellFormed(text);
        const event = new ICAL.Event(parse(text).getAllSubcomponents("vevent")[0]);
        expect(event.summary ?? "").toBe(summary);
        expect(event.description ?? "").toBe(description);
      }),
      { seed: 5545, numRuns: 300 },
    );
  });

  test("an event that ends before it begins is a programmer's mistake", () => {
    expect(() => calendar([{ ...visit, endsAt: visit.startsAt }])).toThrow(RangeError);
    expect(() => calendar([{ ...visit, sequence: -1 }])).toThrow(RangeError);
  });
});

describe("text", () => {
  test("folds between characters, never within one", () => {
    const folded = foldLine(`SUMMARY:${"é".repeat(80)}`);
    expect(folded.split("\r\n ").join("")).toBe(`SUMMARY:${"é".repeat(80)}`);
    for (const piece of folded.split("\r\n")) expect(Buffer.byteLength(piece)).toBeLessThanOrEqual(75);
  });

  test("a line of 75 octets stays whole, one more is folded", () => {
    expect(foldLine("x".repeat(75))).toBe("x".repeat(75));
    expect(foldLine("x".repeat(76))).toBe(`${"x".repeat(75)}\r\n x`);
  });

  test("drops control characters and keeps tabs", () => {
    expect(escapeText("a\u0000b\tc\r\nd\re")).toBe("ab\tc\\nd\\ne");
  });
});
