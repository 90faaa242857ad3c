import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  dateOfSerial,
  instantText,
  provedOrder,
  readDate,
  readInstant,
  readTimeOfDay,
  timeOfDayText,
} from "@/lib/exchange/dates";

describe("readDate", () => {
  it.each([
    ["2027-03-01", "2027-03-01"],
    ["2027/3/1", "2027-03-01"],
    ["2027-03-01T00:00:00Z", "2027-03-01"],
    ["1.3.2027", "2027-03-01"],
    ["01. 03. 2027", "2027-03-01"],
    ["1 Mar 2027", "2027-03-01"],
    ["1-March-2027", "2027-03-01"],
    ["31/3/2027", "2027-03-31"],
    ["3/31/2027", "2027-03-31"],
    ["5/5/2027", "2027-05-05"],
  ])("reads %j whatever the order", (text, value) => {
    expect(readDate(text, undefined)).toEqual({ state: "date", value });
  });

  it("reads 3/4/2027 in the order of the column, and asks when there is none", () => {
    expect(readDate("3/4/2027", "day first")).toEqual({ state: "date", value: "2027-04-03" });
    expect(readDate("3/4/2027", "month first")).toEqual({ state: "date", value: "2027-03-04" });
    expect(readDate("3/4/2027", undefined)).toEqual({
      state: "ambiguous",
      dayFirst: "2027-04-03",
      monthFirst: "2027-03-04",
    });
    expect(readDate("3/4/2027", "both")).toEqual({ state: "mixed" });
  });

  it.each([
    ["1.3.27", "two-digit year"],
    ["1/3/27", "two-digit year"],
    ["2027-03-01 14:00", "has a time"],
    ["2027-02-30", "not a date"],
    ["31.2.2027", "not a date"],
    ["13/13/2027", "not a date"],
    ["tomorrow", "not a date"],
    ["Q1", "not a date"],
  ])("does not read %j: %s", (text, state) => {
    expect(readDate(text, "day first")).toEqual({ state });
  });

  it("finds the order that a column proves", () => {
    expect(provedOrder(["3/4/2027", "31/4/2027"])).toBe("day first");
    expect(provedOrder(["3/4/2027", "4/31/2027", null])).toBe("month first");
    expect(provedOrder(["31/4/2027", "4/31/2027"])).toBe("both");
    expect(provedOrder(["3/4/2027", "2027-12-31"])).toBeUndefined();
  });
});

describe("dateOfSerial", () => {
  it("knows spreadsheet day numbers of this century only", () => {
    expect(dateOfSerial(36526)).toBe("2000-01-01");
    expect(dateOfSerial(46023)).toBe("2026-01-01");
    expect(dateOfSerial(73050)).toBe("2099-12-31");
    expect(dateOfSerial(36525)).toBeUndefined();
    expect(dateOfSerial(46023.5)).toBeUndefined();
    expect(dateOfSerial(Number.NaN)).toBeUndefined();
  });
});

describe("times of day", () => {
  it.each([
    ["07:30", 450],
    ["7:30", 450],
    ["0730", 450],
    ["07:30:00", 450],
    ["7:30 pm", 1170],
    ["12:00 am", 0],
    ["24:00", 1440],
  ])("reads %j as minute %d", (text, minute) => {
    expect(readTimeOfDay(text)).toBe(minute);
  });

  it.each(["24:01", "7:60", "7", "13:00 pm", "morning"])("does not read %j", (text) => {
    expect(readTimeOfDay(text)).toBeUndefined();
  });

  it("reads back what it writes", () => {
    for (let m = 0; m <= 1440; m++) expect(readTimeOfDay(timeOfDayText(m))).toBe(m);
  });
});

describe("instants", () => {
  const at = Date.UTC(2026, 0, 1, 13);

  it.each([
    "2026-01-01T13:00Z",
    "2026-01-01 13:00",
    "2026-01-01T13:00:00.000Z",
    "2026-01-01T14:00+01:00",
    "2026-01-01T04:00-0900",
    "2026-01-01 13:00 UTC",
  ])("reads %j as 13:00 UTC", (text) => {
    expect(readInstant(text, "UTC")).toBe(at);
  });

  it("takes the wall clock of a zone when there is no offset", () => {
    expect(readInstant("2026-07-01 14:00", "Europe/Zurich")).toBe(Date.UTC(2026, 6, 1, 12));
    expect(readInstant("2026-07-01T14:00Z", "Europe/Zurich")).toBe(Date.UTC(2026, 6, 1, 14));
  });

  it("says when neither an offset nor a zone is known", () => {
    expect(readInstant("2026-07-01 14:00", undefined)).toBe("zone unknown");
    expect(readInstant("2026-07-01T14:00Z", undefined)).toBe(Date.UTC(2026, 6, 1, 14));
  });

  it("takes 24:00 for the next day", () => {
    expect(readInstant("2026-12-31 24:00", "UTC")).toBe(Date.UTC(2027, 0, 1));
  });

  it.each(["2026-02-30T00:00Z", "2026-01-01", "2026-01-01 25:00", "13:00", "2026-01-01T10:61Z"])(
    "does not read %j",
    (text) => {
      expect(readInstant(text, "UTC")).toBeUndefined();
    },
  );

  it("reads back what it writes", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4_000_000_000 }), (seconds) => {
        expect(readInstant(instantText(seconds * 1000), undefined)).toBe(seconds * 1000);
      }),
    );
  });
});
