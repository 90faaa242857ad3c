import { expect, test } from "vitest";
import { HourTables, pastYearsFor } from "@/lib/risk";
import { addDays, calendarDate, instantAt } from "@/lib/time";
import { type HourMask, LIMITING_FACTORS, WORK_CLASSES } from "@/lib/weather";

const d = calendarDate;

/** Date of the past that stands for day `day` of the plan in year `y`, with `shift` days moved. */
function standsFor(firstDay: string, days: number, from: string, pastDays: number) {
  const past = pastYearsFor(d(firstDay), days, d(from), pastDays)!;
  const span = days + 2 * past.neighbourDays;
  return {
    years: past.years,
    at: (y: number, shift: number, day: number) =>
      addDays(d(from), past.dayOf[y * span + past.neighbourDays + shift + day]!),
  };
}

test("the same calendar date of each year stands for the plan's first day, days run on from it", () => {
  const { years, at } = standsFor("2026-03-16", 60, "2020-01-01", 2192);
  expect(years).toEqual([2020, 2021, 2022, 2023, 2024, 2025]);
  expect(at(0, 0, 0)).toBe("2020-03-16");
  expect(at(2, 0, 20)).toBe("2022-04-05");
  expect(at(2, -3, 0)).toBe("2022-03-13");
  expect(at(5, 3, 59)).toBe("2025-05-17");
});

test("a run beyond the end of the past goes on in the latest year that has the date", () => {
  const { years, at } = standsFor("2026-09-01", 200, "2023-01-01", 1096); // to 31 December 2025
  expect(years).toEqual([2023, 2024, 2025]);
  expect(at(2, 0, 121)).toBe("2025-12-31");
  expect(at(2, 0, 122)).toBe("2025-01-01");
  expect(at(1, 0, 122)).toBe("2025-01-01"); // the past still holds it
});

test("a year with too few days of its own is left out, and less than a year is no past", () => {
  expect(standsFor("2026-11-15", 120, "2023-01-01", 1096).years).toEqual([2023, 2024]);
  expect(pastYearsFor(d("2026-03-16"), 30, d("2025-01-01"), 365)).toBeUndefined();
});

test("29 February is 28 February in other years", () => {
  expect(standsFor("2028-02-29", 10, "2025-01-01", 1096).at(0, 0, 0)).toBe("2025-02-28");
});

test("an hour mask becomes days of the wall clock with what closes them", () => {
  const zone = "Etc/GMT-2"; // two hours east
  const from = d("2025-06-01");
  const hours = 48;
  const mask: HourMask = {
    startsAtMillis: instantAt(from, 0, zone),
    hours,
    workable: new Uint8Array(hours).fill(0xff),
    factor: new Uint8Array(hours * WORK_CLASSES.length),
  };
  const aloft = WORK_CLASSES.indexOf("aloft");
  const close = (hour: number, factor: (typeof LIMITING_FACTORS)[number]) => {
    mask.workable[hour]! &= ~(1 << aloft);
    mask.factor[hour * WORK_CLASSES.length + aloft] = LIMITING_FACTORS.indexOf(factor);
  };
  for (const hour of [0, 1, 2, 22, 23]) close(hour, "daylight");
  for (const hour of [9, 10]) close(hour, "rain");
  close(14, "gust");
  const table = new HourTables(zone, from, 3).of(mask);
  const open = table.masks[aloft * 3]!;
  expect([...Array(24).keys()].filter((h) => ((open >>> h) & 1) === 0)).toEqual([0, 1, 2, 9, 10, 14, 22, 23]);
  expect([...Array(24).keys()].filter((h) => ((table.dark[0]! >>> h) & 1) === 1)).toEqual([0, 1, 2, 22, 23]);
  expect(LIMITING_FACTORS[table.cause[aloft * 3]!]).toBe("rain");
  expect(LIMITING_FACTORS[table.cause[aloft * 3 + 1]!]).toBe("none");
  expect(table.masks[aloft * 3 + 2]).toBe(0); // outside the mask
});
