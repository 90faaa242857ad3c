/** ISO 8601 week dates against published examples. */
import { describe, expect, it } from "vitest";
import { calendarDate, fromDayNumber, isoWeek, isoWeekLabel, weekdayOf } from "@/lib/time";

const EXAMPLE = "encyclopaedia example or output of a statistics package";
const STANDARD_LIBRARY = "standard library of another language";

const rows = [
  { date: "1977-01-01", expected: "1976-W53-6", source: EXAMPLE, mark: "V" },
  { date: "1978-01-01", expected: "1977-W52-7", source: EXAMPLE, mark: "V" },
  { date: "2004-12-31", expected: "2004-W53-5", source: EXAMPLE, mark: "V" },
  { date: "2006-01-01", expected: "2005-W52-7", source: STANDARD_LIBRARY, mark: "R" },
  { date: "2007-12-31", expected: "2008-W01-1", source: EXAMPLE, mark: "V" },
  { date: "2008-12-29", expected: "2009-W01-1", source: EXAMPLE, mark: "V" },
  { date: "2009-12-31", expected: "2009-W53-4", source: EXAMPLE, mark: "V" },
  { date: "2010-01-03", expected: "2009-W53-7", source: EXAMPLE, mark: "V" },
  { date: "2019-12-30", expected: "2020-W01-1", source: EXAMPLE, mark: "V" },
  { date: "2020-12-31", expected: "2020-W53-4", source: STANDARD_LIBRARY, mark: "R" },
  { date: "2021-01-01", expected: "2020-W53-5", source: STANDARD_LIBRARY, mark: "R" },
  { date: "2021-01-03", expected: "2020-W53-7", source: STANDARD_LIBRARY, mark: "R" },
  { date: "2021-01-04", expected: "2021-W01-1", source: STANDARD_LIBRARY, mark: "R" },
  {
    date: "2022-12-31",
    expected: "2022-W52-6",
    source: "corrects a stored page that prints 2023-W01",
    mark: "R",
  },
  { date: "2024-12-30", expected: "2025-W01-1", source: STANDARD_LIBRARY, mark: "R" },
  { date: "2026-12-31", expected: "2026-W53-4", source: STANDARD_LIBRARY, mark: "R" },
  { date: "2027-01-03", expected: "2026-W53-7", source: STANDARD_LIBRARY, mark: "R" },
];

describe("ISO weeks", () => {
  it.each(rows)("$date is $expected", (row) => {
    const date = calendarDate(row.date);
    expect(`${isoWeekLabel(date)}-${weekdayOf(date)}`, `${row.source} (${row.mark})`).toBe(row.expected);
  });

  it("has 53 weeks in 2004, 2009, 2015, 2020, 2026, 2032 and 2037 of 2000 to 2040 (R)", () => {
    expect(longYears(2000, 2040)).toEqual([2004, 2009, 2015, 2020, 2026, 2032, 2037]);
  });

  it("has 71 long years in 400 (V)", () => {
    expect(longYears(2000, 2399)).toHaveLength(71);
  });
});

/** Years whose 28 December lies in week 53: it always lies in the last week. */
function longYears(from: number, to: number): number[] {
  const years: number[] = [];
  for (let year = from; year <= to; year++) {
    const date = fromDayNumber(Date.UTC(year, 11, 28) / 86_400_000);
    if (isoWeek(date).week === 53) years.push(year);
  }
  return years;
}
