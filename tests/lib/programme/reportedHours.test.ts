import { expect, test } from "vitest";
import { english } from "@/lib/phrase";
import { hoursDoubt, type ReportedHours } from "@/lib/programme";
import { calendarDate } from "@/lib/time";

const on = calendarDate("2026-03-16");
const visit = { workedOn: on, startOn: on, plannedMin: 20 * 60 };
const h = (hours: number) => hours * 60;
const doubtOf = (report: ReportedHours) => {
  const doubt = hoursDoubt(report);
  return doubt && english(doubt);
};

test("more hours than the days since the visit's start have are asked about", () => {
  expect(doubtOf({ ...visit, workedMin: h(24) })).toBeUndefined();
  expect(doubtOf({ ...visit, workedMin: h(30) })).toBe(
    "30 h are more than the 24 h of the days from the visit's start to the day worked.",
  );
  const begun = calendarDate("2026-03-15");
  expect(doubtOf({ ...visit, startOn: begun, workedMin: h(30) })).toBeUndefined();
  // Done before its planned day: one day has 24 hours all the same.
  const later = calendarDate("2026-03-20");
  expect(doubtOf({ ...visit, startOn: later, workedMin: h(25) })).toContain("the 24 h of");
});

test("more than twice the estimate is asked about, up to twice is not", () => {
  const short = { ...visit, plannedMin: h(4) };
  expect(doubtOf({ ...short, workedMin: h(8) })).toBeUndefined();
  expect(doubtOf({ ...short, workedMin: h(8.5) })).toBe(
    "8.5 h are more than twice the 4 h estimated for the visit.",
  );
});
